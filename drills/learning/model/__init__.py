"""What the pupil has secured: accuracy, response time and forgetting, per card and per pupil."""

from drills.learning.model.learner import Learner

__all__ = ["Learner"]
