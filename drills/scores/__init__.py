"""How ready a pupil is for a piece, a shelf of pieces, a week."""
