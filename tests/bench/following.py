"""How often the follower is right, and how quick it is.

    python -m tests.bench.following [accuracy] [rivals] [speed] [memory]

- accuracy: the share of presses that play a note after which the place is that note's onset, over
  music21's corpus for every kind of simulated player and over the performance that the package
  parangonar ships with an alignment by hand; as played, and with a beginner's ways laid over.
  `play_in_fits` is left out of every choice of the follower's.
- rivals: parangonar's followers by on-line time warping (Dixon 2005; arXiv 2505.05078) on the same.
- speed: the slowest press on 1,000 bars of two hands, in the processor's time and the clock's.
- memory: what an hour of presses leaves behind.
"""

from __future__ import annotations

import sys
import time
import tracemalloc
import warnings
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from random import Random
from statistics import mean

import music21
import numpy as np
import parangonar
import partitura
from parangonar import OLTWMatcher, TOLTWMatcher

from landmarks.following import Follower
from landmarks.score import read_scores
from tests.landmarks.following.players import (
    Playing,
    Press,
    Ways,
    lay_over,
    play_by_sight,
    play_in_fits,
    play_steadily,
    play_with_rubato,
)
from tests.landmarks.following.scores import Note, two_hands

CORPUS = Path(music21.__file__).parent / "corpus"
PIECES = (
    "chopin/mazurka06-2.krn",
    "joplin/maple_leaf_rag.mxl",
    "cpebach/h186.mxl",
    "mozart/k545/movement1_exposition.mxl",
    "bach/bwv846.mxl",
    "schoenberg/opus19/movement2.mxl",
    "bach/bwv66.6.mxl",
    "haydn/opus74no1/movement3.mxl",
)
KINDS = {
    "steadily": play_steadily,
    "with rubato": play_with_rubato,
    "by sight": play_by_sight,
    "in fits (left out)": play_in_fits,
}
Places = Callable[[Sequence, Playing], list[float]]


def own_places(notes: Sequence, playing: Playing) -> list[float]:
    """The place after each press, as the follower tells it."""
    follower = Follower(notes)
    places = []
    for press in playing:
        follower.hear(press.key, press.ms)
        places.append(float(follower.position))
    return places


def rival_places(kind: str) -> Places:
    """The same of one of parangonar's followers: "OLTW", or "T-OLTW" with a tempo."""

    def places(notes: Sequence, playing: Playing) -> list[float]:
        fields = [("onset_beat", float), ("onset_quarter", float), ("duration_beat", float)]
        fields += [("duration_quarter", float), ("pitch", int), ("id", "U16")]
        array = np.array(
            [
                (float(n.onset), float(n.onset), 1.0, 1.0, n.key, str(i))
                for i, n in enumerate(notes)
            ],
            dtype=fields,
        )
        if kind == "OLTW":
            matcher = OLTWMatcher(array, tracker_type="SL_OLTW")
        else:
            matcher = TOLTWMatcher(array, tracker_type="SLT_OLTW")
        heard = np.array(
            [(p.ms / 1000, p.key) for p in playing], dtype=[("onset_sec", float), ("pitch", int)]
        )
        last = len(matcher.unique_onsets) - 1
        return [float(matcher.unique_onsets[min(int(matcher(row)), last)]) for row in heard]

    return places


def real_performance() -> tuple[list[Note], Playing]:
    """The score and the performance that parangonar ships, aligned by hand."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        performance, alignment, score = partitura.load_match(parangonar.EXAMPLE, create_score=True)
        written = score.note_array(include_grace_notes=True)
        played = performance.note_array()
    notes = [
        Note(
            Fraction(float(row["onset_quarter"])).limit_denominator(96),
            int(row["pitch"]),
            Fraction(float(row["duration_quarter"])).limit_denominator(96),
            bool(row["is_grace"]),
        )
        for row in written
    ]
    index = {row["id"]: number for number, row in enumerate(written)}
    truth = {
        pair["performance_id"]: index[pair["score_id"]]
        for pair in alignment
        if pair["label"] == "match"
    }
    playing = [
        Press(int(row["pitch"]), float(row["onset_sec"]) * 1000, truth.get(row["id"]))
        for row in np.sort(played, order="onset_sec")
    ]
    return notes, playing


def playings(kind: str, beginner: bool, seeds: int) -> Iterator[tuple[Sequence, Playing]]:
    """Every piece in a kind of player's hands; the performance by a person where `kind` is so."""
    if kind == "a person":
        notes, playing = real_performance()
        for seed in range(20 * seeds if beginner else 1):
            random = Random(f"bench person {seed}")
            yield notes, lay_over(playing, notes, random, Ways()) if beginner else playing
        return
    for piece in PIECES:
        notes = read_scores(CORPUS / piece)[0].notes
        for seed in range(seeds):
            random = Random(f"bench {piece} {kind} {seed}")
            playing = KINDS[kind](notes, random)
            yield notes, lay_over(playing, notes, random, Ways()) if beginner else playing


def share_right(notes: Sequence, playing: Playing, places: Places) -> float:
    """The share, in 100, of presses of a note after which the place is right."""
    told = places(notes, playing)
    right = [
        abs(place - float(notes[press.note].onset)) < 1e-6
        for press, place in zip(playing, told, strict=True)
        if press.note is not None
    ]
    return 100 * mean(right)


def print_accuracy(followers: dict[str, Places], seeds: int) -> None:
    """Print the table: a row for each kind of player, mean and worst piece for each follower."""
    for kind in ("a person", *KINDS):
        for beginner in (False, True):
            cells = []
            for name, places in followers.items():
                shares = [share_right(*pair, places) for pair in playings(kind, beginner, seeds)]
                cells.append(f"{name} {mean(shares):6.2f} (least {min(shares):6.2f})")
            print(f"{kind:20} {'beginner' if beginner else 'as played':10}", " | ".join(cells))


def print_speed() -> None:
    """Print the time of a press on 1,000 bars of two hands."""
    notes = two_hands(1000)
    begun = time.process_time()
    Follower(notes)
    print(f"made ready in {time.process_time() - begun:.3f} s for {len(notes)} notes")
    for name, player in (("steadily", play_steadily), ("beginner, by sight", play_by_sight)):
        random = Random("bench speed")
        playing = player(notes, random)
        if "beginner" in name:
            playing = lay_over(playing, notes, random, Ways(to_beginning=0))[:30000]
        follower = Follower(notes)
        clock, processor = [], []
        for press in playing:
            began, busy = time.perf_counter(), time.thread_time()
            follower.hear(press.key, press.ms)
            processor.append(1000 * (time.thread_time() - busy))
            clock.append(1000 * (time.perf_counter() - began))
        print(
            f"{name}: {len(playing)} presses, processor median {np.median(processor):.2f} ms, "
            f"slowest {max(processor):.2f} ms; clock slowest {max(clock):.2f} ms"
        )


def print_memory() -> None:
    """Print what is held after each quarter of an hour of eight presses a second."""
    notes = two_hands(1000)
    random = Random("bench memory")
    hour = lay_over(play_steadily(notes, random), notes, random, Ways())
    while len(hour) < 28800:
        again = play_steadily(notes, random)
        later = hour[-1].ms + 1000
        hour += [Press(press.key, press.ms + later, press.note) for press in again]
    tracemalloc.start()
    follower = Follower(notes)
    for number, press in enumerate(hour[:28800]):
        follower.hear(press.key, press.ms)
        if number % 7200 in (0, 7199):
            print(f"after {number + 1} presses {tracemalloc.get_traced_memory()[0] / 1e6:.2f} MB")
    tracemalloc.stop()


def main() -> None:
    """Run what is asked for, or all."""
    asked = sys.argv[1:] or ["accuracy", "rivals", "speed", "memory"]
    if "accuracy" in asked:
        print_accuracy({"own": own_places}, seeds=1)
    if "rivals" in asked:
        rivals = {kind: rival_places(kind) for kind in ("OLTW", "T-OLTW")}
        print_accuracy({"own": own_places} | rivals, seeds=1)
    if "speed" in asked:
        print_speed()
    if "memory" in asked:
        print_memory()


if __name__ == "__main__":
    main()
