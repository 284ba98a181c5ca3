"""What was heard of a pupil, in words for the teacher: the band, the raw figures, how sure."""

from __future__ import annotations

from collections.abc import Iterator

from drills.learning.prior_knowledge.finding import (
    GUESS,
    PUBLISHED,
    STEADY_SPREAD,
    Band,
    Finding,
    Item,
)
from drills.text.formatting import decimal, percent
from landmarks.translation import _, gettext_noop, ngettext

_BANDS = {
    (Item.PULSE, Band.THERE): gettext_noop("a steady pulse was heard"),
    (Item.PULSE, Band.UNSURE): gettext_noop("not sure yet: listen once more, or another day"),
    (Item.PULSE, Band.NOT_YET): gettext_noop("no steady pulse was heard yet"),
    (Item.ECHO, Band.THERE): gettext_noop("the rhythm came back, all or most of it"),
    (Item.ECHO, Band.UNSURE): gettext_noop("half of the rhythm or more came back"),
    (Item.ECHO, Band.NOT_YET): gettext_noop("little of the rhythm came back yet"),
    (Item.DIRECTION, Band.THERE): gettext_noop("higher, lower and the same are heard"),
    (Item.DIRECTION, Band.UNSURE): gettext_noop("not sure yet: listen once more, or another day"),
    (Item.DIRECTION, Band.NOT_YET): gettext_noop("higher and lower are not told apart yet"),
}


def band_words(finding: Finding) -> str:
    """Return the band: "a steady pulse was heard"."""
    return _(_BANDS[finding.item, finding.band])


def finding_sentences(finding: Finding) -> Iterator[str]:
    """Yield the raw figures and how sure they are, each in a sentence."""
    told = {Item.PULSE: _pulse, Item.ECHO: _echo, Item.DIRECTION: _direction}
    yield from told[finding.item](finding.figures)
    for published in PUBLISHED.get(finding.item, ()):
        yield f"{_(published.words)} ({_(published.source)})"


def _pulse(figures: dict[str, float]) -> Iterator[str]:
    taps, skipped = round(figures["taps"]), round(figures["skipped"])
    if "spread" not in figures:
        yield ngettext(
            "She went on for {count} beat: too few to tell.",
            "She went on for {count} beats: too few to tell.",
            taps,
        )
        return
    yield _(
        "Going on alone for {taps} beats she strays by {spread} of the beat ({low} to {high}), "
        "{skipped} left out; that it is under {border} is {sure} sure."
    ).format(
        taps=taps, skipped=skipped, border=percent(STEADY_SPREAD),
        spread=percent(figures["spread"]), low=percent(figures["spread_low"]),
        high=percent(figures["spread_high"]), sure=percent(min(figures["sure"], 0.99)),
    )  # fmt: skip
    yield _drift(figures)
    if "along" in figures:
        yield _("Along with the beats she strays by {spread} ({low} to {high}).").format(
            spread=percent(figures["along"]), low=percent(figures["along_low"]),
            high=percent(figures["along_high"]),
        )  # fmt: skip


def _drift(figures: dict[str, float]) -> str:
    values = {
        "drift": decimal(100 * abs(figures["drift"])), "tempo": percent(1 / figures["tempo"]),
    }  # fmt: skip
    if figures["drift_low"] <= 0 <= figures["drift_high"]:
        return _("Her tempo holds, at {tempo} of the one given.").format(**values)
    if figures["drift"] < 0:
        return _("She gets faster by {drift} per cent from beat to beat.").format(**values)
    return _("She gets slower by {drift} per cent from beat to beat.").format(**values)


def _echo(figures: dict[str, float]) -> Iterator[str]:
    values = {name: round(value) for name, value in figures.items()}
    yield _(
        "{kept} of {lengths} lengths came back, in any tempo, and {in_order} of {turns} times "
        "longer, shorter or the same; one rhythm says that {low} to {high} would on the whole."
    ).format(**values | {"low": percent(figures["low"]), "high": percent(figures["high"])})
    yield _("Notes left out: {left_out}; added: {added}; lengths changed: {changed}.").format(
        **values
    )


def _direction(figures: dict[str, float]) -> Iterator[str]:
    tried = round(figures["tried"])
    yield _("{right} of {tried} moved the same way; guessing does as well once in {times}.").format(
        right=round(figures["right"]), tried=tried,
        times=max(1, round(1 / max(figures["by_guessing"], GUESS**tried))),
    )  # fmt: skip
    if "nearest" in figures:
        nearest = round(figures["nearest"])
        yield ngettext(
            "The nearest two tones that were told apart: {count} half step.",
            "The nearest two tones that were told apart: {count} half steps.",
            nearest,
        )
