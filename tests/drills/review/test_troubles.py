import random
from dataclasses import replace

import pytest

from drills.learning.response import State
from drills.review.notes import note_reviews
from drills.review.trouble import Trouble

TREBLE_NOTES = ("C4", "D4", "F4", "G4", "A4", "B4", "C5", "D5")
LANDMARKS = ("C4", "G4", "C5")


def card(note):
    return f"{'landmark' if note in LANDMARKS else 'step'}/treble/{note}"


def sessions(notebook, count, answer, notes=TREBLE_NOTES, times=3, seed=1):
    """Write sessions in which every note is asked `times` times; `answer` gives the rest."""
    generator = random.Random(seed)
    for _ in range(count):
        keys = [("key/treble/C4", 0.8 * generator.lognormvariate(0, 0.1), True)] * 2
        asked = [note for note in notes for _ in range(times)]
        notebook.session(*keys, *((card(note), *answer(note, generator)) for note in asked))


def troubles(review):
    return [trouble.trouble for trouble in review.troubles]


def sure(note, generator):
    return 1.4 * generator.lognormvariate(0, 0.3), True


def test_a_pupil_who_reads_surely_and_fluently_has_no_trouble(notebook):
    sessions(notebook, 6, sure)
    assert troubles(notebook.review()) == []


def test_three_clef_slips_are_no_clef_confusion(notebook):
    slips = iter(["clef"] * 3)
    sessions(notebook, 4, lambda note, generator: (1.4, next(slips, True)))
    assert troubles(notebook.review()) == []


def test_clef_slips_among_many_other_slips_are_no_clef_confusion(notebook):
    def answer(note, generator):
        kind = generator.random()
        return 1.6, "clef" if kind < 0.02 else "step" if kind < 0.3 else True

    sessions(notebook, 6, answer)
    assert Trouble.CLEF not in troubles(notebook.review())


def test_steps_taken_the_wrong_way_are_named(notebook):
    def answer(note, generator):
        return 1.4, "direction" if note == "A4" and generator.random() < 0.6 else True

    sessions(notebook, 5, answer)
    assert troubles(notebook.review())[0] is Trouble.DIRECTION


def test_one_bad_session_alone_names_no_kind_of_slip(notebook):
    sessions(notebook, 5, sure)
    sessions(notebook, 1, lambda note, generator: (1.4, "octave"))
    assert Trouble.OCTAVE not in troubles(notebook.review())


def test_slow_wrong_answers_are_not_careless(notebook):
    def answer(note, generator):
        wrong = generator.random() < 0.25
        return (2.0, "step") if wrong else (1.2, True)

    sessions(notebook, 6, answer)
    assert Trouble.CARELESS not in troubles(notebook.review())


def test_hasty_wrong_answers_are_careless(notebook):
    def answer(note, generator):
        wrong = generator.random() < 0.25
        return (0.7, "step") if wrong else (1.2, True)

    sessions(notebook, 6, answer)
    assert troubles(notebook.review())[0] is Trouble.CARELESS


def test_a_pupil_who_guesses_is_sent_back_to_the_landmarks(notebook):
    sessions(notebook, 3, lambda note, generator: (2.0, "leap"), times=1)
    review = notebook.review()
    assert troubles(review) == [Trouble.GUESSED]
    assert review.troubles[0].evidence == "Of the latest 24 answers none was right."
    assert review.next_step.startswith("Go back to the landmarks alone")


def test_a_few_wrong_answers_to_begin_with_are_no_guessing(notebook):
    wrong = iter(["step"] * 3)
    sessions(notebook, 2, lambda note, generator: (1.4, next(wrong, True)), times=1)
    assert troubles(notebook.review()) == []


def test_slow_is_measured_by_the_pupils_own_key_finding_time(notebook):
    def answer(note, generator):
        return 1.9 * generator.lognormvariate(0, 0.2), True

    sessions(notebook, 4, answer)
    assert troubles(notebook.review()) == []
    quick_hands = [("key/treble/C4", 0.5, True)] * 30
    notebook.session(*quick_hands)
    assert troubles(notebook.review()) == [Trouble.SLOW]


def test_times_that_do_not_grow_with_the_height_are_not_counted_up(notebook):
    sessions(notebook, 4, lambda note, generator: (4 * generator.lognormvariate(0, 0.3), True))
    (trouble,) = notebook.review().troubles
    assert trouble.trouble is Trouble.SLOW
    assert "counted up" not in trouble.evidence


def test_a_break_that_cost_nothing_is_not_told(notebook):
    sessions(notebook, 5, sure)
    notebook.started = notebook.started.replace(month=4)
    sessions(notebook, 3, sure, seed=2)
    assert Trouble.GAP not in troubles(notebook.review())


def test_what_was_lost_in_a_break_is_no_longer_told_once_it_is_back(notebook):
    sessions(notebook, 5, sure)
    notebook.started = notebook.started.replace(month=4)

    def rusty(note, generator):
        return 3.0, "step" if generator.random() < 0.4 else True

    sessions(notebook, 2, rusty, seed=2)
    assert troubles(notebook.review())[0] is Trouble.GAP
    sessions(notebook, 6, sure, seed=3)
    assert Trouble.GAP not in troubles(notebook.review())


def test_a_note_that_stays_behind_is_named_with_its_usual_slip(notebook):
    def answer(note, generator):
        return 1.4, 67 if note == "A4" and generator.random() < 0.7 else True

    sessions(notebook, 5, answer)
    (trouble,) = notebook.review().troubles
    assert trouble.trouble is Trouble.NOTE
    assert trouble.evidence.startswith("Treble A stays behind")
    assert "treble G played instead" in trouble.evidence


def test_two_weeks_without_practice_are_told(notebook):
    sessions(notebook, 3, sure)
    assert troubles(notebook.review(days_later=2)) == []
    (trouble,) = notebook.review(days_later=15).troubles
    assert trouble.trouble is Trouble.QUIET


def test_a_pupil_who_has_not_practised_yet_is_told_so_and_not_judged(notebook):
    review = notebook.review()
    assert troubles(review) == []
    assert review.verdict == "not begun yet"
    assert "no note has been met yet" in review.next_step
    assert all(note.seconds is None for note in review.notes)


def test_a_pupil_who_began_this_week_is_not_told_that_she_practises_little(notebook):
    sessions(notebook, 1, sure, times=1)
    review = notebook.review(days_later=5)
    assert troubles(review) == []
    assert review.verdict == "just begun, too early to say"
    assert notebook.review(days_later=8).verdict == "little practice"


def test_a_pupil_who_began_this_week_and_guesses_is_told_of_it(notebook):
    sessions(notebook, 3, lambda note, generator: (2.0, "leap"), times=1)
    assert notebook.review().verdict == "often wrong"


@pytest.mark.parametrize("seed", range(3))
def test_no_note_in_ink_is_named_as_a_trouble(notebook, seed):
    def answer(note, generator):
        wrong = generator.random() < (0.5 if note in ("A4", "D5") else 0.02)
        return 1.4, "clef" if wrong else True

    sessions(notebook, 8, answer, seed=seed)
    review = notebook.review()
    named = {card for trouble in review.troubles for card in trouble.cards}
    assert named
    assert not [note.name for note in review.notes if note.card in named and note.is_secured]


@pytest.mark.parametrize(("wrong", "state"), [(2, State.INK), (3, State.PENCIL)])
def test_no_note_is_drawn_in_ink_that_its_own_row_denies(notebook, wrong, state):
    """Fewer than four in five of what is counted deny it (`drills.learning.counted_window`)."""
    notebook.session(*[(card("A4"), 1.0, place >= wrong or "step") for place in range(10)])
    (row,) = [note for note in notebook.review().notes if note.card.id == card("A4")]
    inked = {row.card: replace(row.standing, state=State.INK)}
    (note,) = note_reviews(notebook.record().cards, inked, ())
    assert note.standing.state is state


def test_what_is_told_of_a_note_in_words_is_what_stands_in_its_row(notebook):
    def answer(note, generator):
        return 1.4, 67 if note == "A4" and generator.random() < 0.7 else True

    sessions(notebook, 15, answer)
    review = notebook.review()
    row = next(note for note in review.notes if note.card.id == card("A4"))
    assert f"{100 * row.accuracy.value:.0f}% are right" in review.troubles[0].evidence


def test_a_note_that_gets_slower_with_height_is_counted_up(notebook):
    heights = {note: n for n, note in enumerate(TREBLE_NOTES)}

    def answer(note, generator):
        return (2.5 + 0.4 * heights[note]) * generator.lognormvariate(0, 0.25), True

    sessions(notebook, 4, answer)
    assert "counted up" in notebook.review().troubles[0].evidence


def test_one_note_that_is_always_missed_in_haste_is_no_carelessness(notebook):
    def answer(note, generator):
        return (0.6, "step") if note == "A4" else (1.2, True)

    sessions(notebook, 5, answer)
    assert troubles(notebook.review()) == [Trouble.NOTE]
