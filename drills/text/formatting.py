"""Numbers, days and lists as the reader's language writes them.

Babel writes them from the Unicode Common Locale Data Repository. It is imported where it is used,
so that a drill that writes no number does not wait for it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from landmarks.translation import language

_ENGLISH = "en_GB"
"""The words of the program are British, so days and lists are as well."""


def decimal(number: float, places: int = 1) -> str:
    """Return a number with so many decimals: "1.4"."""
    return _number(round(number, places), f"0.{'0' * places}" if places else "0")


def short_number(number: float) -> str:
    """Return a number with two decimals at most and no needless one: "0.5", "2"."""
    return _number(number, "0.##")


def percent(share: float) -> str:
    """Return a share of 1 in percent: "85%"."""
    from babel.numbers import format_percent

    return format_percent(round(share, 2), locale=_locale())


def day_of(moment: date) -> str:
    """Return a day: "3 March"."""
    return _day(moment, "MMMMd")


def short_day_of(moment: date) -> str:
    """Return a day, briefly: "3 Mar"."""
    return _day(moment, "MMMd")


def long_day(moment: date) -> str:
    """Return a day with its year: "3 March 2026"."""
    return _day(moment, "yMMMMd")


def weekday_and_day(moment: date) -> str:
    """Return a day with its weekday and year: "Tuesday 3 March 2026"."""
    from babel.dates import format_date

    return format_date(moment, "full", _locale())


@dataclass(frozen=True)
class RecordedDay:
    """A day with its year, for a sentence that is shown and recorded: `english` is for records."""

    day: date

    def __str__(self) -> str:
        """Return it as the reader's language writes it."""
        return long_day(self.day)

    @property
    def english(self) -> str:
        """The day as session files have it."""
        return _day(self.day, "yMMMMd", _ENGLISH)


def listed(names: Sequence[str]) -> str:
    """Return names one after the other: "treble G, bass F and middle C"."""
    from babel.lists import format_list

    return format_list(list(names), locale=_locale())


def _number(number: float, pattern: str) -> str:
    from babel.numbers import format_decimal

    return format_decimal(number, pattern, _locale())


def _day(moment: date, skeleton: str, locale: str | None = None) -> str:
    from babel.dates import format_skeleton

    return format_skeleton(skeleton, moment, locale=locale or _locale())


def _locale() -> str:
    """Return the reader's locale in Babel's writing."""
    tag = language()
    return _ENGLISH if tag == "en" else tag.replace("-", "_")
