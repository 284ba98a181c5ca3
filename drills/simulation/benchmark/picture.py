"""The race as one picture: how many pupils had enough cards secured after how many cards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from drills.simulation.benchmark.contestants import ORACLE, OURS
from drills.simulation.benchmark.course import Course
from drills.simulation.benchmark.tally import cards_needed

INCHES_A_PANEL = 4.2, 3.4
PANELS_A_ROW = 4
DOTS_AN_INCH = 90


def draw(race: Mapping[str, Mapping[str, Sequence[Course]]], cap: int, path: Path) -> None:
    """Draw one panel a kind of pupil into a PNG file; `cap` stands for never.

    Raises: ImportError without matplotlib.
    """
    import matplotlib as mpl

    mpl.use("Agg")
    from matplotlib import pyplot

    width, height = INCHES_A_PANEL
    columns = min(PANELS_A_ROW, len(race))
    rows = -(-len(race) // columns)
    figure, grid = pyplot.subplots(
        rows, columns, figsize=(width * columns, height * rows), squeeze=False, sharey=True
    )
    panels = list(grid.flat)
    for empty in panels[len(race) :]:
        empty.set_axis_off()
    for panel, (kind, by_name) in zip(panels, race.items(), strict=False):
        for name, courses in by_name.items():
            needed = sorted(value for value in cards_needed(courses, cap) if value < cap)
            shares = [(rank + 1) / len(courses) for rank in range(len(needed))]
            style = "--" if name == ORACLE else "-"
            weight = 2.4 if name == OURS else 1.1
            panel.step(needed, shares, style, where="post", label=name, linewidth=weight)
        panel.set(title=kind, xlabel="cards asked", xlim=(0, cap), ylim=(0, 1))
    panels[0].set_ylabel("pupils with nine cards in ten truly secured")
    panels[len(race) - 1].legend(fontsize=7, loc="lower right")
    figure.tight_layout()
    figure.savefig(path, dpi=DOTS_AN_INCH)
    pyplot.close(figure)
