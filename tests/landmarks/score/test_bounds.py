"""Numbers that no score can have are refused before anything is built from them."""

import zipfile

import pytest

from landmarks.score import ScoreError, read_scores
from landmarks.score.bounds import checked_file

BAR = (
    '<score-partwise version="4.0"><part-list><score-part id="P1"><part-name/></score-part>'
    '</part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions>'
    "<clef><sign>G</sign><line>2</line></clef></attributes>"
    "<note><pitch><step>G</step><octave>4</octave></pitch><duration>1</duration></note>"
    "</measure></part></score-partwise>"
)
HUGE = "1000000007"


@pytest.mark.parametrize(
    ("usual", "odd"),
    [
        ("<octave>4<", f"<octave>{HUGE}<"),
        ("<octave>4<", "<octave>1e9<"),
        ("<octave>4<", "<octave>-1<"),
        ("<line>2<", f"<line>{HUGE}<"),
        ("<duration>1<", f"<duration>{HUGE}<"),
        ("<divisions>1<", f"<staves>{HUGE}</staves><divisions>1<"),
        ("<divisions>1<", f"<time><beats>{HUGE}</beats></time><divisions>1<"),
    ],
)
def test_a_number_of_musicxml_beyond_its_bounds_is_refused(usual, odd, tmp_path):
    path = tmp_path / "kite.musicxml"
    path.write_text(BAR.replace(usual, odd), encoding="utf-8")
    with pytest.raises(ScoreError, match="is none that a score can have"):
        read_scores(path)


@pytest.mark.parametrize(
    "odd", ["M:900000000/8\nK:C\nC|", "K:C\nC900000000|", "K:C\n[M:90000/4]C|"]
)
def test_a_number_of_abc_beyond_its_bounds_is_refused(odd, tmp_path):
    path = tmp_path / "kite.abc"
    path.write_text(f"X:1\nT:Kite 1000000007\n{odd}\n", encoding="utf-8")
    with pytest.raises(ScoreError, match="is none that a score can have"):
        checked_file(path)


def test_a_title_and_a_tune_number_may_be_any_number(tmp_path):
    path = tmp_path / "kite.abc"
    path.write_text("X:1234567\nT:Kite 1000000007\nM:4/4\nL:1/4\nK:C\nCDEF|\n", encoding="utf-8")
    (score,) = read_scores(path)
    assert [note.key for note in score.notes] == [60, 62, 64, 65]


def test_a_path_may_be_a_string(tmp_path):
    path = tmp_path / "kite.musicxml"
    path.write_text(BAR, encoding="utf-8")
    assert read_scores(str(path)) == read_scores(path)


@pytest.mark.parametrize("packing", [zipfile.ZIP_LZMA, zipfile.ZIP_BZIP2, zipfile.ZIP_DEFLATED])
def test_a_packed_score_that_is_damaged_in_any_packing_is_refused(packing, tmp_path):
    path = tmp_path / "kite.mxl"
    with zipfile.ZipFile(path, "w", packing) as archive:
        archive.writestr("kite.xml", BAR)
    read_scores(path)
    content = bytearray(path.read_bytes())
    content[45:120] = bytes(byte ^ 0x5A for byte in content[45:120])
    path.write_bytes(content)
    with pytest.raises(ScoreError, match="damaged, cut short or locked"):
        read_scores(path)
