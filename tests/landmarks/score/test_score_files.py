"""Files that are no score, lie, are traps or too large: one clear sentence, nothing fetched."""

import io
import socket
import subprocess
import sys
import zipfile

import mido
import pytest

from landmarks.score import ScoreError, read_scores
from landmarks.score.files import MOST_BYTES, MOST_NOTES, MOST_UNPACKED_BYTES
from tests.score_agreement import ODD_SCORES

NOTE = "<note><pitch><step>G</step><octave>4</octave></pitch><duration>1</duration></note>"
# MusicXML 4.0, container.rng.
CONTAINER = '<container><rootfiles><rootfile full-path="{name}"/></rootfiles></container>'


def musicxml(measures=f'<measure number="1">{NOTE}</measure>', before=""):
    return (
        f'<?xml version="1.0"?>{before}<score-partwise version="4.0"><part-list>'
        '<score-part id="P1"><part-name>Piano</part-name></score-part></part-list>'
        f'<part id="P1">{measures}</part></score-partwise>'
    )


def packed(entries, method=zipfile.ZIP_DEFLATED):
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", method) as archive:
        for name, content in entries.items():
            archive.writestr(name, content)
    return data.getvalue()


def midi_bytes():
    file = mido.MidiFile()
    track = mido.MidiTrack([mido.Message("note_on", note=60), mido.Message("note_off", note=60)])
    file.tracks.append(track)
    data = io.BytesIO()
    file.save(file=data)
    return data.getvalue()


@pytest.fixture
def written(tmp_path):
    def write(content, name="a.musicxml"):
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        return path

    return write


def refused(path):
    with pytest.raises(ScoreError) as refusal:
        read_scores(path)
    sentence = str(refusal.value)
    assert sentence.startswith(str(path))
    assert "\n" not in sentence
    return sentence


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "is empty"),
        (b" \n", "is empty"),
        (b"\x89PNG\r\n\x1a\n\0\0", "not a score"),
        ("Dear parents, bring the red book.", "not a score"),
        ("<html><body>no</body></html>", "not a score"),
        (musicxml()[:200], "cut short"),
        (musicxml("<measure/>"), "holds no notes"),
        (musicxml('<measure><note><rest/><duration>4</duration></note></measure>'), "no notes"),
        (musicxml(f"<measure>{NOTE.replace('G', 'H')}</measure>"), "damaged"),
        (musicxml(f"<measure>{NOTE.replace('<octave>4</octave>', '')}</measure>"), "damaged"),
        ("PK\x03\x04 broken", "damaged, cut short or locked"),
        (packed({"a.txt": "words"}), "holds no score"),
        (packed({"META-INF/container.xml": CONTAINER.format(name="b.xml")}), "holds no score"),
        (midi_bytes()[:-2], "cut short"),
        (midi_bytes()[:20], "cut short"),
        (midi_bytes()[:9] + b"\2" + midi_bytes()[10:], "separate patterns"),
        ("**kern\n4c\n", "cut short"),
        ("**dynam\nf\n*-\n", "has no notes"),
        ("X:1\nT:no key\n", "cut short"),
        ("X:1\nK:C\nC & E|\n", "lays voices over each other"),
        ("X:1\nK:C middle=d\nC|\n", "moves its notes"),
        ("X:1\nK:C clef=perc\nC|\n", "no clef of a stave"),
    ],
)  # fmt: skip
def test_what_is_no_whole_score_is_refused_in_one_sentence(written, content, said):
    assert said in refused(written(content))


def test_a_file_that_is_not_there_is_named(tmp_path):
    assert "no such file" in refused(tmp_path / "none.xml")


@pytest.mark.parametrize("name", ["a.mid", "a.abc", "a.krn", "a.mxl", "a.txt", "a"])
def test_a_wrong_ending_does_not_matter(written, name):
    (score,) = read_scores(written(musicxml(), name))
    assert [str(note.written) for note in score.notes] == ["G4"]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_xml_may_come_in_its_other_encodings(written, encoding):
    text = musicxml().replace('version="1.0"?', f'version="1.0" encoding="{encoding[:6]}"?', 1)
    (score,) = read_scores(written(text.replace("utf-8-", "utf-8").encode(encoding)))
    assert len(score.notes) == 1


BILLION_LAUGHS = "<!DOCTYPE score-partwise [" + "".join(
    f'<!ENTITY l{n} "{f"&l{n - 1};" * 10 if n else "ha"}">' for n in range(10)
) + "]>"  # fmt: skip


@pytest.mark.parametrize(
    "declared",
    [
        BILLION_LAUGHS,
        '<!DOCTYPE s [<!ENTITY x SYSTEM "file:///etc/passwd">]>',
        '<!DOCTYPE s [<!ENTITY % x SYSTEM "http://127.0.0.1:9/x.dtd"> %x;]>',
    ],
)
def test_entities_are_neither_expanded_nor_fetched(written, declared, monkeypatch):
    monkeypatch.setattr(socket, "socket", None)
    title = "<movement-title>&x;&l9;</movement-title>"
    text = musicxml(before=declared).replace("<part-list>", f"{title}<part-list>")
    assert "declares entities" in refused(written(text))
    assert "declares entities" in refused(written(packed({"a.xml": text}), "a.mxl"))


def test_the_usual_document_type_is_read_and_not_fetched(written, monkeypatch):
    monkeypatch.setattr(socket, "socket", None)
    usual = '<!DOCTYPE score-partwise PUBLIC "-//X//EN" "http://127.0.0.1:9/partwise.dtd">'
    assert len(read_scores(written(musicxml(before=usual)))[0].notes) == 1


def test_a_score_named_outside_its_archive_is_refused(written):
    for name in ("../../evil.xml", "/etc/evil.xml"):
        entries = {"META-INF/container.xml": CONTAINER.format(name=name), name: musicxml()}
        assert "outside itself" in refused(written(packed(entries), "a.mxl"))


def test_a_locked_archive_is_refused(written):
    data = bytearray(packed({"a.xml": musicxml()}, zipfile.ZIP_STORED))
    data[6] |= 1
    data[data.index(b"PK\x01\x02") + 8] |= 1
    assert "locked" in refused(written(bytes(data), "a.mxl"))


def test_an_archive_that_swells_is_refused_before_it_is_unpacked(written):
    swelling = packed({"a.xml": b" " * (MOST_UNPACKED_BYTES + 1)})
    assert len(swelling) < 100_000
    assert "larger than 64 MB" in refused(written(swelling, "a.mxl"))


def test_an_archive_that_lies_about_its_size_is_refused(written):
    data = bytearray(packed({"a.xml": b" " * (MOST_UNPACKED_BYTES + 1)}))
    for mark, place in ((b"PK\x03\x04", 22), (b"PK\x01\x02", 24)):
        at = data.index(mark) + place
        data[at : at + 4] = (10).to_bytes(4, "little")
    refused(written(bytes(data), "a.mxl"))


def test_huge_files_are_refused_with_the_limit_in_the_sentence(written):
    assert "larger than 8 MB" in refused(written(b"<" + b" " * MOST_BYTES))
    assert "larger than 1 MB" in refused(written("X:1\nK:C\n" + "C" * 1_000_001))
    many = f"<measure>{'<note><rest/></note>' * (MOST_NOTES + 1)}</measure>"
    assert "more than 30000" in refused(written(musicxml(many)))
    assert "more than 30000" in refused(written(f"X:1\nK:C\n{'CDEF' * 7501}|\n", "big.abc"))
    spine = "\n".join(["**kern", *["4c 4e"] * 15001, "*-"])
    assert "more than 30000" in refused(written(f"{spine}\n", "big.krn"))


def test_a_compressed_score_is_found_by_its_container_or_without_one(written):
    inside = {"META-INF/container.xml": CONTAINER.format(name="in/b.xml"), "in/b.xml": musicxml()}
    for entries in (inside, {"b.musicxml": musicxml()}):
        assert len(read_scores(written(packed(entries), "a.mxl"))[0].notes) == 1
    (score,) = read_scores(ODD_SCORES / "90a-Compressed-MusicXML.mxl")
    assert score.notes


def test_a_score_cut_anywhere_gives_notes_or_one_sentence(written):
    whole = packed({"a.xml": musicxml()})
    for content in (whole, midi_bytes(), b"X:1\nL:1/4\nK:D\nC {d}E [FA]|1 (3GAB :|"):
        for end in range(len(content)):
            path = written(content[:end])
            try:
                read_scores(path)
            except ScoreError as error:
                assert "\n" not in str(error)


def test_reading_leaves_nothing_behind_at_home(tmp_path, written):
    """No settings, no cache and no browser: music21 keeps its hands off the home folder."""
    path, home = written(musicxml()), tmp_path / "home"
    home.mkdir()
    program = (
        "import sys, pathlib, socket, webbrowser, music21\n"
        "socket.socket = webbrowser.open = None\n"
        "from landmarks.score import read_scores\n"
        "print(len(read_scores(pathlib.Path(sys.argv[1]))[0].notes))"
    )
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    environment = {"HOME": str(home), "TMPDIR": str(temporary), "PATH": ""}
    run = subprocess.run(
        [sys.executable, "-c", program, str(path)], env=environment, capture_output=True, text=True,
        check=True,
    )  # fmt: skip
    assert (run.stdout, run.stderr) == ("1\n", "")
    assert list(home.rglob("*")) == []
    assert [found for found in temporary.rglob("*") if found.is_file()] == []


def test_a_score_changed_in_its_archive_is_refused(written):
    data = bytearray(packed({"a.xml": musicxml()}, zipfile.ZIP_STORED))
    data[data.index(b"<step>G") + 6] = ord("A")
    assert "damaged" in refused(written(bytes(data), "a.mxl"))
