"""The help that a card can give."""

from __future__ import annotations

from enum import IntEnum


class Help(IntEnum):
    """How much help the card gives."""

    NONE = 0
    LANDMARK = 1
    KEY = 2
    NAME = 3
