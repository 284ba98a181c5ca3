"""The race as one picture: how many pupils had every card secured after how many cards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from drills.simulation.benchmark.course import ORACLE, OURS, Course
from drills.simulation.benchmark.tally import CAP, cards_needed

INCHES_A_PANEL = 4.2, 3.4
DOTS_AN_INCH = 90


def draw(race: Mapping[str, Mapping[str, Sequence[Course]]], path: Path) -> None:
    """Draw one panel a kind of pupil into a PNG file. ImportError without matplotlib."""
    import matplotlib as mpl

    mpl.use("Agg")
    from matplotlib import pyplot

    width, height = INCHES_A_PANEL
    figure, panels = pyplot.subplots(
        1, len(race), figsize=(width * len(race), height), squeeze=False, sharey=True
    )
    for panel, (kind, by_name) in zip(panels[0], race.items(), strict=True):
        for name, courses in by_name.items():
            needed = sorted(value for value in cards_needed(courses) if value < CAP)
            shares = [(rank + 1) / len(courses) for rank in range(len(needed))]
            style = "--" if name == ORACLE else "-"
            weight = 2.4 if name == OURS else 1.1
            panel.step(needed, shares, style, where="post", label=name, linewidth=weight)
        panel.set(title=kind, xlabel="cards asked", xlim=(0, CAP), ylim=(0, 1))
    panels[0][0].set_ylabel("pupils with every card truly secured")
    panels[0][-1].legend(fontsize=7, loc="lower right")
    figure.tight_layout()
    figure.savefig(path, dpi=DOTS_AN_INCH)
    pyplot.close(figure)
