"""What a start finds of the session before: one that was cut short, and what is kept of it."""

from __future__ import annotations

from drills.sessions.records import AnsweredRecord, EndedRecord
from drills.storage.session_file import SessionFileError, read_session
from drills.storage.studio import Pupil
from landmarks.translation import _, ngettext


def describe_unfinished(pupil: Pupil) -> str | None:
    """Say in a line what is kept of the latest session, if it has no end; None if it has one.

    A session that goes on in another window has none yet, either.
    """
    path = max(pupil.session_files(), default=None)
    if path is None:
        return None
    try:
        session = read_session(path)
    except (SessionFileError, OSError):
        return _(
            "{path}: of the latest session nothing can be read; practice goes on without it"
        ).format(path=path)
    if any(isinstance(event, EndedRecord) for event in session.events):
        return None
    answers = sum(isinstance(event, AnsweredRecord) for event in session.events)
    return ngettext(
        "the session of {day} at {time} was cut short or is still open; its {count} answer is "
        "kept, practice goes on",
        "the session of {day} at {time} was cut short or is still open; its {count} answers are "
        "kept up to the last whole line, practice goes on",
        answers,
        day=f"{session.header.started:%Y-%m-%d}",
        time=f"{session.header.started:%H:%M}",
    )
