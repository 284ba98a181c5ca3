"""The pages of listening: what is to be done, what has been played, and what was heard of it."""

from __future__ import annotations

from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, text
from drills.engrave.words import broken
from drills.learning.prior_knowledge.finding import QUESTION_OF, Item
from drills.learning.prior_knowledge.finding_text import band_words, finding_sentences
from drills.learning.prior_knowledge.question import questions
from drills.sessions.listening.listening import ITEMS
from drills.sessions.listening.view import ListeningView, Stage
from drills.sessions.view import Phase
from landmarks.translation import _, gettext_noop

_TITLES = {
    Item.PULSE: gettext_noop("keep it going"),
    Item.ECHO: gettext_noop("play it back"),
    Item.DIRECTION: gettext_noop("up, down or the same?"),
}
_DETAILS = {
    (Item.PULSE, Stage.READY): gettext_noop(
        "Eight beats come: from the soft tone, or from the teacher, on one key. Then you go on "
        "alone, on any other key."
    ),
    (Item.PULSE, Stage.GIVEN): gettext_noop("Listen to the beats, and join in if you like."),
    (Item.PULSE, Stage.ANSWER): gettext_noop("Go on, just like that."),
    (Item.ECHO, Stage.READY): gettext_noop(
        "The teacher plays a short rhythm on one key; then you play it back on one key."
    ),
    (Item.ECHO, Stage.GIVEN): gettext_noop("Listen to the rhythm."),
    (Item.ECHO, Stage.ANSWER): gettext_noop("Now you, on any key."),
    (Item.DIRECTION, Stage.READY): gettext_noop(
        "Two tones come from the soft tone. Then you play two keys that go the same way: up, "
        "down, or one key twice."
    ),
    (Item.DIRECTION, Stage.GIVEN): gettext_noop("Listen to the two tones."),
    (Item.DIRECTION, Stage.ANSWER): gettext_noop("Now two keys that go the same way."),
}
_WIDEST = 24
"""Dots in a row that says how much was played."""


def listening_layers(view: ListeningView, pupil: str, width: int, height: int) -> list[Layer]:
    """Return what lies under the buttons."""
    page = [rectangle(Box(0, 0, width, height), palette.PAPER)]
    if view.phase is Phase.FINISHED:
        return page
    middle, room = width / 2, 0.92 * width
    place = _("{name} · {number} of {count}").format(
        name=pupil, number=ITEMS.index(view.item) + 1, count=len(ITEMS)
    )
    page.append(text(place, middle, height * 0.09, height * 0.034, palette.PENCIL, room))
    if view.finding is not None:
        page += _heard(view, width, height)
        return page
    page.append(text(_(_TITLES[view.item]), middle, height * 0.2, height * 0.08, palette.INK, room))
    size = height * 0.042
    for row, words in enumerate(_broken(_(_DETAILS[view.item, view.stage]), size, room)):
        page.append(text(words, middle, height * (0.3 + 0.06 * row), size, palette.INK, room))
    page.append(_picture(view.item, width, height))
    page.append(_counters(view, width, height))
    return page


def _picture(item: Item, width: int, height: int) -> Layer:
    """Draw what is to be done, for whoever does not read words yet."""
    shapes: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    unit = height * 0.05
    left, middle = width / 2, height * 0.53
    if item is Item.DIRECTION:
        shapes = (((-3.2, 0.5), (-2, -0.5)), ((-0.6, 0.0), (0.6, 0.0)), ((2, -0.5), (3.2, 0.5)))
    elif item is Item.ECHO:
        lengths = ((-3.6, -2.6), (-2.4, -1.9), (-1.7, -1.2), (1.2, 2.2), (2.4, 2.9), (3.1, 3.6))
        shapes = tuple(((start, 0.0), (end, 0.0)) for start, end in lengths)
    else:
        shapes = tuple(((place - 0.01, 0.0), (place + 0.01, 0.0)) for place in range(-4, 5))
    drawn = "".join(
        f'<path d="M{left + unit * x:.1f} {middle + unit * y:.1f}'
        f'L{left + unit * to_x:.1f} {middle + unit * to_y:.1f}"/>'
        for (x, y), (to_x, to_y) in shapes
    )
    markup = (
        f'<g fill="none" stroke="{palette.ACCENT}" stroke-width="{unit / 3:.1f}" '
        f'stroke-linecap="round">{drawn}</g>'
    )
    box = Box(int(left - 5 * unit), int(middle - unit), int(10 * unit) + 1, int(2 * unit) + 1)
    return Layer(box, markup)


def _heard(view: ListeningView, width: int, height: int) -> list[Layer]:
    finding = view.finding
    assert finding is not None
    middle, room, size = width / 2, 0.92 * width, height * 0.032
    asked = questions()[QUESTION_OF[view.item]].asks
    page = [
        text(_(asked), middle, height * 0.165, height * 0.04, palette.PENCIL, room),
        text(band_words(finding), middle, height * 0.25, height * 0.056, palette.INK, room),
    ]
    lines = [
        line for told in finding_sentences(finding) for line in (*_broken(told, size, room), "")
    ]
    for row, line in enumerate(lines):
        if line:
            y = height * 0.32 + row * min(height * 0.046, height * 0.5 / len(lines))
            page.append(text(line, middle, y, size, palette.INK, room))
    return page


def _counters(view: ListeningView, width: int, height: int) -> Layer:
    """Draw a dot for each thing that was played, and an empty one for each still wanted."""
    count = min(_WIDEST, max(view.wanted, view.played))
    radius = min(height * 0.022, 0.9 * width / (3 * max(1, count)))
    y, room = height * 0.68, 3 * radius
    first = width / 2 - room * (count - 1) / 2
    marks = "".join(
        f'<circle cx="{first + place * room:.1f}" cy="{y:.1f}" r="{radius:.1f}" '
        f'fill="{palette.INK if place < view.played else palette.CARD}" '
        f'stroke="{palette.INK}" stroke-width="{radius / 5:.1f}"/>'
        for place in range(count)
    )
    across = int(room * count + 2 * radius) + 2
    box = Box(int((width - across) / 2), int(y - 2 * radius), across, int(4 * radius) + 1)
    return Layer(box, marks)


def _broken(words: str, size: float, room: float) -> list[str]:
    return broken(words.split(), " ", size, room)
