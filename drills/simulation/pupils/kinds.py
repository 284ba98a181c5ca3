"""The kinds of simulated pupil, by name: one published model of learning each.

| kind | how memory decays | what practice adds | neighbours | a note that is not known |
| --- | --- | --- | --- | --- |
| activation | traces, each a power of time (ACT-R) | one more trace | none | guessed |
| mastery | lost by chance each night | known or not, by chance (BKT) | none | guessed |
| confusion | strengths, exponentially | the delta rule, by what was missed | interfere | misread |
| fluctuation | cues leave and return | available cues are conditioned | none | misread |
| half-life | exponentially, by half-lives | doubles the half-life | none | counted up |
| power law | a power of time | a power: slower loss, quicker recall | none | guessed |
| disuse | retrieval, hyperbolically | storage, more the lower retrieval | none | counted up |
| windows | right answers leave time windows | logarithm of right answers | none | misread |
| multiscale | stores of eight speeds | what each store's faster ones miss | none | guessed |
| stability | a power, by stability (FSRS) | stability, more the lower recall | none | guessed |
| instances | a share of instances each night | one more racer (extreme value) | none | counted up |
| exemplars | a power of time | strength of one exemplar | read alike | by likeness |
| daily form | a share each night | logarithm of practice | generalise | misread |
| short term | a power; a store of a few cards | only when it had left the store | none | guessed |

The day's form and the minutes of a sitting count in daily form, breaks in activation (its clock
runs slower between sittings) and short term (its store is emptied); attention wanders and keys are
brushed in all.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from random import Random

from drills.cards.card import Card
from drills.simulation.pupils import (
    activation,
    confusion,
    daily_form,
    disuse,
    exemplars,
    fluctuation,
    half_life,
    instances,
    mastery,
    multiscale,
    power_law,
    short_term,
    stability,
    windows,
)
from drills.simulation.pupils.hand import Hand
from drills.simulation.pupils.mind import Mind

Maker = Callable[[Hand, Random, Sequence[Card], Sequence[Card], datetime], Mind]
"""Makes a mind from its hand, its chance, all cards, those known at birth, and its birth."""

KINDS: dict[str, Maker] = {
    "activation": activation.make,
    "mastery": mastery.make,
    "confusion": confusion.make,
    "fluctuation": fluctuation.make,
    "half-life": half_life.make,
    "power law": power_law.make,
    "disuse": disuse.make,
    "windows": windows.make,
    "multiscale": multiscale.make,
    "stability": stability.make,
    "instances": instances.make,
    "exemplars": exemplars.make,
    "daily form": daily_form.make,
    "short term": short_term.make,
}
