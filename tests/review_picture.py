"""Draws the README's picture of a review anew, from the invented studio.

    python -m tests.review_picture

Needs Chromium; writes sample_sessions/review.png.
"""

from __future__ import annotations

import base64
import tempfile
from pathlib import Path

from drills.commands import main
from tests.chromium import chromium

SAMPLES = Path(__file__).parents[1] / "sample_sessions"
PUPIL, DAY = "Pebble", "2026-10-30"
WIDTH, MARGIN = 700, 6
SCALE = 1.5
"""Pixels of the picture for each of the page, so that it is crisp on fine screens."""
BOTTOM = "document.querySelector('.legend').getBoundingClientRect().bottom"


def draw(picture: Path) -> None:
    """Draw the top of a pupil's page, down to the notes on the stave."""
    with tempfile.TemporaryDirectory() as folder, chromium() as page:
        file = Path(folder) / "review.html"
        main(
            ["review", "--studio", str(SAMPLES), "--pupil", PUPIL, "--on", DAY, "--page", str(file)]
        )
        page.open(file, WIDTH)
        clip = {"x": 0, "y": 0, "width": WIDTH, "scale": SCALE}
        clip["height"] = page.evaluate(BOTTOM) + MARGIN
        shot = page.command("Page.captureScreenshot", clip=clip, captureBeyondViewport=True)
        picture.write_bytes(base64.b64decode(shot["data"]))


if __name__ == "__main__":
    draw(SAMPLES / "review.png")
