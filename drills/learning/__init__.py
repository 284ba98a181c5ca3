"""What the pupil has secured, and what she practises next."""

from drills.learning.planner import Planner
from drills.learning.response import Response, Standing, State
from drills.learning.standings import standings

__all__ = ["Planner", "Response", "Standing", "State", "standings"]
