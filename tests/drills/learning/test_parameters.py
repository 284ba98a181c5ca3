"""The numbers that the model and the planner start from are all accounted for."""

from dataclasses import fields, replace

import pytest

from drills.learning.parameters import USUAL, Parameters, table

SHARES = ("share", "chance", "probability")


@pytest.mark.parametrize("each", fields(Parameters), ids=lambda each: each.name)
def test_every_number_has_a_unit_a_meaning_and_a_source(each):
    assert all(each.metadata[told] for told in ("unit", "meaning", "source"))


def test_the_table_tells_every_number_in_order():
    assert [row[0] for row in table()] == [each.name for each in fields(Parameters)]


@pytest.mark.parametrize(
    "name", [each.name for each in fields(Parameters) if each.metadata["unit"] in SHARES]
)
def test_what_is_called_a_share_lies_between_nothing_and_all(name):
    values = getattr(USUAL, name)
    for value in values if isinstance(values, tuple) else (values,):
        assert 0 < value < 1


@pytest.mark.parametrize(
    ("name", "value"),
    [("secured_share", 1.5), ("ink_days", 0), ("carry", (0.2, 1.2)), ("inattention", 0.1)],
)
def test_a_number_that_cannot_be_is_refused_by_its_name(name, value):
    with pytest.raises(ValueError, match=name):
        Parameters(**{name: value})


def test_other_numbers_have_another_version_and_the_same_the_same():
    assert Parameters().version == USUAL.version
    assert replace(USUAL, ink_days=3).version != USUAL.version
