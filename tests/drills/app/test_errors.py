"""Every error that a person meets has one root, so that nobody has to list them."""

from __future__ import annotations

import importlib
import inspect
import pkgutil

import drills
from drills.text.errors import DrillsError

INNER = {
    "NoMidiError",  # told in words by the piano that could not be found
    "TookTooLongError",  # told in words by whoever reads the score
    "TookTooMuchError",  # likewise
}
"""What is caught inside the program and never met."""


def errors_of_drills():
    for module in pkgutil.walk_packages(drills.__path__, "drills."):
        for name, found in inspect.getmembers(importlib.import_module(module.name)):
            if (
                inspect.isclass(found)
                and issubclass(found, Exception)
                and found.__module__.startswith("drills.")
            ):
                yield name, found


def test_every_error_of_the_drill_has_the_one_root():
    found = dict(errors_of_drills())
    assert {"StudioError", "SettingsError", "RecordingError", "UserError", "NoScreenError"} <= set(
        found
    )
    outside = {name for name, error in found.items() if not issubclass(error, DrillsError)}
    assert outside == INNER
