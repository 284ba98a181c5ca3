"""The kinds of simulated pupil, by name: one published model of learning each."""

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
}
