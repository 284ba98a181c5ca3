"""The page a pupil practises on, as layers.

Pure: a view and a size in, layers out. The window and the headless demonstration show the same.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from drills.cards.card import Card, Kind
from drills.cards.card_rules import rule_of
from drills.cards.help import Help
from drills.engrave import palette
from drills.engrave.layer import Box, Layer, rectangle, see_through, text
from drills.engrave.stave_card import (
    HIGHEST_POSITION,
    LOWEST_POSITION,
    Look,
    StaveCard,
    arrow,
    clef_mark,
    counted_way,
    empty_card,
    engraved_staves,
    note,
    stave_card,
)
from drills.sessions.view import Phase, View
from drills.window.pages.card_words import Remark, remark
from drills.window.pages.contour_card import contour_layers
from drills.window.pages.key_card import found_key_layers, key_layers
from drills.window.pages.keyboard_strip import (
    Strip,
    drawn_strip,
    held_key,
    lit_key,
    strip_of,
    whole_piano,
)
from drills.window.pages.long_stave import LOOKS
from drills.window.pages.piano_picture import busy_elsewhere, pulled_out
from landmarks.answer import Answer, Verdict
from landmarks.names import Naming, landmark_name
from landmarks.pitch import Pitch
from landmarks.stave import BASS, STAVE_LINES, TREBLE, Clef, other_clef

LANDMARK_X, PLAYED_X, ARROW_X, TARGET_X = 6.5, 11.0, 12.6, 14.2
"""Where things stand along the stave, in stave spaces."""
PLAYED_BESIDE_X = 17.4
"""Where the pressed key stands while the way from the landmark is counted before the note."""
ABOVE, BELOW = 1.2, 2.6
"""Room above a note, and for its name below it, in stave spaces."""
_NO_STAVE = (Kind.CONTOUR, Kind.KEY)
_NOWHERE_ELSE = (Verdict.EXACT, Verdict.CLUSTER)
"""Answers that have no other place on the stave than the note asked for."""


@dataclass(frozen=True)
class Proportions:
    """How a page is shared out, in shares of the window's height."""

    margin: float
    strip: float
    words: float
    """The room between card and strip."""
    headline: float
    """The size of the larger words there, and of those on the last page."""


USUAL = Proportions(margin=1 / 40, strip=0.21, words=0.145, headline=0.068)
LARGE = Proportions(margin=1 / 80, strip=0.15, words=0.185, headline=0.09)


@dataclass(frozen=True)
class PageSetting:
    """What a page is laid out for: its size in pixels, its staves, its names, its cards."""

    width: int
    height: int
    grand: bool
    naming: Naming
    cards: tuple[Card, ...]
    """The cards of the session, whose keys the strip must hold."""
    large: bool = False
    """Whether notes and words take room from the margins, the keys and wrong notes far away."""
    motion: bool = False
    """Whether a found note turns to ink before the eyes."""

    @property
    def proportions(self) -> Proportions:
        """How the page is shared out."""
        return LARGE if self.large else USUAL

    def resized(self, width: int, height: int) -> PageSetting:
        """Return the same page for a window of another size."""
        return replace(self, width=width, height=height)

    @property
    def margin(self) -> int:
        """The room around everything, in pixels."""
        return int(self.height * self.proportions.margin)

    @property
    def card_box(self) -> Box:
        """The box of the card."""
        top = self.margin
        return Box(self.margin, top, self.width - 2 * self.margin, self._words_top - top)

    @property
    def strip_box(self) -> Box:
        """The box of the keyboard strip."""
        height = round(self.height * self.proportions.strip)
        top = self.height - self.margin - height
        return Box(self.margin, top, self.width - 2 * self.margin, height)

    @property
    def _words_top(self) -> int:
        return self.strip_box.y - round(self.height * self.proportions.words)

    def strip(self, view: View) -> Strip:
        """Lay out the strip: the keys of the cards, or the whole piano to find middle C on."""
        if view.tuning:
            return whole_piano(self.strip_box)
        return strip_of(self.strip_box, [card.key for card in self.cards])


def practice_page(view: View, setting: PageSetting, inked: float = 1.0) -> list[Layer]:
    """Return the layers of the page a pupil practises on.

    `inked`, from 0 to 1, is how far a found note has turned from pencil to ink.
    """
    page = _ground(setting)
    card = view.card
    if card is not None:
        page += _card_layers(view, card, setting, inked)
    page += _strip_layers(view, setting)
    return page + _words(remark(view, setting.naming), setting) + _piano_layers(view, setting)


def _ground(setting: PageSetting) -> list[Layer]:
    whole = Box(0, 0, setting.width, setting.height)
    return [rectangle(whole, palette.PAPER), *empty_card(setting.card_box)]


def _card_layers(view: View, card: Card, setting: PageSetting, inked: float) -> list[Layer]:
    match card.kind, card.form:
        case Kind.CONTOUR, _:
            return contour_layers(view, card, setting.card_box)
        case Kind.KEY, form:
            if view.phase is Phase.RIGHT and not view.tuning:
                return found_key_layers(card, setting.card_box)
            return key_layers(card, setting.card_box, setting.naming) if form else []
    return _stave_layers(view, card, setting, inked)


def note_found(view: View) -> bool:
    """Return whether the note on the stave is found."""
    if view.card is None or view.card.kind in _NO_STAVE:
        return False
    right = view.answer is not None and view.answer.verdict is Verdict.EXACT
    return right or view.phase is Phase.RIGHT


def _stave_layers(view: View, card: Card, setting: PageSetting, inked: float) -> list[Layer]:
    staves = _staves(card, setting)
    layers = engraved_staves(staves)
    look = LOOKS[view.state]
    pencil, ink = (note(staves, card.clef, card.target, n, TARGET_X) for n in (look, Look.INK))
    if not note_found(view):
        layers.append(pencil)
    elif inked >= 1 or look is Look.INK:
        layers.append(ink)
    else:
        # The pencil's outline is wider than the ink and goes as the ink comes.
        left = 2 * (1 - inked)
        layers += [pencil if left >= 1 else see_through(pencil, left), see_through(ink, inked)]
    helped = view.help >= Help.LANDMARK and view.landmark is not None
    if helped and view.landmark is not None:
        layers += _landmark_layers(staves, view.landmark, setting.naming)
        layers.append(_way_layer(staves, view.landmark, card))
    if view.answer is not None and view.answer.verdict not in _NOWHERE_ELSE:
        layers += _played_layers(staves, card, view.answer, counted_from_landmark=helped)
    return layers


def _way_layer(staves: StaveCard, landmark: Card, card: Card) -> Layer:
    start, end = (landmark.clef, landmark.target), (card.clef, card.target)
    return counted_way(staves, start, end, LANDMARK_X, TARGET_X)


def _staves(card: Card, setting: PageSetting) -> StaveCard:
    clefs = (TREBLE, BASS) if setting.grand else (card.clef,)
    if not setting.large:
        return stave_card(setting.card_box, clefs)
    asked = [c for c in (card, *setting.cards) if c.kind not in _NO_STAVE]
    reach = max(_reach(c, setting.grand) for c in asked)
    return stave_card(setting.card_box, clefs, reach)


def _reach(card: Card, grand: bool) -> float:
    """Return how far beyond the staves a note reaches, with the name that may stand below it."""
    position = card.clef.position(card.target)
    above, below = (position - 8) / 2 + ABOVE, -min(position, -2) / 2 + BELOW
    if grand:
        return above if card.clef == TREBLE else below
    return max(above, below)


def _landmark_layers(staves: StaveCard, landmark: Card, naming: Naming) -> list[Layer]:
    clef, pitch = landmark.clef, landmark.target
    name, position = landmark_name(pitch, clef, naming), clef.position(pitch)
    # The name stands on the side of the note's head, away from its stem.
    if position > STAVE_LINES[2]:
        baseline = staves.y(clef, max(STAVE_LINES[-1] + 1, position)) - 1.3 * staves.space
    else:
        baseline = staves.y(clef, min(-2, position)) + 2.2 * staves.space
    return [
        note(staves, clef, pitch, Look.INK, LANDMARK_X),
        text(name, staves.x(LANDMARK_X), baseline, 1.35 * staves.space, palette.INK),
    ]


def _played_layers(
    staves: StaveCard, card: Card, answer: Answer, counted_from_landmark: bool
) -> list[Layer]:
    """Draw the pressed key where it lives, and the way from it to the note asked for.

    The way is left out while it is counted from the landmark: one picture, one count.
    """
    if counted_from_landmark:
        return _played_beside(staves, card, answer)
    clef = _clef_to_draw(staves, card.clef, answer)
    position = clef.position(answer.played)
    if answer.verdict is Verdict.CLEF and len(staves.clefs) == 1:
        other = other_clef(card.clef)
        return [clef_mark(staves, other, other.line_position, PLAYED_X)]
    target_y = staves.y(card.clef, card.clef.position(card.target))
    if not staves.fits(clef, position):
        low = answer.steps < 0
        edge = staves.y(clef, LOWEST_POSITION if low else HIGHEST_POSITION)
        return [arrow(staves, PLAYED_X, edge, target_y)]
    played_y = staves.y(clef, position)
    layers = [note(staves, clef, answer.played, Look.PLAYED, PLAYED_X)]
    if abs(played_y - target_y) > 0.4 * staves.space:
        layers.append(arrow(staves, ARROW_X, played_y, target_y))
    return layers


def _played_beside(staves: StaveCard, card: Card, answer: Answer) -> list[Layer]:
    clef = _clef_to_draw(staves, card.clef, answer)
    if not staves.fits(clef, clef.position(answer.played)):
        return []
    return [note(staves, clef, answer.played, Look.PLAYED, PLAYED_BESIDE_X)]


def _clef_to_draw(staves: StaveCard, asked: Clef, answer: Answer) -> Clef:
    """Stay on the stave of the note asked for, as long as the played key fits on it."""
    other = other_clef(asked)
    if answer.verdict is Verdict.CLEF and other in staves.clefs:
        return other
    if staves.fits(asked, asked.position(answer.played)):
        return asked
    return other if other in staves.clefs else asked


def _strip_layers(view: View, setting: PageSetting) -> list[Layer]:
    strip = setting.strip(view)
    layers = [drawn_strip(strip)]
    card = view.card
    if card is not None and view.help >= Help.KEY and view.phase is Phase.ASKED:
        layers += [lit_key(strip, key) for key in strip.shown([_key_to_light(view, card)])]
        if card.kind is Kind.KEY and not card.form:
            layers.append(_pointer(strip, card.key, setting))
    if view.last is not None and view.help >= Help.LANDMARK:
        layers += [held_key(strip, key, palette.PENCIL) for key in strip.shown([view.last])]
    for key in strip.shown(view.held):
        right = card is not None and _is_right(view, card, key)
        layers.append(held_key(strip, key, palette.INK if right else palette.ACCENT))
    return layers


def _is_right(view: View, card: Card, key: int) -> bool:
    """Return whether a key that is down answers the card, or goes the way of its shapes."""
    if card.kind is Kind.CONTOUR:
        return view.answer is None or view.answer.verdict is Verdict.EXACT
    return rule_of(card).judged(key).verdict is Verdict.EXACT


def _key_to_light(view: View, card: Card) -> int:
    """Return the key asked for; on a contour a white key that goes the way of its shapes."""
    if card.kind is not Kind.CONTOUR or view.last is None or view.move == 0:
        return card.key
    size = card.contour.moves[view.move - 1]
    return view.last if size == 0 else Pitch.of_key(view.last).natural().stepped(size).midi


def _pointer(strip: Strip, key: int, setting: PageSetting) -> Layer:
    """Draw a great arrow on the empty card, down to the key that is lit."""
    box = strip.key_box(key)
    middle = box.x + box.width / 2
    card = setting.card_box
    top, tip = card.y + card.height * 0.3, card.y + card.height * 0.9
    half = card.height * 0.11
    markup = (
        f'<path d="M{middle - half * 0.4:.1f} {top:.1f}H{middle + half * 0.4:.1f}'
        f"V{tip - half * 1.3:.1f}H{middle + half:.1f}L{middle:.1f} {tip:.1f}"
        f'L{middle - half:.1f} {tip - half * 1.3:.1f}H{middle - half * 0.4:.1f}Z" '
        f'fill="{palette.ACCENT}"/>'
    )
    return Layer(Box(int(middle - half), int(top), int(2 * half) + 1, int(tip - top) + 1), markup)


def _piano_layers(view: View, setting: PageSetting) -> list[Layer]:
    """Draw what keeps the piano from being heard, in the corner of the card."""
    card = setting.card_box
    height = round(min(card.height * 0.17, card.width * 0.11))
    box = Box(card.x + setting.margin, card.y + setting.margin, round(height * 1.6), height)
    if view.piano_lost:
        return [pulled_out(box)]
    return [busy_elsewhere(box)] if view.piano_refused else []


def _words(words: Remark, setting: PageSetting) -> list[Layer]:
    top, room = setting.card_box.bottom, setting.height * setting.proportions.words
    middle, size = setting.width / 2, setting.height * setting.proportions.headline
    within = 0.95 * setting.width
    lines = []
    if words.headline:
        baseline = top + room * (0.54 if words.detail else 0.655)
        lines.append(text(words.headline, middle, baseline, size, palette.INK, within))
    if words.detail:
        baseline = top + room * 0.88
        lines.append(text(words.detail, middle, baseline, size * 0.58, palette.PENCIL, within))
    return lines
