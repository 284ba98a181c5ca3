"""How long the planner takes to start from a long history, and to choose.

Run from the project's root: python -m tests.bench.planner_speed
"""

from datetime import UTC, datetime, timedelta
from random import Random
from time import process_time

from drills.cards.card import Card, Kind, default_cards
from drills.learning.planner import Planner, Response
from landmarks.pitch import Pitch
from landmarks.stave import BASS, TREBLE

CARDS, ANSWERS, CHOICES = 100, 100_000, 200
START = datetime(2026, 1, 5, 16, 0, tzinfo=UTC)


def many_cards() -> list[Card]:
    """Give a hundred cards: the default ones, and others over both staves."""
    others = [
        Card(Kind.PIECE, clef, Pitch(diatonic), Pitch(diatonic))
        for clef in (TREBLE, BASS)
        for diatonic in range(5, 46)
    ]
    return [*default_cards(), *others][:CARDS]


def long_history(cards: list[Card]) -> list[Response]:
    """Give a history of answers, three minutes apart, a few of them wrong or slow."""
    random = Random(1)
    history = []
    for number in range(ANSWERS):
        card = cards[number % len(cards)]
        right = random.random() < 0.93
        at = START + timedelta(minutes=3 * number)
        key = card.key if right else card.key + random.choice([-2, -1, 1, 2])
        history.append(Response(card, at, random.lognormvariate(0.4, 0.3), right, key))
    return history


def main() -> None:
    """Print the times, in processor seconds."""
    cards = many_cards()
    history = long_history(cards)
    begun = process_time()
    planner = Planner(cards)
    planner.take_in(history, history[-1].at)
    folded = process_time() - begun
    now, slowest, total = history[-1].at + timedelta(days=2), 0.0, 0.0
    for _ in range(CHOICES):
        begun = process_time()
        card = planner.next(now)
        spent = process_time() - begun
        slowest, total = max(slowest, spent), total + spent
        if card is None:
            break
        now += timedelta(seconds=3)
        planner.record(Response(card, now, 1.5, True, card.key))
    print(f"{len(cards)} cards, {ANSWERS} earlier answers: folded in {folded:.2f} s")
    print(f"a choice: {1000 * total / CHOICES:.2f} ms on average, {1000 * slowest:.2f} ms at most")


if __name__ == "__main__":
    main()
