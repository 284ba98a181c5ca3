"""Simulated pupils, from published models of learning: for demonstrations, benchmark and tests."""

from drills.simulation.pupils.pupil import KINDS, SimulatedPupil, simulated_pupil

__all__ = ["KINDS", "SimulatedPupil", "simulated_pupil"]
