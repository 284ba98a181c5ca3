"""The numbers the model starts from are all accounted for."""

from pathlib import Path

import pytest

from drills.learning import facts

DEVELOPERS = Path(__file__).parents[4] / "DEVELOPERS.md"


@pytest.mark.parametrize("name", facts.table())
def test_every_number_stands_in_the_developers_page_with_its_source(name):
    fact = facts.table()[name]
    assert fact.source
    row = f"| {name} | {fact.value:g} | {fact.meaning} | {fact.source} |"
    assert row in DEVELOPERS.read_text(encoding="utf-8")


def test_the_priors_are_shares_where_they_are_called_so():
    for name, fact in facts.table().items():
        if fact.meaning.startswith(("share", "chance", "probability")):
            assert 0 < fact.value < 1, name
