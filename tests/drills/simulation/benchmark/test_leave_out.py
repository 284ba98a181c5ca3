"""A constant is chosen without the kind that it is judged on."""

import pytest

from drills.simulation.benchmark.course import Course
from drills.simulation.benchmark.leave_out import leave_one_kind_out, write_leave_out_table


def courses(*cards):
    return [Course(count, 1, 10, 1.0, 0.8, 0.0, (), (), (0.9, 0.8, 0.7)) for count in cards]


def race_of(**kinds):
    """A race of three candidates, which need so many cards on each kind."""
    names = ("0.1", "0.2", "0.3")
    return {
        kind: {name: courses(*each) for name, each in zip(names, cards, strict=True)}
        for kind, cards in kinds.items()
    }


RACE = race_of(
    mastery=[(100, 200), (50, 100), (300, 300)],
    activation=[(400, 400), (300, 300), (500, 500)],
    windows=[(100, 100), (200, 200), (10, 10)],
)


def test_what_a_kind_alone_favours_is_not_chosen_for_it():
    # On windows 0.3 is best by far; the two others choose 0.2, which there needs twice the cards.
    windows = leave_one_kind_out(RACE, "0.1", 1600)[-1]
    assert (windows.kind, windows.chosen, windows.best) == ("windows", "0.2", "0.3")
    assert windows.against_present.value == pytest.approx(2)


def test_the_geometric_mean_of_the_others_decides():
    # Without mastery: 0.2 has sqrt(0.75 * 2) = 1.22, 0.3 sqrt(1.25 * 0.1) = 0.35.
    mastery = leave_one_kind_out(RACE, "0.1", 1600)[0]
    assert (mastery.chosen, mastery.best) == ("0.3", "0.2")
    assert mastery.against_present.value == pytest.approx(300 / 150)


def test_a_row_is_written_for_every_kind():
    table = write_leave_out_table(leave_one_kind_out(RACE, "0.1", 1600)).splitlines()
    assert len(table) == 2 + len(RACE)
    assert table[-1].startswith("| windows | 0.2 | 2.00 (2.00 to 2.00) |")


def test_one_kind_alone_leaves_none_to_choose_by():
    with pytest.raises(ValueError, match="beside the one left out"):
        leave_one_kind_out({"mastery": RACE["mastery"]}, "0.1", 1600)
