"""The root of every error that a person meets."""

from __future__ import annotations


class DrillsError(Exception):
    """Something cannot be done; the message is one sentence: what, where and what to do."""
