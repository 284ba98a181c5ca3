"""Simulated pupils, from published models of learning: for demonstrations, benchmark and tests."""

from drills.simulation.pupils.kinds import KINDS
from drills.simulation.pupils.pupil import SimulatedPupil, simulated_pupil

__all__ = ["KINDS", "SimulatedPupil", "simulated_pupil"]
