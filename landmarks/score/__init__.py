"""Scores: a file read into the notes that a pupil must read, each with its nearest landmark."""

from landmarks.score.notes import (
    Hand,
    PlacedNote,
    Score,
    ScoreError,
    ScoreNote,
    Stave,
    place_notes,
)
from landmarks.score.reading import read_scores

__all__ = [
    "Hand",
    "PlacedNote",
    "Score",
    "ScoreError",
    "ScoreNote",
    "Stave",
    "place_notes",
    "read_scores",
]
