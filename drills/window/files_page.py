"""A page on which a file or a folder of this machine is chosen."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.window.buttons import Button, ButtonScene
from landmarks.translation import _

ROWS = 8
UP, MORE, THIS_FOLDER, BACK = "folder above", "more", "this folder", "back"
ENTRY = "entry/"
"""Before the name in the action of a file or folder."""


class FilesPage(ButtonScene):
    """Leads from folder to folder; `chosen` is the file or folder taken, None if it was left."""

    def __init__(
        self, title: str, folder: Path, endings: Sequence[str], takes_folders: bool
    ) -> None:
        """Begin in a folder; files are offered whose names end in one of `endings`."""
        super().__init__(UP)
        self.chosen: Path | None = None
        self._title = title
        self._endings = tuple(ending.casefold() for ending in endings)
        self._takes_folders = takes_folders
        self._folder = folder
        self._entries: list[Path] = []
        self._first = 0
        self._enter(folder)

    def buttons(self, width: int, height: int) -> list[Button]:
        """Give the entries in two columns, and the ways out."""
        shown = self._entries[self._first : self._first + 2 * ROWS]
        buttons = [
            Button(ENTRY + entry.name, _named(entry), _cell(place, width, height), size=0.36)
            for place, entry in enumerate(shown)
        ]
        foot = [(UP, _("folder above"))]
        if len(self._entries) > 2 * ROWS:
            foot.append((MORE, _("more")))
        if self._takes_folders:
            foot.append((THIS_FOLDER, _("take this folder")))
        foot.append((BACK, _("back")))
        return buttons + [
            Button(action, words, _foot(place, len(foot), width, height), size=0.36)
            for place, (action, words) in enumerate(foot)
        ]

    def page(self, width: int, height: int) -> list[Layer]:
        """Give what is chosen, and in which folder."""
        middle, room = width / 2, 0.94 * width
        page = [
            rectangle(Box(0, 0, width, height), palette.PAPER),
            text(self._title, middle, height * 0.09, height * 0.056, palette.INK, room),
            text(str(self._folder), middle, height * 0.145, height * 0.032, palette.PENCIL, room),
        ]
        if not self._entries:
            empty = _("nothing here that could be taken")
            page.append(text(empty, middle, height * 0.4, height * 0.042, palette.PENCIL, room))
        return page

    def act(self, action: str) -> None:
        """Enter a folder, or take what was looked for."""
        if action == UP:
            self._enter(self._folder.parent)
        elif action == MORE:
            further = self._first + 2 * ROWS
            self._first = further if further < len(self._entries) else 0
        elif action == THIS_FOLDER:
            self.chosen, self.over = self._folder, True
        elif action == BACK:
            self.over = True
        else:
            self._take(self._folder / action.removeprefix(ENTRY))

    def _take(self, path: Path) -> None:
        if path.is_dir():
            self._enter(path)
        else:
            self.chosen, self.over = path, True

    def _enter(self, folder: Path) -> None:
        """Show a folder; one that cannot be looked into shows nothing."""
        try:
            inside = sorted(folder.iterdir(), key=lambda path: path.name.casefold())
        except OSError:
            inside = []
        seen = [path for path in inside if not path.name.startswith(".")]
        folders = [path for path in seen if path.is_dir()]
        files = [path for path in seen if path.name.casefold().endswith(self._endings)]
        self._folder = folder
        self._entries = [*(path for path in files if path not in folders), *folders]
        self._first = 0
        self.focus = ENTRY + self._entries[0].name if self._entries else UP


def _named(entry: Path) -> str:
    return f"{entry.name} …" if entry.is_dir() else entry.name


def _cell(place: int, width: int, height: int) -> Box:
    margin, tall, gap = height // 40, round(height * 0.068), height // 75
    across = (width - 3 * margin) // 2
    column, row = divmod(place, ROWS)
    left = margin + column * (across + margin)
    return Box(left, round(height * 0.19) + row * (tall + gap), across, tall)


def _foot(place: int, count: int, width: int, height: int) -> Box:
    margin, tall = height // 40, round(height * 0.08)
    across = (width - margin) // count - margin
    return Box(margin + place * (across + margin), height - margin - tall, across, tall)
