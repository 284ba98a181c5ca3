"""Pieces for a pupil: what must be read in them, how much of it is secured, what to learn."""
