"""The account of one playing of a line: what was played when, and how each note was read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from drills.cards.card import Card, Kind
from drills.sessions.counting import PAUSE_MS
from drills.sessions.effects import Hands
from drills.sessions.key_group import Press
from drills.sessions.reading.effects import LineAnswered, Way
from drills.sessions.timed_session import SETTLE_MS
from landmarks.answer import Answer, Verdict, brushes, judge
from landmarks.following import Follower
from landmarks.hesitation import Hesitation, MomentPlayed, find_hesitations
from landmarks.line import Line, LineNote
from landmarks.pitch import Pitch
from landmarks.stave import CLEFS


def notes_to_read(line: Line, hands: Hands) -> tuple[int, ...]:
    """Return the numbers of the notes that hands play: all but those that a tie holds on to."""
    stave = {"right": 0, "left": max((note.stave for note in line.notes), default=0)}.get(hands)
    return tuple(
        number
        for number, note in enumerate(line.notes)
        if not note.is_held and stave in (None, note.stave)
    )


@dataclass(frozen=True)
class Played:
    """A note that a press played, and how it was come to."""

    number: int
    way: Way


@dataclass(frozen=True)
class Missed:
    """A press that played no note, and what it is against the note that was expected."""

    number: int
    answer: Answer
    press: Press


class LineAccount:
    """Follows a player through a line, press by press, and keeps what she did."""

    def __init__(self, line: Line, numbers: Sequence[int]) -> None:
        """Begin before the first of the notes to be read; there is at least one."""
        self._notes = line.notes
        self._numbers = tuple(numbers)
        self._follower = Follower([line.notes[number] for number in numbers])
        onsets = sorted({line.notes[number].onset for number in numbers})
        self._moments = [
            tuple(number for number in numbers if line.notes[number].onset == onset)
            for onset in onsets
        ]
        self._moment_of = {
            number: place for place, moment in enumerate(self._moments) for number in moment
        }
        self._at: int | None = None
        self._here: set[int] = set()
        self._flows = False
        self._heard_ms = 0.0
        self._played: list[MomentPlayed] = []
        self._first: dict[int, tuple[int, float]] = {}
        self._missed: dict[int, Missed] = {}
        self._unsettled: list[Missed] = []
        self._judged: list[Missed] = []
        self._before: Press | None = None
        self._right: Press | None = None
        self._left_out: tuple[int, ...] = ()
        self.read: set[int] = set()

    @property
    def at(self) -> tuple[int, ...]:
        """The notes of the moment at which the player stands."""
        return () if self._at is None else self._moments[self._at]

    @property
    def is_over(self) -> bool:
        """Whether the player stands at the last moment, all its notes played."""
        return self._at == len(self._moments) - 1 and self._here >= set(self._moments[-1])

    @property
    def is_unsettled(self) -> bool:
        """Whether a wrong key waits to be judged."""
        return bool(self._unsettled)

    def hear(self, press: Press) -> Played | Missed:
        """Take in a press; return the note that it plays, or what it was instead.

        What it was instead is settled later: `settle` tells.
        """
        # A driver's clock may set one key a little before the one that was heard before it.
        self._heard_ms = max(self._heard_ms, press.t)
        heard = self._follower.hear(press.key, self._heard_ms)
        if heard.note is None:
            missed = self._miss(press)
            self._unsettled.append(missed)
            return missed
        self._before, self._right = self._right, press
        self.settle()
        return self._play(self._meant(self._numbers[heard.note]), press)

    def settle(self) -> None:
        """Judge the wrong keys that wait: a brushed neighbour of the right key is no mistake."""
        for missed in self._unsettled:
            brushed = self._right is not None and _brushes(self._right, missed.press)
            if brushed:
                answer = replace(missed.answer, verdict=Verdict.BRUSHED)
                self._judged.append(replace(missed, answer=answer))
                continue
            self._judged.append(missed)
            # The way to the next note is no even playing, and the note was misread.
            self._flows = False
            if missed.number not in self._first:
                self._missed.setdefault(missed.number, missed)
        self._unsettled.clear()

    def take_judged(self) -> list[Missed]:
        """Return the wrong keys that were judged since this was last asked."""
        judged, self._judged = self._judged, []
        return judged

    def interrupt(self) -> None:
        """Tell no hesitation at the next note: something came between."""
        self._flows = False

    def hesitations(self) -> dict[int, Hesitation | None]:
        """Return the hesitation at each note when it was first played."""
        told = find_hesitations(self._played)
        found: dict[int, Hesitation | None] = {}
        for number, (place, ms) in self._first.items():
            hesitation = told[place]
            late = ms - self._played[place].first_ms
            found[number] = None if hesitation is None else hesitation.later(late)
        return found

    def answers(
        self, t: float, hesitations: Mapping[int, Hesitation | None]
    ) -> Iterator[LineAnswered]:
        """Yield how each note of a treble or bass stave was read when it was first come to."""
        for number in self._numbers:
            note = self._notes[number]
            if note.clef.name not in CLEFS:
                continue
            card = _card(note)
            if number in self._missed:
                missed = self._missed[number]
                yield LineAnswered(
                    t, number, card, missed.answer.verdict, missed.press.key, None
                )  # fmt: skip
            elif number in self._first:
                yield LineAnswered(
                    t, number, card, Verdict.EXACT, note.key, hesitations[number]
                )  # fmt: skip

    def _meant(self, number: int) -> int:
        """Return the note that a press plays: not a far one where the next has the same key.

        After a stop a follower may take a note for one like it at the beginning; whoever goes back
        goes on from there, and the next key tells.
        """
        here = -1 if self._at is None else self._at
        if self._moment_of[number] in (here, here + 1):
            return number
        key = self._notes[number].key
        return next((each for each in self._coming() if self._notes[each].key == key), number)

    def _coming(self) -> tuple[int, ...]:
        """Return the notes that come next: what is left of this moment, and the one after it."""
        place = -1 if self._at is None else self._at
        still = (number for number in self.at if number not in self._here)
        after = self._moments[place + 1] if place + 1 < len(self._moments) else ()
        return (*still, *after)

    def _miss(self, press: Press) -> Missed:
        """Return what a key is against the nearest note that could come now."""
        expected = self._coming() or self.at
        number = min(expected, key=lambda each: abs(self._notes[each].key - press.key))
        note = self._notes[number]
        return Missed(number, judge(note.pitch, note.clef, press.key), press)

    def _play(self, number: int, press: Press) -> Played:
        moment = self._moment_of[number]
        before = self._at
        if moment == before and number not in self._here:
            way: Way = "on"
            self._played[-1] = replace(self._played[-1], last_ms=press.t)
        else:
            way = _way(before, moment)
            if way == "back" and number in self._left_out:
                self._misread(number)
            self._left_out = self._between(before, moment) if way == "over" else ()
            self._move_to(moment, press.t, straight=before is not None and moment == before + 1)
        self._here.add(number)
        self.read.add(number)
        self._first.setdefault(number, (len(self._played) - 1, press.t))
        return Played(number, way)

    def _between(self, before: int | None, moment: int) -> tuple[int, ...]:
        first = 0 if before is None else before + 1
        return tuple(number for place in range(first, moment) for number in self._moments[place])

    def _misread(self, number: int) -> None:
        """Take it that the key before, which played a later note, was meant for this one."""
        note, press = self._notes[number], self._before
        if press is not None and number not in self._first:
            answer = judge(note.pitch, note.clef, press.key)
            self._missed.setdefault(number, Missed(number, answer, press))

    def _move_to(self, moment: int, ms: float, *, straight: bool) -> None:
        paused = bool(self._played) and ms - self._played[-1].last_ms > PAUSE_MS
        flows = self._flows and straight and not paused
        onset = self._notes[self._moments[moment][0]].onset
        self._played.append(MomentPlayed(onset, ms, ms, flows))
        self._at, self._here, self._flows = moment, set(), True


def _way(before: int | None, moment: int) -> Way:
    reached = -1 if before is None else before
    if moment <= reached:
        return "back"
    return "on" if moment == reached + 1 else "over"


def _brushes(right: Press, press: Press) -> bool:
    """Return whether a key could have been caught along with the right one, at one moment."""
    together = abs(press.t - right.t) <= SETTLE_MS
    return together and brushes(Pitch.of_key(right.key), press.key)


def _card(note: LineNote) -> Card:
    return Card(Kind.PIECE, note.clef, note.pitch, note.pitch)
