"""What is held of players before one is heard: how evenly, how truly, how often they stray."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FollowingParameters:
    """What the follower expects of any player; times in milliseconds, the rest probabilities.

    No value was fitted to one performance. Where a paper is named, its order of magnitude is
    taken, quoted from memory; what is marked "set on simulated players" was chosen among round
    values with one kind of player left out (tests/bench/following.py).
    """

    # Notes written together part by 20 to 30 ms, the melody first (Goebl 2001, JASA 110:563).
    press_scatter: float = 30.0
    # A grace note is played on the beat or a little before it (common practice, no source).
    grace_lead: float = 50.0
    grace_scatter: float = 80.0
    # Share of an interval by which an expressive player lengthens or shortens it (Repp 1992,
    # JASA 92:2546: beats of one piece vary by a tenth to a fifth).
    interval_scatter: float = 0.12
    # Her own share is learnt over this many moments, and never held to be less than the second.
    scatter_memory: float = 20.0
    least_scatter: float = 0.06
    # Relative change of the player's tempo from one quarter note to the next; the square root
    # grows with the time passed (random walk; set on simulated players).
    tempo_drift: float = 0.08
    # Before anything is heard: a quarter note lasts 600 ms, give or take this share (Parncutt
    # 1994, Music Perception 11:409: moderate tempo).
    first_quarter: float = 600.0
    first_quarter_scatter: float = 0.5
    # A press outside the player's evenness: agogic accents, arpeggios (three times as wide).
    uneven: float = 0.15
    uneven_widening: float = 3.0
    # The player stops before a note: as long as she likes, half of the stops under `stop_middle`.
    stop: float = 0.08
    stop_middle: float = 700.0
    # Of the notes of concert pianists 3 to 4 in 100 are left out, as many inserted (Flossmann,
    # Goebl & Widmer 2010, Magaloff corpus).
    left_out: float = 0.04
    extra: float = 0.05
    # After an extra key another one comes easily: a trill, a run of corrections.
    further_extra: float = 0.3
    # A key struck anew within the same note: a trill, a bounce, a note put right.
    struck_again: float = 0.03
    # The same note or chord begun anew, most often after a pause.
    begun_again: float = 0.01
    # A key beside the one just pressed, brushed by the same finger (set on simulated players).
    brushed: float = 0.03
    brushed_middle: float = 40.0
    # How near in time two notes may come in the wrong order: the lag after which a note passed
    # over is held to be left out falls off with this time (Goebl 2001).
    order_lag: float = 60.0
    # The typical time between two presses that nothing foretells.
    unforetold: float = 300.0
    # The player goes on somewhere else (Nakamura et al. 2014, arXiv 1404.2313, table of rehearsal
    # jumps: some in a thousand notes; more with beginners).
    jump: float = 0.01
    jump_pause: float = 500.0
    # Where to: some notes back, the nearer the likelier; forward likewise; the beginning; any place
    # already passed; any place at all. No source; the order of the shares is common practice.
    jump_back: float = 0.7
    jump_back_reach: float = 20.0
    jump_forward: float = 0.15
    jump_forward_reach: float = 15.0
    jump_to_beginning: float = 0.002
    jump_to_passed: float = 0.1
    # The chance of a stop with a chord half struck.
    stop_within: float = 0.03
    # The player begins at the beginning, or anywhere.
    begins_at_beginning: float = 0.6


DEFAULTS = FollowingParameters()
