"""Opening the window for a command."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from drills.commands.refusal import Refusal

if TYPE_CHECKING:
    import pygame


def opened_screen(arguments: argparse.Namespace) -> pygame.Surface:
    """Open the window as the options ask. Refusal, in one sentence, where there is no screen."""
    from drills.window.screen import NoScreenError, open_screen  # noqa: PLC0415

    try:
        return open_screen(arguments.size, arguments.full_screen)
    except NoScreenError as error:
        raise Refusal(error) from None
