"""`landmark-drills practise`: a pupil practises in the window."""

from __future__ import annotations

import argparse

from drills.card import cards_of, key_cards
from drills.commands.options import (
    add_drill_options,
    add_studio_option,
    landmarks_of,
    seed_of,
    studio_of,
)
from drills.commands.refusal import Refusal
from drills.commands.screen import opened_screen
from drills.planner import Planner
from drills.recorder import Recorder, SessionClock
from drills.session import Drill
from drills.studio import Pupil, Studio, StudioError
from drills.window.page import PageSetting
from landmarks.names import NAMINGS

DESCRIPTION = """\
Open the window and practise. The session is written, answer by answer, to the pupil's folder in
the studio; nothing leaves this machine. Use a nickname, never a real full name.

keys: Escape ends the session and then closes the window. Without a piano the two lower rows of
letters play from bass C, the two upper rows from middle C; left and right arrow shift them.
"""
FIRST_NICKNAME = "Pianist"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--pupil", metavar="NICKNAME", help="who practises (the only pupil there is)"
    )
    add_studio_option(parser)
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Practise until the window is closed."""
    landmarks = landmarks_of(arguments)
    studio = studio_of(arguments)
    pupil = _pupil_of(arguments.pupil, studio)
    seed = seed_of(arguments)
    cards = (*cards_of(landmarks), *key_cards(landmarks))

    from drills.piano import Piano  # noqa: PLC0415
    from drills.window.practice import PracticeScene  # noqa: PLC0415
    from drills.window.window import Window, wake_window  # noqa: PLC0415

    screen = opened_screen(arguments)
    planner = Planner(cards, pupil.responses(), seed)
    clock = SessionClock()
    naming = NAMINGS[arguments.names]
    drill = Drill(planner, landmarks, clock.started, naming)
    piano = Piano(wake_window, preferred=studio.last_piano())
    recorder = Recorder(studio, pupil, landmarks, seed, clock)
    setting = PageSetting(*screen.get_size(), arguments.grand, naming, cards)
    try:
        Window(screen, piano, studio.shift_of).show(
            PracticeScene(setting, drill, planner, clock, recorder.carry_out)
        )
    finally:
        piano.close()
        recorder.close()
    return 0


def _pupil_of(nickname: str | None, studio: Studio) -> Pupil:
    pupils = studio.pupils()
    if nickname is None and len(pupils) > 1:
        names = ", ".join(pupil.nickname for pupil in pupils)
        raise Refusal(f"{studio.folder} holds several pupils; add --pupil and one of {names}")
    try:
        return studio.pupil(nickname or (pupils[0].nickname if pupils else FIRST_NICKNAME))
    except StudioError as error:
        raise Refusal(error) from None
