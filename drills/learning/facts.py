"""The numbers the model starts from, each with where it comes from.

They are published values, the design's own definitions, or priors of this program. No procedure
fitted them to simulated pupils, but those marked `REVISED` were changed or added by hand after
looking at some, so a race against the same kinds of pupil is no blind test of them.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Fact:
    """One number: its value, what it means (with the unit), and its source."""

    value: float
    meaning: str
    source: str


PRIOR = "prior of this program, unchanged since before pupils were simulated"
REVISED = "prior of this program, revised by hand after looking at simulated pupils"
DEFINITION = "definition of this program"

SECURED_SHARE = Fact(0.9, "share of cold answers right and in fluent time when secured", DEFINITION)
SECURED_DAYS = Fact(2, "days with a right answer in fluent time before a card is inked", DEFINITION)
INK_FROM = Fact(
    0.8,
    "probability of being secured from which a card is inked",
    REVISED + ": first 0.9; inked cards lie between this and 1",
)
FADE_BELOW = Fact(0.5, "probability below which contrary answers fade a card", "more likely not")
SEASONED = Fact(9.5, "fluent days from which more of them speak for a card being secured", REVISED)
SEASONING = Fact(
    4,
    "power of the fluent days with which the odds of being secured grow from there",
    REVISED + ": errors fall as a power of practice (Newell and Rosenbloom 1981, from memory)",
)
MOST_SEASONING = Fact(5, "most that fluent days multiply those odds by", REVISED)
HOLDS = Fact(10, "days for each fluent day that an inked card holds without being played", REVISED)

FLUENT_FACTOR = Fact(2.5, "fluent time over key-finding time", "common practice, no source")
FLUENT_CAP = Fact(4.0, "longest fluent time, seconds", "common practice, no source")
KEY_SECONDS = Fact(
    1.0,
    "median key-finding time before any is measured, seconds",
    "four-choice reaction times of children of 6 to 11, 0.6 to 1.2 s (from memory)",
)
KEY_SPREAD = Fact(0.35, "standard deviation of its logarithm between pupils", PRIOR)

TIME_SPREAD = Fact(
    0.35,
    "standard deviation of the logarithm of one pupil's times on one card",
    "coefficient of variation 0.3 to 0.4 of response times (Wagenmakers and Brown 2007, "
    "from memory)",
)
TIME_SPREAD_WEIGHT = Fact(12, "answers that this prior is worth", PRIOR)

LEARN = Fact(
    0.2,
    "chance that one answer with feedback turns an unknown card into a known one",
    "median transition probability in knowledge tracing, 0.1 to 0.3 (Corbett and Anderson "
    "1995, from memory)",
)
KNOWN_AT_FIRST = Fact(0.25, "share of cards known before the first meeting", PRIOR)
KNOWN_AT_FIRST_WEIGHT = Fact(3, "first meetings that this prior is worth", PRIOR)
FORGET_EXPONENT = Fact(
    0.2,
    "exponent of the power law of forgetting over days after one day's practice",
    "0.1 to 0.3 in Wixted and Carpenter 2007 (from memory)",
)
FORGETTING_WEIGHT = Fact(
    2, "cards lost over rests that this exponent is worth as a prior on one pupil's", REVISED
)
PROMPT = Fact(
    0.6,
    "chance that an unknown card is right at once after its answer was shown",
    "short-term recall of paired associates after one item between (Atkinson and Shiffrin "
    "1968, from memory)",
)
PROMPT_WEIGHT = Fact(6, "answers that this prior is worth", REVISED)
PROMPT_SECONDS = Fact(
    90.0,
    "time in which that chance falls by the factor e, seconds",
    "short-term store of paired associates in continuous memory tasks (Atkinson and Shiffrin "
    "1968, from memory)",
)
WARM_GAIN = Fact(
    0.3,
    "how much quicker, in log time, a card is a minute after it was seen than a day after",
    "ACT-R: time is proportional to exp(-activation), activation falls with d ln(lag); d = 0.2 "
    "to 0.3 after time between sessions is scaled by 0.025 (Pavlik and Anderson 2005, "
    "from memory)",
)
WARM_GAIN_SPREAD = Fact(0.2, "its standard deviation between pupils", PRIOR)

WARM_SLIPS = Fact(
    0.5, "share of slips, of those when cold, that are left a minute after a card was seen", REVISED
)
WARM_SLIPS_WEIGHT = Fact(2, "slips that this prior is worth", REVISED)

WANDER = Fact(0.06, "share of answers given while the mind was elsewhere", PRIOR)
WANDER_SECONDS = Fact(8.0, "median time of such an answer, seconds", PRIOR)
WANDER_SPREAD = Fact(0.7, "standard deviation of its logarithm", PRIOR)
WANDER_RIGHT = Fact(0.6, "share of such answers that are right", PRIOR)
BRUSH = Fact(0.03, "share of answers that are a neighbouring key touched by accident", PRIOR)
CONTAMINATION_WEIGHT = Fact(25, "answers that the wander and brush priors are worth", PRIOR)
NEIGHBOUR_SHARE = Fact(
    0.35, "share of misreadings that land beside the right key", "common practice, no source"
)
WRONG_SPREAD = Fact(0.8, "standard deviation of the logarithm of times of misreadings", PRIOR)
WRONG_SECONDS = Fact(3.0, "median time of a misreading, seconds", PRIOR)

QUICK_MISREADINGS = Fact(
    0.5, "share of misreadings that are as quick as right answers on known cards", REVISED
)

CONFUSED_CARD = Fact(
    1.5,
    "odds against a card after its key was played for another note, by a clef or step slip",
    PRIOR,
)
RELATED = Fact(2.0, "odds for an unmet card when its landmark or twin is secured", PRIOR)
WORKED_OUT_SECONDS = Fact(
    3.5, "median time of a note that is counted up or guessed, seconds", PRIOR
)
WORKED_OUT_SPREAD = Fact(0.7, "standard deviation of its logarithm", PRIOR)
KNOWN_SECONDS = Fact(1.6, "usual time on known cards before any is seen, seconds", PRIOR)
KNOWN_SECONDS_SPREAD = Fact(0.4, "standard deviation of its logarithm between cards", PRIOR)
KNOWN_SECONDS_WEIGHT = Fact(6, "answers that the usual time is worth", PRIOR)
PACE_DRIFT = Fact(0.06, "change of a card's log pace from one answer to the next", PRIOR)
PACE_NIGHT = Fact(0.15, "change of a card's log pace over a rest", PRIOR)
PACE_GAIN = Fact(
    0.01,
    "how much quicker, in log time, one answer makes the next",
    "power law of practice (Newell and Rosenbloom 1981, from memory), late part",
)


def table() -> dict[str, Fact]:
    """Give every fact by name."""
    return {name: fact for name, fact in globals().items() if isinstance(fact, Fact)}
