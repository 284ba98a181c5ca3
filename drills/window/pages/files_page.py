"""A page on which a file or a folder of this machine is chosen."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from drills.window.pages.list_page import BACK, ListPage
from landmarks.translation import _

UP, THIS_FOLDER = "folder above", "this folder"


class FilesPage(ListPage):
    """Leads from folder to folder; `chosen` is the file or folder taken, None if it was left."""

    def __init__(
        self, title: str, folder: Path, endings: Sequence[str], takes_folders: bool
    ) -> None:
        """Begin in a folder; files are offered whose names end in one of `endings`."""
        self.chosen: Path | None = None
        self._endings = tuple(ending.casefold() for ending in endings)
        self._takes_folders = takes_folders
        self._folder, self.paths = folder, _inside(folder, self._endings)
        super().__init__(title, str(folder), [_named(path) for path in self.paths])

    def foot(self) -> list[tuple[str, str]]:
        """Return the ways out of a folder."""
        this = [(THIS_FOLDER, _("take this folder"))] if self._takes_folders else []
        return [(UP, _("folder above")), *this, (BACK, _("back"))]

    def act(self, action: str) -> None:
        """Leave the folder or take it; otherwise as in any list."""
        if action == UP:
            self._enter(self._folder.parent)
        elif action == THIS_FOLDER:
            self.chosen, self.over = self._folder, True
        else:
            super().act(action)

    def take_entry(self, place: int) -> None:
        """Enter a folder, or take a file."""
        path = self.paths[place]
        if path.is_dir():
            self._enter(path)
        else:
            self.chosen, self.over = path, True

    def _enter(self, folder: Path) -> None:
        self._folder, self.paths = folder, _inside(folder, self._endings)
        self.offer(str(folder), [_named(path) for path in self.paths])


def _inside(folder: Path, endings: tuple[str, ...]) -> list[Path]:
    """Return the files and then the folders; nothing for one that cannot be looked into."""
    try:
        inside = sorted(folder.iterdir(), key=lambda path: path.name.casefold())
    except OSError:
        return []
    seen = [path for path in inside if not path.name.startswith(".")]
    folders = [path for path in seen if path.is_dir()]
    files = [path for path in seen if path.name.casefold().endswith(endings)]
    return [*(path for path in files if path not in folders), *folders]


def _named(path: Path) -> str:
    return f"{path.name} …" if path.is_dir() else path.name
