"""`landmark-drills guide`: how everything is used, as a page in the browser."""

from __future__ import annotations

import argparse
import webbrowser
from pathlib import Path

from drills.app.output import write_text, writing_into
from drills.commands.options import add_studio_option, studio_of
from drills.commands.output import print_lines
from drills.storage.files import make_private
from landmarks.translation import _, gettext_noop

DESCRIPTION = gettext_noop("""\
Open the guide in the browser: one page that tells pupil, parent and teacher how everything is used,
in your language, with pictures. It is written into the studio folder, or where you say.
""")
NAME = "guide.html"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add the command's options."""
    parser.add_argument(
        "--page", type=Path, metavar=_("FILE.html"),
        help=_("write the page here and open nothing"),
    )  # fmt: skip
    add_studio_option(parser)


def run(arguments: argparse.Namespace) -> int:
    """Write the page, print where it lies, and open it unless its place was named."""
    from drills.commands.guide_pictures import guide_pictures
    from drills.reports.guide import guide_page

    folder = studio_of(arguments).folder
    path = arguments.page or folder / NAME
    if arguments.page is None:
        with writing_into(folder, _("the guide")):
            make_private(folder)
    write_text(path, guide_page(guide_pictures(), folder))
    print_lines([str(path)])
    if arguments.page is None and not webbrowser.open(path.resolve().as_uri()):
        print(
            _(
                "There is no browser to open it with here; to see the drill at work without a "
                "screen, run landmark-drills demonstrate --headless"
            )
        )
    return 0
