"""What is said when something that a person asked for cannot be done."""

from __future__ import annotations

from drills.text.errors import DrillsError


class UserError(DrillsError):
    """One sentence for whoever asked: what cannot be done, where, and what to do instead."""
