"""The race: this program's planner against published ways of choosing cards, and an oracle."""

from drills.benchmark.race import main

__all__ = ["main"]
