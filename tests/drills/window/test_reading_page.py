"""The reading page: pencil and ink, a wrong key where it lives, dots where the reader thought."""

from dataclasses import replace

import pytest

from drills.engrave import palette
from drills.sessions import events
from drills.sessions.reading.reading import Reading
from drills.sessions.reading.view import WrongKey
from drills.sessions.view import Phase
from drills.window.pages.playing_page import PlayingSetting, playing_page
from drills.window.pages.reading_page import GO_ON, ONCE_MORE, ReadingSetting, reading_page
from drills.window.pages.reading_words import lines_read, reading_remark
from landmarks.answer import judge
from landmarks.hesitation import Hesitation
from landmarks.melody import invented_melody
from landmarks.melody_musicxml import melody_line
from landmarks.names import LETTER
from landmarks.sets import built_in_sets
from tests.drawn import beside_its_box
from tests.drills.sessions.reading.test_playing import LINES, Teacher

FIVE = built_in_sets()["five"]
SIZES = [(800, 600), (1024, 768), (1920, 1080)]


def view_of(seed=1, grand=False, **fields):
    anchor = FIVE.anchors[seed % len(FIVE.anchors)]
    reading = Reading(
        iter([melody_line(invented_melody(FIVE, anchor, seed, grand=grand))]), "both", 5
    )
    reading.handle(events.Begin(), 0)
    return replace(reading.view, **fields)


def wrong_key(view, number, steps):
    note = view.line.notes[number]
    return WrongKey(number, judge(note.pitch, note.clef, note.pitch.stepped(steps).midi))


def markup(view, size=(1024, 768)):
    return "".join(layer.markup for layer in reading_page(view, ReadingSetting(*size, LETTER)))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("grand", [False, True])
def test_layers_draw_nothing_beside_their_boxes(size, grand):
    for seed in range(3):
        view = view_of(seed, grand)
        count = len(view.line.notes)
        late = ((1, Hesitation(900.0, 100.0, 1500.0)), (count - 1, Hesitation(900.0, 1.0, 2.0)))
        read = frozenset(range(count))
        for shown in (
            view,
            replace(view, read=frozenset({0, 1}), at=(1,), wrong=wrong_key(view, 2, 5)),
            replace(view, read=read, phase=Phase.RIGHT, hesitations=late),
        ):
            for layer in reading_page(shown, ReadingSetting(*size, LETTER)):
                assert layer.plain_colour or not beside_its_box(layer)


def test_every_note_is_drawn_in_pencil_and_in_ink_when_it_is_read():
    view = view_of()
    count = len(view.line.notes)
    ink = f'fill="{palette.INK}" stroke="{palette.INK}"'
    pencil = f'fill="{palette.PENCIL_SHADE}" stroke="{palette.PENCIL}"'
    assert (markup(view).count(pencil), markup(view).count(ink)) == (count, 0)
    assert markup(replace(view, read=frozenset({0, 2}))).count(ink) == 2


@pytest.mark.parametrize("steps", [-7, -4, -1, 1, 3, 9])
def test_a_wrong_key_is_drawn_so_many_steps_from_the_note_expected(steps):
    """A step is half a stave space; where a head lies is seen from its layer's middle."""
    view, setting = view_of(), ReadingSetting(1024, 768, LETTER)
    wrong = wrong_key(view, 3, steps)
    shown = replace(view, read=frozenset({0, 1, 2}), wrong=wrong)
    engraved = setting.engraved(view.line)
    expected = setting.corner(engraved)[1] + engraved.heads[3].y
    lives = expected - wrong.answer.steps * engraved.space / 2
    own = [each for each in reading_page(shown, setting) if f'fill="{palette.CARD}"' in each.markup]
    assert any(f",{lives:.2f}) scale" in layer.markup for layer in own)


def test_a_key_too_far_for_the_line_is_told_in_words_alone():
    view = view_of()
    far = replace(view, wrong=wrong_key(view, 0, 15))
    assert "octave" in reading_remark(far, LETTER).headline
    near = replace(view, wrong=wrong_key(view, 0, 4))
    assert len(markup(far)) < len(markup(near))


def test_what_is_said_of_a_line():
    view = view_of()
    assert reading_remark(view, LETTER).headline == "read the line"
    assert reading_remark(replace(view, read=frozenset({0})), LETTER).headline == ""
    wrong = replace(view, read=frozenset({0}), wrong=wrong_key(view, 1, 2))
    assert reading_remark(wrong, LETTER).headline == "too high – 2 steps down"
    read = replace(view, phase=Phase.RIGHT)
    assert reading_remark(read, LETTER).detail == ""
    late = Hesitation(900.0, 100.0, 1500.0)
    thought = reading_remark(replace(read, hesitations=((2, late),)), LETTER)
    assert thought.detail.startswith("the dots show where you thought: before ")
    many = reading_remark(replace(read, hesitations=tuple((n, late) for n in range(5))), LETTER)
    assert many.detail == "the dots show where you thought: before 5 notes"
    assert lines_read(replace(view, lines_read=3)) == "3 lines read today"


def test_dots_mark_a_hesitation_whatever_the_colours():
    view = replace(view_of(), phase=Phase.RIGHT)
    late = replace(view, hesitations=((2, Hesitation(900.0, 100.0, 1500.0)),))
    assert markup(late).count("<circle") == markup(view).count("<circle") + 3


def test_once_more_is_offered_when_something_was_read_and_nothing_on_the_last_page():
    setting, view = ReadingSetting(1024, 768, LETTER), view_of()

    def offered(shown):
        return {button.action for button in setting.buttons(shown)}

    assert offered(view) == {GO_ON}
    assert offered(replace(view, read=frozenset({0}))) == {GO_ON, ONCE_MORE}
    assert offered(replace(view, phase=Phase.FINISHED)) == set()


@pytest.mark.parametrize("size", SIZES)
def test_the_page_of_the_teachers_playing_keeps_to_its_boxes_and_marks_where_she_is(size):
    teacher, setting = Teacher(), PlayingSetting(*size)
    still = len(playing_page(teacher.view, setting))
    teacher.play(0, [0, 1, 2])
    page = playing_page(teacher.view, setting)
    assert len(page) == still + 1
    for layer in page:
        assert layer.plain_colour or not beside_its_box(layer)
    assert LINES[0].source in {layer.words for layer in page}
