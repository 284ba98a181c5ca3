"""Notes on the drawn stave, against music21's own stave positions."""

import re
from itertools import pairwise

import pytest
from music21 import clef as m21_clef
from music21 import pitch as m21_pitch

from drills.engrave.glyphs import (
    DOUBLE_FLAT,
    DOUBLE_SHARP,
    F_CLEF,
    FLAT,
    G_CLEF,
    NOTEHEAD_BLACK,
    SHARP,
    glyph,
)
from drills.engrave.layer import Box
from drills.engrave.stave_card import Look, engraved_staves, note, stave_card
from landmarks.pitch import Pitch
from landmarks.stave import BASS, TREBLE, ledger_lines

BOX = Box(19, 19, 986, 456)
STAVES = {"treble": (TREBLE,), "bass": (BASS,), "grand": (TREBLE, BASS)}
M21_CLEFS = {TREBLE: m21_clef.TrebleClef(), BASS: m21_clef.BassClef()}
PITCHES = [
    Pitch(diatonic, alteration)
    for diatonic in range(5, 57)
    for alteration in (-2, -1, 0, 1, 2)
    if 21 <= Pitch(diatonic, alteration).midi <= 108
]
"""Every spelling of every key of the piano: A0 is key 21 and C8 key 108 (MIDI 1.0)."""


def lines_of_music21(clef, pitch):
    """Half spaces above the bottom line: 0 is the line itself."""
    name = str(pitch).replace("b", "-")
    return m21_pitch.Pitch(name).diatonicNoteNum - M21_CLEFS[clef].lowestLine


def placed(markup, code_point):
    """Where a glyph is drawn: (x, y) of its origin, and its scale, in pixels a font unit."""
    outline = re.escape(glyph(code_point).outline)
    found = re.findall(
        rf'translate\(([\d.-]+),([\d.-]+)\) scale\(([\d.]+),[\d.-]+\)" d="{outline}"', markup
    )
    return [tuple(float(number) for number in each) for each in found]


def rectangles(markup):
    """(x, y, width, height) of every rectangle."""
    pattern = r'<rect x="([\d.-]+)" y="([\d.-]+)" width="([\d.]+)" height="([\d.]+)"'
    return [tuple(float(number) for number in each) for each in re.findall(pattern, markup)]


def staves_markup(card):
    return "".join(layer.markup for layer in engraved_staves(card))


def drawn_lines(card):
    """The middles of the stave's lines as they are drawn, from below, for each of its clefs."""
    lines = [r for r in rectangles(staves_markup(card)) if r[2] > 10 * card.space]
    middles = sorted((y + height / 2 for _, y, _, height in lines), reverse=True)
    staves = [middles[start : start + 5] for start in range(0, len(middles), 5)]
    return dict(zip(reversed(card.clefs), staves, strict=True))


@pytest.mark.parametrize("staves", STAVES)
def test_a_stave_has_five_lines_a_space_apart(staves):
    card = stave_card(BOX, STAVES[staves])
    for clef, lines in drawn_lines(card).items():
        assert len(lines) == 5
        assert [low - high for low, high in pairwise(lines)] == [card.space] * 4
        assert lines[0] == pytest.approx(card.y(clef, 0), abs=0.6)


@pytest.mark.parametrize("staves", STAVES)
def test_the_staves_stand_in_the_middle_of_their_card(staves):
    card = stave_card(BOX, STAVES[staves])
    lines = [line for stave in drawn_lines(card).values() for line in stave]
    middle = (min(lines) + max(lines)) / 2
    assert middle == pytest.approx(BOX.y + BOX.height / 2, abs=1)


@pytest.mark.parametrize("staves", STAVES)
def test_every_pitch_stands_where_music21_puts_it(staves):
    card = stave_card(BOX, STAVES[staves])
    lines = drawn_lines(card)
    seen = 0
    for clef in card.clefs:
        for pitch in PITCHES:
            place = lines_of_music21(clef, pitch)
            if not card.fits(clef, place):
                continue
            seen += 1
            markup = note(card, clef, pitch, Look.INK, 14.2).markup
            ((x, y, scale),) = placed(markup, NOTEHEAD_BLACK)
            assert y == pytest.approx(lines[clef][0] - place * card.space / 2, abs=0.6)
            width = glyph(NOTEHEAD_BLACK).width * card.space
            assert x + width / 2 == pytest.approx(card.x(14.2), abs=0.01)
            assert scale * 250 == pytest.approx(card.space, rel=1e-3)
    # Four ledger lines each way are 25 lines and spaces, each with five spellings.
    assert seen >= {"treble": 120, "bass": 120, "grand": 200}[staves]


@pytest.mark.parametrize("clef", [TREBLE, BASS])
@pytest.mark.parametrize("look", Look)
def test_every_note_has_its_ledger_lines_and_no_more(clef, look):
    card = stave_card(BOX, (clef,))
    lines = drawn_lines(card)[clef]
    for pitch in PITCHES:
        place = lines_of_music21(clef, pitch)
        if not card.fits(clef, place):
            continue
        drawn = rectangles(note(card, clef, pitch, look, 14.2).markup)
        ledgers = [rectangle for rectangle in drawn if rectangle[2] > rectangle[3]]
        # A line every second place from the stave outwards: common practice, no source.
        wanted = max(0, -place // 2, (place - 8) // 2) if not 0 <= place <= 8 else 0
        assert len(ledgers) == wanted == len(ledger_lines(place))
        middles = [y + height / 2 for _, y, _, height in ledgers]
        steps = [2 * (n + 1) for n in range(wanted)]
        away = [lines[0] + s / 2 * card.space for s in steps]
        if place > 8:
            away = [lines[4] - s / 2 * card.space for s in steps]
        assert middles == pytest.approx(away, abs=1.1)
        for x, _, width, _ in ledgers:
            assert x + width / 2 == pytest.approx(card.x(14.2), abs=0.1)
            assert width > glyph(NOTEHEAD_BLACK).width * card.space


SIGNS = {-2: DOUBLE_FLAT, -1: FLAT, 1: SHARP, 2: DOUBLE_SHARP}


@pytest.mark.parametrize("alteration", SIGNS)
def test_a_sharp_or_flat_stands_before_its_note_at_the_same_height(alteration):
    card = stave_card(BOX, (TREBLE,))
    markup = note(card, TREBLE, Pitch(32, alteration), Look.INK, 14.2).markup
    ((head_x, head_y, _),) = placed(markup, NOTEHEAD_BLACK)
    ((sign_x, sign_y, _),) = placed(markup, SIGNS[alteration])
    assert sign_y == head_y
    assert sign_x + glyph(SIGNS[alteration]).width * card.space < head_x
    others = [code for other, code in SIGNS.items() if other != alteration]
    assert [placed(markup, code) for code in others] == [[]] * 3


def test_a_natural_note_has_no_sign():
    markup = note(stave_card(BOX, (TREBLE,)), TREBLE, Pitch(32), Look.INK, 14.2).markup
    assert [placed(markup, code) for code in SIGNS.values()] == [[]] * 4


@pytest.mark.parametrize("staves", STAVES)
def test_each_clef_sits_on_the_line_it_names(staves):
    card = stave_card(BOX, STAVES[staves])
    markup, lines = staves_markup(card), drawn_lines(card)
    # The G clef names the second line from below, the F clef the fourth (common practice).
    for clef, code_point, line in ((TREBLE, G_CLEF, 1), (BASS, F_CLEF, 3)):
        at = placed(markup, code_point)
        assert len(at) == (clef in card.clefs)
        for _, y, _ in at:
            assert y == pytest.approx(lines[clef][line], abs=0.6)


def test_middle_c_hangs_below_the_treble_and_stands_above_the_bass_of_the_grand_stave():
    card = stave_card(BOX, (TREBLE, BASS))
    treble_y, bass_y = card.y(TREBLE, -2), card.y(BASS, 10)
    assert card.y(TREBLE, 0) < treble_y < bass_y < card.y(BASS, 8)


def test_only_a_grand_stave_has_a_brace_and_a_line_that_joins_its_staves():
    for staves, clefs in STAVES.items():
        card = stave_card(BOX, clefs)
        joining = [
            (y, height)
            for _, y, width, height in rectangles(staves_markup(card))
            if width < card.space < height
        ]
        if staves == "grand":
            ((y, height),) = joining
            assert y == pytest.approx(card.y(TREBLE, 8), abs=0.1)
            assert y + height == pytest.approx(card.y(BASS, 0), abs=0.1)
        else:
            assert joining == []
        assert staves_markup(card).count("<path") == {"treble": 1, "bass": 1, "grand": 3}[staves]


def stem(look, place):
    card = stave_card(BOX, (TREBLE,))
    markup = note(card, TREBLE, TREBLE.pitch_at(place), look, 14.2).markup
    upright = [r for r in rectangles(markup) if r[3] > r[2]]
    return card, upright


@pytest.mark.parametrize("look", [Look.PENCIL, Look.INK, Look.FADED])
@pytest.mark.parametrize("place", range(-8, 17))
def test_a_stem_goes_towards_the_middle_line_and_from_far_away_reaches_it(look, place):
    # Stems go up from below the middle line and down from it and above: common practice, no source.
    card, pieces = stem(look, place)
    x, top = pieces[0][0], min(y for _, y, _, _ in pieces)
    bottom = max(y + height for _, y, _, height in pieces)
    head, middle = card.y(TREBLE, place), card.y(TREBLE, 4)
    if place < 4:
        assert x > card.x(14.2)
        assert top <= min(middle, head - 3.4 * card.space) + 0.2
    else:
        assert x < card.x(14.2)
        assert bottom >= max(middle, head + 3.4 * card.space) - 0.2


@pytest.mark.parametrize("place", range(-8, 17))
def test_a_key_that_was_pressed_has_no_stem(place):
    assert stem(Look.PLAYED, place)[1] == []


def test_pencil_ink_faded_and_played_notes_differ_without_their_colours():
    card = stave_card(BOX, (TREBLE,))
    colourless = {
        look: re.sub(r"#[0-9a-f]{6}", "", note(card, TREBLE, Pitch(32), look, 14.2).markup)
        for look in Look
    }
    assert len(set(colourless.values())) == len(Look)


@pytest.mark.parametrize(
    "box", [Box(0, 0, w, h) for w in (200, 986, 3800) for h in (120, 456, 1300)]
)
@pytest.mark.parametrize("staves", STAVES)
def test_staves_of_any_size_lie_on_whole_pixels_and_inside_their_card(box, staves):
    card = stave_card(box, STAVES[staves])
    assert card.space == int(card.space)
    assert card.space % 2 == 0
    for layer in engraved_staves(card):
        assert box.x <= layer.box.x
        assert layer.box.right <= box.right
    for lines in drawn_lines(card).values():
        assert box.y < lines[4]
        assert lines[0] < box.bottom
