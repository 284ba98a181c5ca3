"""What a wrong answer is called, and why an answer is not counted, for a teacher."""

from __future__ import annotations

from landmarks.answer import Verdict
from landmarks.translation import gettext_noop

SLIPS = {
    Verdict.DIRECTION: gettext_noop("the wrong way"),
    Verdict.CLEF: gettext_noop("other clef"),
    Verdict.OCTAVE: gettext_noop("other octave"),
    Verdict.HALF_STEP: gettext_noop("black key"),
    Verdict.STEP: gettext_noop("step"),
    Verdict.SKIP: gettext_noop("skip"),
    Verdict.LEAP: gettext_noop("leap"),
    Verdict.BRUSHED: gettext_noop("brushed"),
    Verdict.CLUSTER: gettext_noop("several keys"),
}
"""By what the pressed key means against the note asked for."""
WHY_NOT = {
    "later attempt": gettext_noop("at a further try"),
    "too soon": gettext_noop("begun too soon"),
    "pause": gettext_noop("after a long pause"),
    "brushed": gettext_noop("with a neighbour brushed along"),
    "cluster": gettext_noop("with several keys at once"),
    "helped": gettext_noop("with help"),
    "piano lost": gettext_noop("while the piano was lost"),
    "piano found": gettext_noop("while the piano was found"),
    "stood still": gettext_noop("while the computer slept"),
    "tuning": gettext_noop("to find how the piano is tuned"),
}
"""By the word that session files have."""
