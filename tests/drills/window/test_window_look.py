"""The window shows a page in the look, and with the voice, that it is given."""

import pytest

from drills.engrave.theme import THEMES
from drills.window.pages.first_page import FirstPage
from drills.window.screen import open_screen, pygame
from drills.window.static_window import still_window

PAPER = (0xEF, 0xE9, 0xDC)
"""The palette's paper, written out here."""
SIZE = (640, 480)


class Glimpse(FirstPage):
    """A first page that is over as soon as it was seen."""

    def drawn(self, at_ns):
        self.over = True
        return False


class Listener:
    """Stands where a speaker stands, and listens."""

    def __init__(self):
        self.heard = []

    def say(self, words):
        self.heard.append(words)


@pytest.fixture
def window(monkeypatch):
    """A window on SDL's own screen in memory."""
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    pygame.display.quit()
    yield still_window(open_screen(SIZE, full_screen=False))
    pygame.display.quit()


def shown(window):
    window.show(Glimpse({"Robin": "boat"}, True))
    return tuple(window.screen.get_at((5, 5)))[:3]


def test_paper_until_something_else_is_set_and_again_afterwards(window):
    assert shown(window) == PAPER
    window.theme = THEMES["high contrast"]
    assert shown(window) == (255, 255, 255)
    window.theme = THEMES["paper"]
    assert shown(window) == PAPER


def test_each_page_is_read_out_once_if_anybody_wants_it(window):
    shown(window)
    window.speaker = Listener()
    shown(window)
    shown(window)
    assert window.speaker.heard == ["who is playing?, Robin"] * 2
