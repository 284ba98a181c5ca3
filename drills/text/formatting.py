"""Numbers and days as the reader's language writes them."""

from __future__ import annotations

from datetime import date

from landmarks.translation import Told, _, noted, pgettext, told

_MONTHS = (
    noted("January"), noted("February"), noted("March"), noted("April"), noted("May"),
    noted("June"), noted("July"), noted("August"), noted("September"), noted("October"),
    noted("November"), noted("December"),
)  # fmt: skip
_SHORT_MONTHS = (
    noted("Jan"), noted("Feb"), noted("Mar"), noted("Apr"), noted("May"), noted("Jun"),
    noted("Jul"), noted("Aug"), noted("Sep"), noted("Oct"), noted("Nov"), noted("Dec"),
)  # fmt: skip
_SHORT_WEEKDAYS = (
    noted("Mon"), noted("Tue"), noted("Wed"), noted("Thu"), noted("Fri"), noted("Sat"),
    noted("Sun"),
)  # fmt: skip


def decimal(number: float, places: int = 1) -> str:
    """Write a number with so many decimals: "1.4"."""
    return with_point(f"{number:.{places}f}")


def with_point(number: str) -> str:
    """Write a number that has a point with the sign that stands for it."""
    return number.replace(".", pgettext("between a number and its decimals", "."))


def percent(share: float) -> str:
    """Write a share: "85%"."""
    return _("{number}%").format(number=f"{100 * share:.0f}")


def day_of(moment: date) -> str:
    """Write a day: "3 March"."""
    return _("{day} {month}").format(day=moment.day, month=_(_MONTHS[moment.month - 1]))


def told_day(moment: date) -> Told:
    """Tell a day with its year, for a sentence that is recorded, too."""
    month = told(_MONTHS[moment.month - 1])
    return told("{day} {month} {year}", day=moment.day, month=month, year=moment.year)


def short_day_of(moment: date) -> str:
    """Write a day, briefly: "3 Mar"."""
    return _("{day} {month}").format(day=moment.day, month=_(_SHORT_MONTHS[moment.month - 1]))


def long_day(moment: date) -> str:
    """Write a day with its year: "3 March 2026"."""
    return str(told_day(moment))


def weekday_and_day(moment: date) -> str:
    """Write a day with its weekday and year: "Tue 3 Mar 2026"."""
    weekday = _(_SHORT_WEEKDAYS[moment.weekday()])
    return f"{weekday} {short_day_of(moment)} {moment.year}"


def listed(names: list[str] | tuple[str, ...]) -> str:
    """Write names one after the other: "treble G, bass F and middle C"."""
    if len(names) < 2:
        return "".join(names)
    return _("{first} and {last}").format(first=", ".join(names[:-1]), last=names[-1])
