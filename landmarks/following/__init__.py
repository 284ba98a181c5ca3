"""Following: which note of a score a key press plays, live."""

from landmarks.following.follower import Follower, Heard

__all__ = ["Follower", "Heard"]
