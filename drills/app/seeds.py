"""Seeds, which make what is chosen by chance repeatable."""

from __future__ import annotations

import secrets

SEEDS = 2**53
"""Whole numbers below this keep their value in every reader of JSON (RFC 8259, section 6)."""


def new_seed() -> int:
    """Return a seed that nobody has asked for."""
    return secrets.randbelow(SEEDS)
