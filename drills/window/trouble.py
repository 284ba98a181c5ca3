"""What a page says of something that could not be done."""

from __future__ import annotations

from pathlib import Path

from drills.app.faults import keep_fault
from drills.text.errors import DrillsError
from drills.window.pages.message_page import MessagePage
from landmarks.translation import _


def trouble_page(error: Exception, folder: Path) -> MessagePage:
    """Return the page that tells what kept something from being done.

    A fault of the program itself is kept in a report in `folder`, and the page says where.
    """
    if isinstance(error, DrillsError):
        told = [str(error)]
    else:
        told = [_("The program failed here. What was played and set before is kept.")]
        if (kept := keep_fault(error, folder)) is not None:
            told.append(
                _(
                    "Which line failed, and nothing of any pupil, is noted in {path}; you may "
                    "send that file to whoever looks after the program."
                ).format(path=kept)
            )
    return MessagePage(_("that did not work"), told, [("done", _("done"))])
