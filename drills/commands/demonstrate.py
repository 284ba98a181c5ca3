"""`landmark-drills demonstrate`: a simulated pupil plays a session."""

from __future__ import annotations

import argparse
import shlex
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from drills.commands.music import Music, music_of
from drills.commands.options import add_drill_options, seed_of
from drills.commands.progress import ProgressBar
from drills.commands.refusal import Refusal
from drills.commands.screen import opened_screen
from drills.engrave.layer import page_png
from drills.learning.planner import Planner
from drills.sessions.practice import Drill
from drills.sessions.view import View
from drills.simulation.demonstration import DemonstrationPupil, play
from drills.simulation.sample_beginners import BEGINNERS, write_sample_beginners
from drills.simulation.sample_studio import session_count, write_sample_studio
from drills.storage.files import replace_privately
from drills.storage.recorder import Recorder, SessionClock
from drills.storage.studio import Pupil, Studio, StudioError
from drills.window.pages.card_page import PageSetting, practice_page
from landmarks.translation import _, noted

if TYPE_CHECKING:
    import pygame

    from drills.commands.sitting import Sitting

DESCRIPTION = noted("""\
A simulated pupil plays a session through the same engine that drills a real one, right, wrong
and clumsy, and leaves a session file. With --headless no screen is needed: the session is played
at once, and the last card is left as a picture beside the session file. With --studio a whole
invented studio is made instead, weeks of practice of several pupils, to be reviewed; with
--beginners it is one of three beginners who climb the ladder from different rungs.
""")
NICKNAME = "Demo"
PICTURE_SIZE = (1024, 768)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument("--headless", action="store_true", help=_("no window: play it at once"))
    parser.add_argument(
        "--folder", type=Path, default=Path("demonstration"),
        help=_("where the session file and the picture go (demonstration)"),
    )  # fmt: skip
    parser.add_argument(
        "--studio", type=Path, metavar=_("FOLDER"),
        help=_("make a studio of invented pupils in this folder instead"),
    )  # fmt: skip
    parser.add_argument(
        "--beginners", action="store_true", help=_("with --studio: three beginners on the ladder")
    )
    add_drill_options(parser)


def run(arguments: argparse.Namespace) -> int:
    """Play a session, or weeks of them; print where the files lie."""
    if arguments.studio:
        return _make_studio(arguments.studio, arguments.seed or 0, arguments.beginners)
    if arguments.beginners:
        raise Refusal(_("--beginners makes a whole studio; add --studio and a new folder"))
    music = music_of(arguments, None)
    prepared = _prepared(arguments.folder, music, seed_of(arguments))
    try:
        if arguments.headless:
            width, height = arguments.size or PICTURE_SIZE
            setting = prepared.setting(width, height)
            picture = arguments.folder / "last-card.png"
            _keep(picture, _played_at_once(prepared, setting))
            print(_("the last card: {picture}").format(picture=picture))
        else:
            _show(prepared, opened_screen(arguments))
    finally:
        prepared.recorder.close()
    print(_("the session: {path}").format(path=prepared.pupil.session_files()[-1]))
    return 0


def watch(sitting: Sitting, folder: Path) -> bool:
    """Show a simulated pupil's session in an open window; False if that was closed."""
    prepared = _prepared(folder, sitting.music(None), sitting.seed)
    try:
        return _show(prepared, sitting.screen)
    finally:
        prepared.recorder.close()


@dataclass(frozen=True)
class _Prepared:
    """All that a simulated pupil's session needs."""

    music: Music
    pupil: Pupil
    clock: SessionClock
    planner: Planner
    drill: Drill
    recorder: Recorder
    player: DemonstrationPupil

    def setting(self, width: int, height: int) -> PageSetting:
        """Give what its pages are laid out for."""
        return PageSetting(width, height, self.music.grand, self.music.naming, self.music.cards)


def _prepared(folder: Path, music: Music, seed: int) -> _Prepared:
    studio = Studio(folder)
    try:
        pupil = studio.pupil(NICKNAME)
    except StudioError as error:
        raise Refusal(error) from None
    clock, planner = SessionClock(), music.planner(music.cards, (), seed)
    return _Prepared(
        music, pupil, clock, planner,
        Drill(planner, clock.started),
        Recorder(studio, pupil, music.landmarks, seed, clock, keys_timed_by="simulated"),
        DemonstrationPupil(seed),
    )  # fmt: skip


def _show(prepared: _Prepared, screen: pygame.Surface) -> bool:
    from drills.window.demonstration_piano import DemonstrationPiano  # noqa: PLC0415
    from drills.window.pages.practice_scene import PracticeScene  # noqa: PLC0415
    from drills.window.window import Window  # noqa: PLC0415

    piano = DemonstrationPiano(prepared.drill, prepared.player, prepared.clock.started_ns)
    setting = prepared.setting(*screen.get_size())
    return Window(screen, piano, lambda _: 0).show(
        PracticeScene(
            setting, prepared.drill, prepared.planner, prepared.clock, prepared.recorder.carry_out
        )
    )


def _keep(picture: Path, png: bytes) -> None:
    try:
        replace_privately(picture, png)
    except OSError as error:
        raise Refusal(
            _("{picture}: the picture cannot be written ({reason}); name another folder").format(
                picture=picture, reason=error.strerror
            )
        ) from None


def _make_studio(folder: Path, seed: int, beginners: bool) -> int:
    """Make an invented studio whose last day of practice is yesterday."""
    yesterday = date.today() - timedelta(days=1)
    studio = Studio(folder)
    if studio.pupils():
        raise Refusal(
            _("{folder} holds pupils already; name a new folder with --studio").format(
                folder=folder
            )
        )
    try:
        count = len(BEGINNERS) if beginners else session_count(yesterday, seed)
        with ProgressBar(_("practising"), count) as bar:
            write = write_sample_beginners if beginners else write_sample_studio
            write(studio, yesterday, seed, advance=bar.advance)
    except StudioError as error:
        raise Refusal(error) from None
    print(_("{count} invented pupils: {folder}").format(count=len(studio.pupils()), folder=folder))
    print(f"landmark-drills review --studio {shlex.quote(str(folder))}")
    return 0


def _played_at_once(prepared: _Prepared, setting: PageSetting) -> bytes:
    """Play a whole session without waiting; give the picture of its last card."""
    views: list[View] = []
    for effect in play(prepared.drill, prepared.player, views.append):
        prepared.recorder.carry_out(effect)
    return page_png(setting.width, setting.height, practice_page(views[-1], setting))
