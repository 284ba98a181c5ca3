"""What is believed of a pupil is kept, and never trusted beyond the session files."""

import dataclasses
from datetime import UTC, datetime, timedelta

import pytest

from drills.cards.card import default_cards
from drills.learning.fluency import USUAL, Fluency
from drills.learning.planner import Planner
from drills.learning.prior_knowledge.prior_knowledge import NOTHING
from drills.storage.belief_checkpoint import NAME, planner_of
from drills.storage.studio import Studio
from tests.drills.storage.sessions_of_a_pupil import write_session

CARDS = default_cards()
MONDAY = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)
DAY = timedelta(days=1)


@pytest.fixture
def pupil(tmp_path):
    robin = Studio(tmp_path).pupil("Robin")
    for day in range(4):
        write_session(robin, MONDAY + day * DAY, CARDS)
    return robin


def known(pupil, now, fluency=USUAL, cards=CARDS):
    return planner_of(
        pupil, cards, 0, now, asked=None, minutes=8.0, fluency=fluency, prior_knowledge=NOTHING,
        upkeep=True,
    )  # fmt: skip


def standings(planner, now, cards=CARDS):
    return [planner.standing(card, now) for card in cards]


def refolded(pupil, now, fluency=USUAL, cards=CARDS):
    return standings(Planner(cards, pupil.responses(), fluency=fluency), now, cards)


def test_a_second_start_folds_nothing_and_knows_the_same(pupil, monkeypatch):
    now = MONDAY + 5 * DAY
    first = known(pupil, now)
    monkeypatch.setattr("drills.storage.belief_checkpoint.read_session", None)
    second = known(pupil, now)
    assert standings(second, now) == standings(first, now) == refolded(pupil, now)
    assert second.next(now) == Planner(CARDS, pupil.responses()).next(now)


def test_only_later_files_are_folded_onto_it(pupil):
    now = MONDAY + 6 * DAY
    known(pupil, now)
    write_session(pupil, MONDAY + 5 * DAY, CARDS, right=False)
    assert standings(known(pupil, now), now) == refolded(pupil, now)


@pytest.mark.parametrize(
    "damage",
    [b"", b"{", b"[]", b"\xff\xfe", b'{"format": "another"}', b"[" * 100_000],
    ids=["empty", "cut off", "another shape", "no text", "another file", "nested"],
)
def test_a_damaged_checkpoint_is_folded_anew(pupil, damage):
    now = MONDAY + 5 * DAY
    known(pupil, now)
    (pupil.folder / NAME).write_bytes(damage)
    assert standings(known(pupil, now), now) == refolded(pupil, now)


def test_a_checkpoint_of_other_files_is_folded_anew(pupil):
    now = MONDAY + 5 * DAY
    known(pupil, now)
    pupil.session_files()[1].unlink()
    assert standings(known(pupil, now), now) == refolded(pupil, now)
    write_session(pupil, MONDAY + 1.5 * DAY, CARDS, right=False)
    assert standings(known(pupil, now), now) == refolded(pupil, now)


def test_a_checkpoint_by_another_fluent_time_or_of_other_cards_is_folded_anew(pupil):
    now = MONDAY + 5 * DAY
    known(pupil, now)
    strict = Fluency(factor=1.2)
    assert standings(known(pupil, now, strict), now) == refolded(pupil, now, strict)
    few = CARDS[:5]
    assert standings(known(pupil, now, cards=few), now, few) == refolded(pupil, now, cards=few)


def test_a_checkpoint_by_other_parameters_is_folded_anew(pupil, monkeypatch):
    now = MONDAY + 5 * DAY
    known(pupil, now)
    content = (pupil.folder / NAME).read_bytes()
    from drills.learning import parameters

    monkeypatch.setattr(
        "drills.storage.belief_checkpoint.USUAL",
        dataclasses.replace(parameters.USUAL, ink_days=3),
    )
    known(pupil, now)
    assert (pupil.folder / NAME).read_bytes() != content


def test_it_can_be_removed_at_any_time_and_a_folder_in_its_place_does_no_harm(pupil):
    now = MONDAY + 5 * DAY
    known(pupil, now)
    (pupil.folder / NAME).unlink()
    (pupil.folder / NAME).mkdir()
    assert standings(known(pupil, now), now) == refolded(pupil, now)


def test_a_session_dated_ahead_waits_and_the_others_are_kept(pupil):
    now = MONDAY + 5 * DAY
    usual = refolded(pupil, now)
    write_session(pupil, MONDAY + 3650 * DAY, CARDS, right=False)
    for _ in range(2):
        planner = known(pupil, now)
        assert planner.set_aside == len(CARDS)
        assert standings(planner, now) == usual
    write_session(pupil, MONDAY + 4.5 * DAY, CARDS)
    assert known(pupil, now).set_aside == len(CARDS)


def test_it_is_readable_by_its_owner_only(pupil):
    known(pupil, MONDAY + 5 * DAY)
    assert (pupil.folder / NAME).stat().st_mode & 0o077 == 0
