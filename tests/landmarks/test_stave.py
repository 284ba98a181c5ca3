"""Places on the stave against music21, and against the ledger lines that verovio draws."""

import re
from itertools import product
from typing import NamedTuple
from xml.etree import ElementTree

import music21
import pytest
import verovio
from hypothesis import given
from hypothesis import strategies as st

from landmarks.pitch import MIDDLE_C, Pitch
from landmarks.stave import (
    BASS,
    CLEFS,
    STAVE_LINES,
    TREBLE,
    grand_stave_clef,
    is_line,
    ledger_lines,
    other_clef,
)

pitches = st.builds(Pitch, st.integers(-7, 77), st.integers(-2, 2))
positions = st.integers(-40, 48)
clefs = st.sampled_from([TREBLE, BASS])

NATURALS = [Pitch(diatonic) for diatonic in range(5, 57)]
SPELLED = [
    pitch
    for diatonic, alteration in product(range(4, 58), range(-2, 3))
    if 21 <= (pitch := Pitch(diatonic, alteration)).midi <= 108
]
MUSIC21_CLEFS = {TREBLE: music21.clef.TrebleClef(), BASS: music21.clef.BassClef()}
MEI_CLEFS = {TREBLE: ("G", 2), BASS: ("F", 4)}
MEI_SIGNS = {-2: "ff", -1: "f", 0: "n", 1: "s", 2: "x"}
SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}"


class Drawn(NamedTuple):
    """What was engraved, in stave positions: the notehead and its ledger lines."""

    notehead: float
    ledgers: list[float]


@pytest.fixture(scope="module")
def engraver():
    verovio.enableLog(verovio.LOG_OFF)
    toolkit = verovio.toolkit()
    toolkit.setOptions({"header": "none", "footer": "none", "adjustPageHeight": True})
    return toolkit


def engraved(engraver, pitch, clef):
    """Engrave one whole note and read it back from the picture alone."""
    shape, line = MEI_CLEFS[clef]
    note = f'<note dur="1" pname="{pitch.letter.lower()}" oct="{pitch.octave}" '
    note += f'accid="{MEI_SIGNS[pitch.alteration]}"/>'
    engraver.loadData(
        '<mei xmlns="http://www.music-encoding.org/ns/mei"><music><body><mdiv><score><scoreDef>'
        f'<staffGrp><staffDef n="1" lines="5" clef.shape="{shape}" clef.line="{line}"/></staffGrp>'
        f'</scoreDef><section><measure><staff n="1"><layer n="1">{note}</layer></staff></measure>'
        "</section></score></mdiv></body></mei>"
    )
    picture = ElementTree.fromstring(engraver.renderToSVG(1))
    staff = _group(picture, "staff")[0]
    lines = [_height(path) for path in staff.findall(f"{SVG}path")]
    bottom, half_space = max(lines), (max(lines) - min(lines)) / 8
    dashes = [path for group in _group(staff, "ledgerLines") for path in group.iter(f"{SVG}path")]
    head = _group(staff, "notehead")[0].find(f"{SVG}use")
    height = float(re.findall(r"translate\([\d.]+, ([\d.]+)\)", head.get("transform"))[0])
    assert len(lines) == 5
    return Drawn(
        (bottom - height) / half_space, [(bottom - _height(dash)) / half_space for dash in dashes]
    )


def _group(element, name):
    return [g for g in element.iter(f"{SVG}g") if name in g.get("class", "").split()]


def _height(path):
    start, end = re.findall(r"[ML][\d.]+ ([\d.]+)", path.get("d"))
    assert start == end
    return float(start)


@pytest.mark.parametrize("clef", CLEFS.values(), ids=CLEFS)
def test_every_spelling_from_a0_to_c8_sits_where_music21_places_it(clef):
    lowest_line = MUSIC21_CLEFS[clef].lowestLine
    for pitch in SPELLED:
        read = music21.pitch.Pitch(str(pitch).replace("b", "-"))
        assert clef.position(pitch) == read.diatonicNoteNum - lowest_line, pitch


@pytest.mark.parametrize("clef", CLEFS.values(), ids=CLEFS)
def test_every_spelling_from_a0_to_c8_is_engraved_there_with_those_ledger_lines(engraver, clef):
    for pitch in SPELLED:
        drawn = engraved(engraver, pitch, clef)
        position = clef.position(pitch)
        assert drawn.notehead == pytest.approx(position), pitch
        assert sorted(drawn.ledgers) == pytest.approx(sorted(ledger_lines(position))), pitch


def test_the_engraver_draws_the_ledger_lines_that_a_musician_counts(engraver):
    # Common practice, no source: middle C hangs on one ledger line; treble C6 has two, A0 in the
    # bass clef six and C8 in the treble clef nine.
    counted = {("C4", TREBLE): 1, ("C4", BASS): 1, ("C6", TREBLE): 2, ("B5", TREBLE): 1,
               ("G5", TREBLE): 0, ("A0", BASS): 6, ("C8", TREBLE): 9}  # fmt: skip
    for (note, clef), lines in counted.items():
        pitch = Pitch.parse(note)
        assert len(engraved(engraver, pitch, clef).ledgers) == lines, note
        assert len(ledger_lines(clef.position(pitch))) == lines, note


# Common practice, no source: the letters of lines and spaces, from the bottom.
@pytest.mark.parametrize(
    ("clef", "lines", "spaces"), [(TREBLE, "EGBDF", "FACE"), (BASS, "GBDFA", "ACEG")]
)
def test_the_lines_and_spaces_spell_what_every_pupil_learns(clef, lines, spaces):
    on_stave = [clef.pitch_at(position) for position in range(9)]
    read = {place: [p.letter for p in on_stave if is_line(clef.position(p)) == place]
            for place in (True, False)}  # fmt: skip
    assert "".join(read[True]) == lines
    assert "".join(read[False]) == spaces


def test_the_clef_signs_mark_treble_g_and_bass_f():
    for clef, note, sign in ((TREBLE, "G4", "G"), (BASS, "F3", "F")):
        read = MUSIC21_CLEFS[clef]
        assert (read.sign, read.line) == (sign, clef.line)
        assert str(clef.pitch) == note
        assert clef.position(clef.pitch) == clef.line_position
        assert clef.line_position in STAVE_LINES


@given(clefs, positions)
def test_a_place_and_its_note_find_each_other(clef, position):
    assert clef.position(clef.pitch_at(position)) == position


@given(clefs, pitches)
def test_a_sharp_or_flat_does_not_move_a_note(clef, pitch):
    assert clef.position(pitch) == clef.position(pitch.natural())
    assert clef.pitch_at(clef.position(pitch)) == pitch.natural()


@given(clefs, pitches, st.integers(-20, 20))
def test_one_step_is_one_line_or_space(clef, pitch, steps):
    assert clef.position(pitch.stepped(steps)) - clef.position(pitch) == steps
    assert is_line(clef.position(pitch.stepped(1))) != is_line(clef.position(pitch))


@given(positions)
def test_ledger_lines_lead_from_the_stave_to_the_note_and_no_further(position):
    lines = ledger_lines(position)
    assert all(is_line(line) for line in lines)
    assert len(lines) == max(0, -position // 2, (position - 8) // 2)
    assert [abs(line - 4) for line in lines] == [6 + 2 * n for n in range(len(lines))]
    assert all((4 - line) * (4 - position) > 0 for line in lines)
    if position < 0 or position > 8:
        assert (position in lines) == is_line(position)


@given(st.integers(-28, 28))
def test_the_grand_stave_is_a_mirror_about_middle_c(steps):
    above, below = MIDDLE_C.stepped(steps), MIDDLE_C.stepped(-steps)
    assert TREBLE.position(above) + BASS.position(below) == 8
    assert len(ledger_lines(TREBLE.position(above))) == len(ledger_lines(BASS.position(below)))


def test_middle_c_is_one_ledger_line_from_either_stave():
    assert ledger_lines(TREBLE.position(MIDDLE_C)) == (-2,)
    assert ledger_lines(BASS.position(MIDDLE_C)) == (10,)


def test_the_grand_stave_writes_middle_c_and_above_in_treble_and_the_rest_in_bass():
    assert {str(p) for p in NATURALS if grand_stave_clef(p) == BASS} == {
        str(p) for p in NATURALS if p.octave < 4
    }


@given(pitches)
def test_on_the_grand_stave_only_notes_beyond_both_staves_need_more_than_one_ledger_line(pitch):
    position = grand_stave_clef(pitch).position(pitch)
    if BASS.pitch_at(0).diatonic <= pitch.diatonic <= TREBLE.pitch_at(8).diatonic:
        assert len(ledger_lines(position)) <= 1


@given(clefs)
def test_the_other_clef_of_the_other_clef_is_the_clef(clef):
    assert other_clef(clef) != clef
    assert other_clef(other_clef(clef)) == clef
