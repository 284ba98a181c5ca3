"""The spotting page: what it says, where it is touched, and that layers keep to their boxes."""

import re
from dataclasses import replace
from itertools import islice

import pytest

from drills.app.session_clock import SessionClock
from drills.engrave import palette
from drills.engrave.layer import page_png
from drills.sessions import events
from drills.sessions.spotting.pages import invented_pages
from drills.sessions.spotting.question import parse_question, wanted_in
from drills.sessions.spotting.spotting import Spotting
from drills.sessions.spotting.view import SpottingView
from drills.sessions.tuning import MIDDLE_C
from drills.sessions.view import Phase
from drills.window.pages.spotting_page import (
    SpottingSetting,
    spotting_closing_page,
    spotting_page,
)
from drills.window.pages.spotting_scene import SpottingScene
from drills.window.pages.spotting_words import question_words, spotting_remark
from landmarks.answer import Answer, Verdict
from landmarks.line import line_of
from landmarks.pitch import Pitch
from landmarks.sets import built_in_sets
from tests.drawn import beside_its_box, pixels
from tests.musicxml import attributes, note, score

FIVE = built_in_sets()["five"]
SIZES = [(1024, 768), (1920, 1080), (800, 480)]
TREBLE_G = parse_question("treble G")


def view_of(seed=1, grand=False, question=TREBLE_G, **fields):
    page = next(invented_pages(FIVE, [question], seed, grand))
    return SpottingView(
        showing=1, line=page.line, question=question, wanted=wanted_in(page.line, question),
        **fields,
    )  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("grand", [False, True])
def test_every_head_on_the_screen_is_the_note_that_is_touched(size, grand):
    setting = SpottingSetting(*size)
    for seed in range(8):
        line = view_of(seed, grand).line
        engraved = setting.engraved(line)
        left, top = setting.corner(engraved)
        for number, head in enumerate(engraved.heads):
            assert setting.card_box.holds(left + head.x, top + head.y)
            assert setting.note_at(line, left + head.x, top + head.y) == number
        assert setting.note_at(line, 2, 2) is None


@pytest.mark.parametrize("size", SIZES)
def test_layers_draw_nothing_beside_their_boxes(size):
    view = view_of(2)
    wrong = next(n for n in range(len(view.line.notes)) if n not in view.wanted)
    answer = Answer(Verdict.STEP, Pitch.parse("A4"), 1)
    view = replace(
        view, found=frozenset(view.wanted[:1]), touched=wrong, answer=answer,
        pointed=view.wanted[1],
    )  # fmt: skip
    for layer in spotting_page(view, SpottingSetting(*size)):
        if layer.plain_colour is None:
            assert beside_its_box(layer) == 0


def test_found_wrong_and_pointed_notes_look_different_without_colour():
    view, setting = view_of(2), SpottingSetting(1024, 768)
    engraved = setting.engraved(view.line)
    looks = set()
    for fields in ({"found": frozenset({3})}, {"touched": 3}, {"pointed": 3}):
        page = spotting_page(replace(view, **fields), setting)
        drawn = [layer.markup for layer in page if "<path" in layer.markup]
        mark = next(markup for markup in drawn if engraved.markup not in markup)
        looks.add(re.sub(r"#[0-9a-f]{6}", "", mark))
    assert len(looks) == 3


def words(text, notes, number, answer=None):
    line = line_of(score(attributes() + "".join(notes)), "here")
    question = parse_question(text)
    return spotting_remark(
        SpottingView(
            showing=1,
            line=line,
            question=question,
            wanted=wanted_in(line, question),
            touched=number,
            answer=answer,
        )
    )


def test_a_wrong_note_is_named_with_its_distance():
    answer = Answer(Verdict.SKIP, Pitch.parse("B4"), 2)
    said = words("treble G", [note("B4", 4, "whole")], 0, answer)
    assert (said.headline, said.detail) == ("this is treble B", "too high – 2 steps down")


def test_a_wrong_key_is_named_with_its_distance():
    answer = Answer(Verdict.STEP, Pitch.parse("F4"), -1)
    said = words("treble G", [note("B4", 4, "whole")], None, answer)
    assert (said.headline, said.detail) == ("you played F", "too low – 1 step up")


def test_the_right_name_in_another_octave_is_told_so():
    answer = Answer(Verdict.OCTAVE, Pitch.parse("G5"), 7)
    said = words("treble G", [note("G5", 4, "whole")], 0, answer)
    assert (said.headline, said.detail) == ("this is high G", "right name – 1 octave down")


@pytest.mark.parametrize(
    ("asked", "type_", "said"),
    [
        ("crotchet", "half", "this is a minim"),
        ("quarter note", "eighth", "this is an eighth note"),
        ("ta", "half", "this is ta-a"),
    ],
)
def test_a_wrong_note_value_is_named(asked, type_, said):
    assert words(asked, [note("G4", 1, type_)], 0).headline == said


def test_all_found_is_said_as_so_many():
    view = view_of(phase=Phase.RIGHT)
    assert spotting_remark(view).headline == f"you found all {len(view.wanted)}"
    assert question_words(view) == "find every treble G"


@pytest.mark.parametrize("size", SIZES)
def test_the_last_page_names_what_was_found(size):
    asked = [parse_question(text) for text in ("treble G", "bass C", "crotchet")]
    view = SpottingView(tally=tuple((question, 3) for question in asked), phase=Phase.FINISHED)
    markup = "".join(layer.markup for layer in spotting_closing_page(view, SpottingSetting(*size)))
    assert "9 notes found today" in markup
    assert "3 × treble G, 3 × bass C, 3 × crotchet" in markup


def test_a_long_question_fits_the_window():
    question = parse_question("sixty-fourth note")
    line = next(islice(invented_pages(FIVE, [TREBLE_G], 1), 1)).line
    for width, height in SIZES:
        for layer in spotting_page(
            SpottingView(showing=1, line=line, question=question), SpottingSetting(width, height)
        ):
            if "<text" in layer.markup:
                drawn = pixels(page_png(width, height, [layer]))[:, :, 3]
                assert drawn.any()
                assert not drawn[: width // 100].any()
                assert not drawn[-(width // 100) :].any()


def test_middle_c_is_lit_on_the_keyboard_while_an_unknown_piano_is_asked_for_it():
    spotting = Spotting(invented_pages(FIVE, [TREBLE_G], 1), 4)
    scene = SpottingScene(SpottingSetting(1024, 768), spotting, SessionClock(), lambda _: None)
    scene.take(events.PianoFound("Stage piano", "driver"), 0)
    scene.take(events.Begin(), 0)
    told = "".join(layer.markup for layer in scene.layers(1024, 768))
    assert "press middle C" in told
    assert "find every" not in told
    assert any(scene.key_at(x, 700) == MIDDLE_C for x in range(1024))
    assert palette.ACCENT in told
    assert not list(scene.likely_layers())
