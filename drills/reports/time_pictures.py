"""Small pictures of times: a median with its interval, a learning curve, days of practice."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from markupsafe import Markup

from drills.engrave import palette
from drills.learning.response import State
from drills.reports.drawing import picture, words
from drills.review.collect import SessionSummary
from drills.review.notes import CurvePoint
from drills.review.statistics import Estimate
from drills.text.formatting import percent, short_day_of, short_number
from landmarks.translation import _

LINE = "#767266"
"""The colour of scales: 4.8:1 against white."""
LONGEST_LINE = timedelta(days=10)
"""Sessions further apart are not joined: nothing is known of the days between."""
_DAY, _WEEK_GAP = 8.5, 5.0


def interval_picture(
    time: Estimate, state: State, key_finding: Estimate | None, most: float
) -> Markup:
    """Draw a median and its interval between 0 and `most` seconds, beside the key-finding time.

    The numbers stand in words beside it, so it is hidden from screen readers.
    """

    def x(seconds: float) -> float:
        return 3 + 134 * min(seconds, most) / most

    marks = [f'<path d="M3 11H137" stroke="{palette.PENCIL_SHADE}"/>']
    if key_finding is not None:
        at = x(key_finding.value)
        marks.append(
            f'<path d="M{at:.1f} 1V17" stroke="{LINE}" stroke-width="1.5" stroke-dasharray="2 2"/>'
        )
    if time.low is not None and time.high is not None:
        marks.append(
            f'<path d="M{x(time.low):.1f} 11H{x(time.high):.1f}" stroke="{palette.INK}" '
            'stroke-width="2.5"/>'
        )
    fill = palette.INK if state is State.INK else "white"
    marks.append(
        f'<circle cx="{x(time.value):.1f}" cy="11" r="4" fill="{fill}" stroke="{palette.INK}" '
        'stroke-width="1.8"/>'
    )
    return _small_picture(marks, 140, 18)


def small_curve(points: Sequence[CurvePoint]) -> Markup:
    """Draw a note's medians from session to session; hidden from screen readers, as above."""
    most = max(point.seconds for point in points)
    begun = points[0].session
    span = max(1.0, (points[-1].session - begun).total_seconds())
    places = [
        (
            3 + 74 * (point.session - begun).total_seconds() / span,
            17 - 14 * point.seconds / most,
        )
        for point in points
    ]
    line, before = [], None
    for point, (x, y) in zip(points, places, strict=True):
        joined = before is not None and point.session - before <= LONGEST_LINE
        line.append(f"{'L' if joined else 'M'}{x:.1f} {y:.1f}")
        before = point.session
    x, y = places[-1]
    marks = (
        f'<path d="M3 17H77" stroke="{palette.PENCIL_SHADE}"/>',
        f'<path d="{"".join(line)}" fill="none" stroke="{palette.INK}" stroke-width="1.4"/>',
        f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.2" fill="{palette.INK}"/>',
    )
    return _small_picture(marks, 80, 20)


def ratios_picture(ratios: Sequence[float], slow_from: float) -> Markup:
    """Draw how many times as long as usual a note takes each pupil, from half to four times.

    The dashed line stands at `slow_from`. Hidden from screen readers: the words stand beside it.
    """

    def x(ratio: float) -> float:
        return 6 + 188 * math.log2(min(4.0, max(0.5, ratio)) / 0.5) / 3

    dots = "".join(
        f'<circle cx="{x(ratio):.1f}" cy="10" r="4" stroke="{palette.INK}" stroke-width="1.6" '
        f'fill="{palette.INK if ratio >= slow_from else "white"}" fill-opacity=".75"/>'
        for ratio in ratios
    )
    scale = (
        f'<path d="M6 10H194" stroke="{palette.PENCIL_SHADE}"/><path d="M{x(slow_from):.1f} 1V19" '
        f'stroke="{LINE}" stroke-width="1.5" stroke-dasharray="2 2"/>'
    )
    return _small_picture([scale, dots], 200, 20)


def _small_picture(marks: Iterable[str], width: int, height: int) -> Markup:
    """Draw what stands beside words that tell the same."""
    size = {"width": f"{width}", "height": f"{height}"}
    return picture(marks, (0, 0, width, height), attributes=size)


def days_picture(
    sessions: Sequence[SessionSummary], now: datetime, weeks: int = 4, dated: bool = False
) -> Markup:
    """Draw the last days, today last: a disc for a day of practice, a speck for one without.

    If `dated`, each week has the date of its first day below it.
    """
    practised = {session.started.date() for session in sessions}
    marks, count, days = [], 0, 7 * weeks
    for place in range(days):
        day = now.date() - timedelta(days=days - 1 - place)
        x = _DAY * (place + 0.5) + _WEEK_GAP * (place // 7)
        if day in practised:
            count += 1
            marks.append(f'<circle cx="{x:g}" cy="6" r="3.8" fill="{palette.INK}"/>')
        else:
            marks.append(f'<circle cx="{x:g}" cy="6" r="1.2" fill="{LINE}"/>')
        if dated and place % 7 == 0:
            marks.append(words(short_day_of(day), x - 3.8, 24, "start"))
    told = _("practised on {count} of the last {days} days").format(count=count, days=days)
    width, height = _DAY * days + _WEEK_GAP * (weeks - 1), 28 if dated else 12
    size = {"width": f"{width:g}", "height": f"{height}"}
    kind = "days dated" if dated else "days"
    return picture(marks, (0, 0, width, height), told, kind, size)


def learning_curve(sessions: Sequence[SessionSummary], title: str) -> Markup:
    """Draw each session's median reading time, and below it its share of right answers.

    At least one session must have a right answer.
    """
    shown = [(s, s.median_seconds) for s in sessions if s.median_seconds is not None]
    curve = _Curve(shown[0][0].started, shown[-1][0].started, max(time for _session, time in shown))
    marks = [curve.scales()]
    line, before = [], None
    for session, time in shown:
        joined = before is not None and session.started - before <= LONGEST_LINE
        x, y = curve.x(session.started), curve.y(time)
        line.append(f"{'L' if joined else 'M'}{x:.1f} {y:.1f}")
        marks.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="3.2" fill="{palette.INK}"/>')
        marks.append(curve.bar(x, session.right / session.answers))
        before = session.started
    marks.append(f'<path d="{"".join(line)}" fill="none" stroke="{palette.INK}"/>')
    return picture(marks, (0, 0, _Curve.WIDTH, _Curve.HEIGHT), title, "curve")


class _Curve:
    """The scales of a learning curve: time from left to right, seconds and shares upwards."""

    WIDTH, HEIGHT = 440.0, 218.0
    LEFT, RIGHT = 46.0, 428.0
    TOP, FLOOR = 10.0, 118.0
    BAR_TOP, BAR_FLOOR = 140.0, 188.0
    LABELS = 212.0

    def __init__(self, first: datetime, last: datetime, longest: float) -> None:
        self._first = first
        self._days = max(1.0, (last - first) / timedelta(days=1))
        steps = (0.5, 1, 2, 5, 10, 20)
        self._step = next((step for step in steps if longest / step <= 4), math.ceil(longest / 4))
        self._most = self._step * math.ceil(longest / self._step)

    def x(self, moment: datetime) -> float:
        """Return the x of a moment."""
        along = (moment - self._first) / timedelta(days=1) / self._days
        return self.LEFT + 10 + (self.RIGHT - self.LEFT - 20) * along

    def y(self, seconds: float) -> float:
        """Return the y of a time."""
        return self.FLOOR - (self.FLOOR - self.TOP) * seconds / self._most

    def bar(self, x: float, share: float) -> str:
        """Draw a share of right answers as a bar."""
        tall = (self.BAR_FLOOR - self.BAR_TOP) * share
        return (
            f'<rect x="{x - 3:.1f}" y="{self.BAR_FLOOR - tall:.1f}" width="6" '
            f'height="{tall:.1f}" fill="{palette.PENCIL}"/>'
        )

    def scales(self) -> str:
        """Draw the lines and words of all three scales."""
        marks = []
        for step in range(round(self._most / self._step) + 1):
            seconds = step * self._step
            label = _("{seconds} s").format(seconds=short_number(seconds))
            marks.append(self._line(self.y(seconds), label))
        marks.append(self._line(self.BAR_TOP, percent(1.0)))
        marks.append(self._line(self.BAR_FLOOR, percent(0.0)))
        weeks = math.ceil(self._days / 7)
        every = 1 + weeks // 6
        for week in range(0, weeks, every):
            day = self._first + timedelta(weeks=week)
            marks.append(words(short_day_of(day), round(self.x(day), 1), self.LABELS))
        return "".join(marks)

    def _line(self, y: float, label: str) -> str:
        line = f'<path d="M{self.LEFT:g} {y:.1f}H{self.RIGHT:g}" stroke="{palette.PENCIL_SHADE}"/>'
        return line + words(label, self.LEFT - 6, round(y + 4.5, 1), "end")
