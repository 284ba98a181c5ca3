"""A teacher's own landmark set, and what is said about a bad one."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from landmarks.pitch import Pitch
from landmarks.sets import FURTHEST_STEP, Anchor, LandmarkSet, SetError, parse_set
from landmarks.stave import BASS, CLEFS, TREBLE

ORIGIN = "mine.toml"

anchors = st.builds(
    Anchor,
    st.sampled_from([TREBLE, BASS]),
    st.builds(Pitch, st.integers(12, 45)),
    st.integers(0, FURTHEST_STEP),
    st.integers(0, FURTHEST_STEP),
)
landmark_sets = st.lists(
    anchors, min_size=1, max_size=7, unique_by=lambda anchor: (anchor.clef, anchor.pitch)
).map(lambda some: LandmarkSet("mine", "Mine", tuple(some)))


def refusal(source):
    with pytest.raises(SetError) as refused:
        parse_set(source, "mine", ORIGIN)
    return str(refused.value)


def test_a_teacher_writes_down_her_own_landmarks():
    own = parse_set(
        """
        title = "Ünsere Töne"
        about = "For the winter."
        anchors = [
            { clef = "treble", note = "g4" },
            { clef = "bass", note = "F3", steps_below = 0, steps_above = 4 },
        ]
        """,
        "winter",
        ORIGIN,
    )
    assert own == LandmarkSet(
        "winter",
        "Ünsere Töne",
        (Anchor(TREBLE, Pitch.parse("G4"), 1, 1), Anchor(BASS, Pitch.parse("F3"), 0, 4)),
        "For the winter.",
    )
    assert [str(p) for _, p in own.neighbours()] == ["A4", "F4", "G3", "A3", "B3", "C4"]


def test_tables_one_under_the_other_and_a_byte_order_mark_are_read_as_well():
    own = parse_set('\ufeff[[anchors]]\r\nclef = "bass"\r\nnote = "C3"\r\n', "cellar", ORIGIN)
    assert own == LandmarkSet("cellar", "cellar", (Anchor(BASS, Pitch.parse("C3")),))


def test_the_lowest_and_the_highest_key_may_be_landmarks_with_steps_inwards_only():
    own = parse_set(
        'anchors = [{clef="bass", note="A0", steps_below=0}, '
        '{clef="treble", note="C8", steps_above=0}]',
        "ends",
        ORIGIN,
    )
    assert [str(pitch) for _, pitch in own.neighbours()] == ["B0", "B7"]


def anchor(text):
    return f"anchors = [{{ {text} }}]"


WHITE_KEY = 'note must be a white key from "A0" to "C8"'
TREBLE_OR_BASS = 'clef must be "treble" or "bass"'
NOUGHT_TO_FOUR = "must be a whole number from 0 to 4"
# What the teacher wrote; which entry is named; what is expected; what was seen.
BAD_SETS = {
    "an empty file": ("", "anchors", "at least one anchor", "clef ="),
    "no list": ("anchors = 5", "anchors", "at least one anchor", "clef ="),
    "an empty list": ("anchors = []", "anchors", "at least one anchor", "clef ="),
    "one bare table": ('[anchors]\nclef = "bass"', "anchors", "at least one anchor", "clef ="),
    "a slip in TOML": ('anchors = [{ clef "bass" }]', "line 1", "anchors = [", "TOML"),
    "an open quote": ('title = "Mine\nanchors = []', "line 1", "anchors = [", "TOML"),
    "a key twice": ('title = "a"\ntitle = "b"\n', "line 2", "anchors = [", "TOML"),
    "a number without end": (anchor("note = " + "9" * 5000), "TOML", "anchors = [", "too long"),
    "brackets without end": ("anchors = " + "[" * 5000, "TOML", "anchors = [", "too long"),
    "a mistyped entry": ("anchor = []", "'anchor'", "about, anchors, title", "not known"),
    "a bare note": ('anchors = ["G4"]', "anchor 1", 'clef = "treble", note = "G4"', "'G4'"),
    "a list for an anchor": ("anchors = [[1]]", "anchor 1", "must look like", "a list"),
    "a date for an anchor": ("anchors = [2024-02-29]", "anchor 1", "must look like", "2024-02-29"),
    "a mistyped key": (
        anchor('clef = "bass", note = "F3", step_below = 1'), "anchor 1: 'step_below'",
        "clef, note, steps_above, steps_below", "not known",
    ),
    "no clef": (anchor('note = "G4"'), "anchor 1: clef", TREBLE_OR_BASS, "left out"),
    "another clef": (anchor('clef = "alto"'), "anchor 1: clef", TREBLE_OR_BASS, "'alto'"),
    "a capital clef": (anchor('clef = "Treble"'), "anchor 1: clef", TREBLE_OR_BASS, "'Treble'"),
    "a list of clefs": (anchor('clef = ["bass"]'), "anchor 1: clef", TREBLE_OR_BASS, "a list"),
    "a table for a clef": (anchor("clef = {a = 1}"), "anchor 1: clef", TREBLE_OR_BASS, "a table"),
    "no note": (anchor('clef = "bass"'), "anchor 1: note", WHITE_KEY, "left out"),
    "a German H": (anchor('clef = "treble", note = "H4"'), "anchor 1: note", WHITE_KEY, "'H4'"),
    "no octave": (anchor('clef = "treble", note = "G"'), "anchor 1: note", WHITE_KEY, "'G'"),
    "a black key": (anchor('clef = "bass", note = "F#3"'), "anchor 1: note", WHITE_KEY, "'F#3'"),
    "a white key as a sharp": (
        anchor('clef = "bass", note = "E#3"'), "anchor 1: note", WHITE_KEY, "'E#3'",
    ),
    "a key number": (anchor('clef = "bass", note = 53'), "anchor 1: note", WHITE_KEY, "53"),
    "below the piano": (anchor('clef = "bass", note = "G0"'), "anchor 1: note", WHITE_KEY, "'G0'"),
    "above the piano": (
        anchor('clef = "treble", note = "D8"'), "anchor 1: note", WHITE_KEY, "'D8'",
    ),
    "an octave without end": (
        anchor(f'clef = "bass", note = "C{"9" * 5000}"'), "anchor 1: note", WHITE_KEY, "...",
    ),
    "two lines for a note": (
        anchor('clef = "bass", note = "C3\\nF3"'), "anchor 1: note", WHITE_KEY, r"'C3\nF3'",
    ),
    "a sixth of steps": (
        anchor('clef = "bass", note = "F3", steps_above = 5'), "anchor 1: steps_above",
        NOUGHT_TO_FOUR, "not 5",
    ),
    "steps below nought": (
        anchor('clef = "bass", note = "F3", steps_below = -1'), "anchor 1: steps_below",
        NOUGHT_TO_FOUR, "not -1",
    ),
    "true for a number": (
        anchor('clef = "bass", note = "F3", steps_above = true'), "anchor 1: steps_above",
        NOUGHT_TO_FOUR, "not true",
    ),
    "half a step": (
        anchor('clef = "bass", note = "F3", steps_above = 0.5'), "anchor 1: steps_above",
        NOUGHT_TO_FOUR, "not 0.5",
    ),
    "a number in quotes": (
        anchor('clef = "bass", note = "F3", steps_above = "1"'), "anchor 1: steps_above",
        NOUGHT_TO_FOUR, "not '1'",
    ),
    "steps without end": (
        anchor(f'clef = "bass", note = "F3", steps_above = 0x{"F" * 9000}'),
        "anchor 1: steps_above", NOUGHT_TO_FOUR, "so long a number",
    ),
    "steps below the piano": (
        anchor('clef = "bass", note = "B0", steps_below = 2'), "anchor 1: steps_below",
        "at most 1", "not 2",
    ),
    "a silent step above the piano": (
        anchor('clef = "treble", note = "C8"'), "anchor 1: steps_above", "at most 0", "not 1",
    ),
    "the third anchor of three": (
        'anchors = [{clef="treble", note="C4"}, {clef="treble", note="G4"}, {clef="treble"}]',
        "anchor 3: note", WHITE_KEY, "left out",
    ),
    "one landmark twice": (
        'anchors = [{clef="treble", note="C4"}, {clef="bass", note="C4"},\n'
        '{clef="treble", note="C4", steps_above=4}]',
        "anchor 3", "keep one", "C4 in the treble clef, as anchor 1 is",
    ),
    "a number for a title": (
        'title = 5\nanchors = [{clef="bass", note="F3"}]', "title", "one line of text", "not 5",
    ),
    "a list for what it is about": (
        'about = []\nanchors = [{clef="bass", note="F3"}]', "about", "one line of text", "a list",
    ),
    "a title of two lines": (
        'title = """a\nb"""\nanchors = [{clef="bass", note="F3"}]', "title", "one line of text",
        r"'a\nb'",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("source", "entry", "expected", "seen"), BAD_SETS.values(), ids=BAD_SETS)
def test_a_bad_set_is_answered_with_the_file_the_entry_and_what_is_expected(
    source, entry, expected, seen
):
    sentence = refusal(source)
    assert sentence.startswith(f"{ORIGIN}: ")
    assert entry in sentence
    assert expected in sentence
    assert seen in sentence


@pytest.mark.parametrize("source", [bad[0] for bad in BAD_SETS.values()], ids=BAD_SETS)
def test_a_bad_set_is_answered_with_one_short_line(source):
    sentence = refusal(source)
    assert len(sentence.splitlines()) == 1
    assert len(sentence) < 200
    assert "None" not in sentence
    assert "True" not in sentence


VALUES = ('"treble"', '"bass"', '"G4"', '"C4"', '"A0"', '"c8"', '"Bb3"', '"\\n"', '"ü"', "0", "4",
          "5", "-1", "true", "0.5", "nan", "[]", "[1]", "{}", "{a = 1}", "1979-05-27", "'''\n'''",
          "0x" + "f" * 9000, '"' + "C" * 900 + '"')  # fmt: skip
KEYS = ("clef", "note", "steps_below", "steps_above", "note ", '"clef "', '"\\u2028"')
tables = st.lists(st.tuples(st.sampled_from(KEYS), st.sampled_from(VALUES)), max_size=4).map(
    lambda entries: "{" + ", ".join(f"{key} = {value}" for key, value in entries) + "}"
)
sound_tables = st.builds(
    'clef = "{}", note = "{}", steps_below = {}'.format,
    st.sampled_from(list(CLEFS)),
    st.sampled_from(["A0", "F3", "C4", "G4", "C8"]),
    st.integers(0, 2),
).map("{{{}}}".format)
sources = st.builds(
    "{} = [{}]\n{} = {}".format,
    st.sampled_from(["anchors", "anchors", "anchors", "title"]),
    st.lists(tables | sound_tables | st.sampled_from(VALUES), max_size=3).map(", ".join),
    st.sampled_from(["title", "about", "sense"]),
    st.sampled_from(VALUES),
)


@given(sources | st.text())
def test_whatever_a_file_holds_it_is_a_set_or_one_sentence(source):
    try:
        landmarks = parse_set(source, "mine", ORIGIN)
    except SetError as error:
        sentence = str(error)
        assert sentence.startswith(f"{ORIGIN}: ")
        assert len(sentence.splitlines()) == 1
        assert len(sentence) < 250
    else:
        assert landmarks.anchors
        for _, pitch in landmarks.neighbours():
            assert 21 <= pitch.midi <= 108


@given(landmark_sets)
def test_a_set_written_down_is_the_set_that_is_read(landmarks):
    lines = [
        f'{{ clef = "{a.clef.name}", note = "{a.pitch}", '
        f"steps_below = {a.steps_below}, steps_above = {a.steps_above} }}"
        for a in landmarks.anchors
    ]
    source = f'title = "Mine"\nanchors = [{", ".join(lines)}]'
    assert parse_set(source, "mine", ORIGIN) == landmarks
