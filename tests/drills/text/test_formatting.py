"""Numbers, days and lists as people write them.

What days look like is from the Unicode CLDR charts, in memory; that a decimal is rounded to the
nearest value of its true size is Python's own rule (IEEE 754).
"""

from datetime import date, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.text.formatting import (
    RecordedDay,
    day_of,
    decimal,
    listed,
    long_day,
    percent,
    short_day_of,
    short_number,
    weekday_and_day,
)
from landmarks.translation import activate, lazy

LEAP_DAY = date(2028, 2, 29)
SEPTEMBER = date(2026, 9, 3)


@pytest.fixture(autouse=True)
def _english_again():
    yield
    activate()


@pytest.mark.parametrize(
    ("language", "day", "forms"),
    [
        ("en", LEAP_DAY, ("29 February", "29 Feb", "29 February 2028",
                          "Tuesday, 29 February 2028")),
        ("en", SEPTEMBER, ("3 September", "3 Sept", "3 September 2026",
                           "Thursday, 3 September 2026")),
        ("de", LEAP_DAY, ("29. Februar", "29. Feb.", "29. Februar 2028",
                          "Dienstag, 29. Februar 2028")),
        ("de", SEPTEMBER, ("3. September", "3. Sept.", "3. September 2026",
                           "Donnerstag, 3. September 2026")),
    ],
)  # fmt: skip
def test_a_day_is_written_in_four_lengths(language, day, forms):
    activate(language)
    found = day_of(day), short_day_of(day), long_day(day), weekday_and_day(day)
    # Releases of CLDR differ in the comma after an English weekday.
    assert tuple(each.replace(",", "") for each in found) == tuple(
        each.replace(",", "") for each in forms
    )


def test_the_day_of_a_moment_is_the_day_where_it_was():
    late = datetime(2026, 3, 3, 23, 30, tzinfo=timezone(timedelta(hours=-8)))
    assert long_day(late) == "3 March 2026"
    assert weekday_and_day(late).startswith("Tuesday")


@given(st.floats(-1e6, 1e6), st.integers(0, 3))
def test_a_decimal_is_rounded_as_python_rounds_it(number, places):
    assert float(decimal(number, places)) == float(f"{number:.{places}f}")


def test_numbers_have_the_sign_between_them_that_the_language_writes():
    assert (decimal(1.44), short_number(0.5), short_number(2.0)) == ("1.4", "0.5", "2")
    activate("de")
    assert (decimal(1.44), short_number(0.5), short_number(2.0)) == ("1,4", "0,5", "2")


def test_a_share_has_a_space_before_its_sign_in_german():
    """DIN 5008, from memory: a space that is not broken."""
    assert percent(0.85) == "85%"
    activate("de")
    assert percent(0.85) == "85\u00a0%"


@pytest.mark.parametrize(
    ("names", "english", "german"),
    [
        ([], "", ""),
        (["treble G"], "treble G", "treble G"),
        (["bass F", "treble G"], "bass F and treble G", "bass F und treble G"),
        (["a", "b", "c"], "a, b and c", "a, b und c"),
    ],
)
def test_a_list_ends_with_and(names, english, german):
    assert listed(names) == english
    activate("de")
    assert listed(names) == german


@given(st.dates(min_value=date(1000, 1, 1)))
def test_a_recorded_day_is_english_in_a_file_whatever_is_spoken(day):
    activate("de")
    sentence = lazy("{first} and {last}", first=RecordedDay(day), last="C")
    assert sentence.english == f"{day.day} {day:%B} {day.year} and C"
    assert str(sentence).startswith(f"{day.day}. ")
