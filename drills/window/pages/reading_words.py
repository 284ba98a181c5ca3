"""The few words of the reading page: where a wrong key lives, and where a line made her stop."""

from __future__ import annotations

from drills.sessions.reading.view import ReadingView
from drills.sessions.view import Phase
from drills.text.formatting import listed
from drills.window.pages.card_words import Remark, way_to_go
from landmarks.names import Naming, landmark_name
from landmarks.translation import _, ngettext

MOST_NAMED = 3
"""More places than these are said as a number: a child reads no list."""


def reading_remark(view: ReadingView, naming: Naming) -> Remark:
    """Return what is to be said of the latest key, or of the line that is over."""
    line = view.line
    if line is None:
        return Remark()
    if view.phase is Phase.RIGHT:
        return Remark(_("you read the line"), _thought(view, naming))
    if view.wrong is None:
        return (
            Remark() if view.read else Remark(_("read the line"), _("take all the time you like"))
        )
    note = line.notes[view.wrong.number]
    played = _("you played {note}").format(note=naming.of(view.wrong.answer.played))
    return Remark(way_to_go(view.wrong.answer, note.pitch), played)


def lines_read(view: ReadingView) -> str:
    """Return how many lines were read today."""
    return ngettext("{count} line read today", "{count} lines read today", view.lines_read)


def _thought(view: ReadingView, naming: Naming) -> str:
    """Say where she hesitated; nothing where nothing is certain."""
    line, numbers = view.line, [number for number, _hesitation in view.hesitations]
    if line is None or not numbers:
        return ""
    if len(numbers) > MOST_NAMED:
        return ngettext(
            "the dots show where you thought: before {count} note",
            "the dots show where you thought: before {count} notes",
            len(numbers),
        )
    notes = [line.notes[number] for number in numbers]
    names = [landmark_name(note.pitch, note.clef, naming) for note in notes]
    return _("the dots show where you thought: before {notes}").format(
        notes=listed(list(dict.fromkeys(names)))
    )
