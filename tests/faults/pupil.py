"""A pupil who plays whole sessions through the engine and the recorder, without a window.

    python -m tests.faults.pupil STUDIO NICKNAME SEED

Every answer is printed once the program would show it: after what it wrote was carried out. So
whoever kills this process knows which answers a pupil has seen.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from drills.app.session_clock import SessionClock
from drills.cards.card import cards_of, key_cards
from drills.learning.planner import Planner
from drills.sessions.effects import Present
from drills.sessions.practice import Drill
from drills.sessions.records import AnsweredRecord
from drills.simulation.demonstration import DemonstrationPupil, play
from drills.storage.effect_records import record_of
from drills.storage.recorder import Recorder
from drills.storage.studio import Studio
from landmarks.sets import built_in_sets


def recorded_session(
    studio: Studio,
    nickname: str,
    seed: int,
    show: Callable[[AnsweredRecord], None] = lambda answer: None,
    clock: SessionClock | None = None,
) -> Path:
    """Play one session into the studio; `show` is given each answer when it is first seen."""
    landmarks = built_in_sets()["five"]
    cards = (*cards_of(landmarks), *key_cards(landmarks))
    pupil, clock = studio.pupil(nickname), clock or SessionClock()
    drill = Drill(Planner(cards, (), seed), clock.started)
    recorder = Recorder(studio, pupil, landmarks, seed, clock, keys_timed_by="simulated")
    written: list[AnsweredRecord] = []
    earlier = set(pupil.session_files())
    try:
        for effect in play(drill, DemonstrationPupil(seed), lambda view: None):
            if isinstance(effect, Present):
                for answer in written:
                    show(answer)
                written.clear()
                continue
            recorder.carry_out(effect)
            record = record_of(effect)
            if isinstance(record, AnsweredRecord):
                written.append(record)
    finally:
        recorder.close()
    new = set(pupil.session_files()) - earlier
    # Another program may have begun a session meanwhile.
    return next(path for path in new if b'"seed":%d,' % seed in path.read_bytes())


def told(answer: AnsweredRecord) -> str:
    """Give an answer as one line: when, to which card, which key."""
    return f"{answer.t} {answer.id} {answer.played}"


def main() -> None:
    """Play sessions one after another until killed."""
    studio, nickname, seed = Studio(Path(sys.argv[1])), sys.argv[2], int(sys.argv[3])
    print("ready", flush=True)
    while True:
        recorded_session(studio, nickname, seed, lambda answer: print(told(answer), flush=True))
        seed += 1


if __name__ == "__main__":
    main()
