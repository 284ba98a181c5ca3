"""A simulated pupil's session as it is seen: in an open window, or in a picture."""

from __future__ import annotations

import pygame

from drills.app.demonstration import Demonstration
from drills.engrave.layer import page_png
from drills.sessions.view import View
from drills.window.demonstration_piano import DemonstrationPiano
from drills.window.pages.card_page import PageSetting, practice_page
from drills.window.pages.practice_scene import PracticeScene
from drills.window.window import Window


def show_demonstration(prepared: Demonstration, screen: pygame.Surface) -> bool:
    """Show the session as it is played; return False if the window was closed meanwhile."""
    piano = DemonstrationPiano(prepared.drill, prepared.player, prepared.clock.started_ns)
    setting = _setting(prepared, *screen.get_size())
    scene = PracticeScene(
        setting, prepared.drill, prepared.planner, prepared.clock, prepared.recorder.carry_out
    )
    return Window(screen, piano, lambda _: 0).show(scene)


def picture_of(view: View, prepared: Demonstration, width: int, height: int) -> bytes:
    """Return the page of a view as PNG."""
    page = practice_page(view, _setting(prepared, width, height))
    return page_png(width, height, page)


def _setting(prepared: Demonstration, width: int, height: int) -> PageSetting:
    context = prepared.context
    return PageSetting(width, height, context.grand, context.naming, context.cards)
