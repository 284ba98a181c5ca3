"""The teacher plays two hands: the page goes with her, stays where she stops, counts nothing."""

from random import Random

import pytest

from drills.sessions import events
from drills.sessions.effects import KeyMoved, Present, RememberPiano
from drills.sessions.reading.playing import TeacherPlaying
from drills.sessions.view import Phase
from landmarks.line import line_of
from tests.musicxml import attributes, backup, note, score

RIGHT = [
    ["C5", "D5", "E5", "C5", "G4", "A4", "B4", "G4"],
    ["E5", "F5", "G5", "E5", "D5", "B4", "C5", "A4"],
    ["F5", "E5", "D5", "C5", "B4", "D5", "G4", "C5"],
]
LEFT = [["C3", "G3", "E3", "G3"], ["C3", "A3", "F3", "D3"], ["G3", "F3", "G3", "C3"]]


def two_hands(right, left, source):
    def bar(start):
        upper = "".join(note(name, 1, "quarter") for name in right[start : start + 4])
        lower = "".join(
            note(name, 2, "half", staff=2) for name in left[start // 2 : start // 2 + 2]
        )
        begin = attributes(clefs=("G2", "F4")) if not start else ""
        return begin + upper + backup(4) + lower

    return line_of(score(bar(0), bar(4)), source)


LINES = [two_hands(*hands, f"line {n}") for n, hands in enumerate(zip(RIGHT, LEFT, strict=True))]


class Teacher:
    """Plays a piece to a pupil, its first line on the screen at 0."""

    def __init__(self):
        self.playing, self.t, self.effects = TeacherPlaying(LINES), 0.0, []
        self.feed(events.Begin())
        self.feed(events.OnScreen(self.view.showing))

    def feed(self, event):
        self.effects += self.playing.handle(event, self.t)

    def play(self, line, numbers=None, beat=400.0, slips=None):
        """Play moments of a line; `slips` chooses where a wrong key comes first."""
        notes = LINES[line].notes
        onsets = sorted({each.onset for each in notes})
        for place in range(len(onsets)) if numbers is None else numbers:
            self.t += beat
            if slips and slips.random() < 0.1:
                self.feed(events.KeyPressed(notes[0].key + slips.choice((-6, 6, 13))))
                self.t += beat / 2
            for each in notes:
                if each.onset == onsets[place]:
                    self.t += 8
                    self.feed(events.KeyPressed(each.key))

    @property
    def view(self):
        return self.playing.view


def test_the_first_line_stands_there_before_anything_is_played():
    view = Teacher().view
    assert (view.line, view.following, view.at) == (LINES[0], LINES[1], ())


def test_the_line_that_is_played_is_the_line_that_is_shown():
    teacher = Teacher()
    for number, line in enumerate(LINES):
        teacher.play(number)
        assert (teacher.view.number, teacher.view.line) == (number, line)
    assert teacher.view.following is None


def test_the_band_stands_at_all_notes_of_the_moment_in_both_hands():
    teacher = Teacher()
    teacher.play(0, [0, 1, 2])
    notes = [teacher.view.line.notes[number] for number in teacher.view.at]
    assert {str(each.pitch) for each in notes} == {"E5", "G3"}


def test_when_she_stops_the_page_stays():
    teacher = Teacher()
    teacher.play(0)
    teacher.play(1, [0, 1, 2])
    before = teacher.view
    teacher.t += 120_000
    teacher.feed(events.TimePassed())
    assert teacher.playing.due is None
    assert teacher.view == before
    teacher.play(1, [3, 4])
    assert teacher.view.number == 1


def test_she_may_go_back_to_the_beginning_of_a_line_and_leave_a_line_out():
    teacher = Teacher()
    teacher.play(0)
    teacher.play(1, [0, 1, 2, 3])
    teacher.t += 2000
    teacher.play(0, [0, 1, 2, 3, 4])
    assert teacher.view.number == 0
    teacher.t += 2000
    teacher.play(2, [0, 1, 2, 3, 4])
    assert teacher.view.number == 2


@pytest.mark.parametrize("seed", range(5))
def test_slips_do_no_harm(seed):
    teacher = Teacher()
    for number in range(len(LINES)):
        teacher.play(number, slips=Random(seed))
        assert teacher.view.number == number


def test_nothing_of_it_is_kept_but_keys():
    teacher = Teacher()
    teacher.play(0)
    assert {type(effect) for effect in teacher.effects} == {KeyMoved, Present}


def test_an_unknown_piano_is_asked_for_middle_c_and_the_line_comes_back():
    teacher = Teacher()
    teacher.play(0, [0, 1])
    teacher.feed(events.PianoFound("Stage piano", "driver"))
    assert teacher.view.tuning
    teacher.feed(events.OnScreen(teacher.view.showing))
    for _press in range(2):
        teacher.t += 900
        teacher.feed(events.KeyPressed(72))
        teacher.t += 100
        teacher.feed(events.TimePassed())
    assert RememberPiano("Stage piano", 12) in teacher.effects
    teacher.t += 2000
    teacher.feed(events.TimePassed())
    assert (teacher.view.tuning, teacher.view.line, teacher.view.phase) == (
        False, LINES[0], Phase.ASKED,
    )  # fmt: skip
