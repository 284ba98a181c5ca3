"""Writes session files of a pupil who answers every card once."""

from uuid import uuid4

from drills.sessions.records import AnsweredRecord, Header
from drills.storage.session_file import SessionWriter


def write_session(pupil, started, cards, right=True, seconds=1.2):
    """Write a session in which each of the cards is answered once, five seconds apart."""
    writer = SessionWriter(
        pupil.sessions_folder,
        Header(
            session=str(uuid4()), pupil=pupil.nickname, started=started, clock_ns=0, program="0",
            port=None, clock="simulated", set="five", seed=0,
        ),
    )  # fmt: skip
    for place, card in enumerate(cards, 1):
        writer.append(
            AnsweredRecord(
                t=5000.0 * place, id=card.id, verdict="exact" if right else "step",
                played=card.key if right else card.key + 2, ms=1000 * seconds, attempt=1, hints=0,
                counted=True,
            )
        )  # fmt: skip
    writer.close()
    return writer.path
