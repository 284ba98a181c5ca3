"""What a wrong answer is called, and why an answer is not counted, for a teacher."""

from __future__ import annotations

from landmarks.answer import Verdict
from landmarks.translation import noted

SLIPS = {
    Verdict.DIRECTION: noted("the wrong way"),
    Verdict.CLEF: noted("other clef"),
    Verdict.OCTAVE: noted("other octave"),
    Verdict.HALF_STEP: noted("black key"),
    Verdict.STEP: noted("step"),
    Verdict.SKIP: noted("skip"),
    Verdict.LEAP: noted("leap"),
    Verdict.BRUSHED: noted("brushed"),
    Verdict.CLUSTER: noted("several keys"),
}
"""By what the pressed key means against the note asked for."""
WHY_NOT = {
    "later attempt": noted("at a further try"),
    "too soon": noted("begun too soon"),
    "pause": noted("after a long pause"),
    "brushed": noted("with a neighbour brushed along"),
    "cluster": noted("with several keys at once"),
    "helped": noted("with help"),
    "piano lost": noted("while the piano was lost"),
    "piano found": noted("while the piano was found"),
    "stood still": noted("while the computer slept"),
    "tuning": noted("to find how the piano is tuned"),
}
"""By the word that session files have."""
