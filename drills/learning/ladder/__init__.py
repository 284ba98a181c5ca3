"""The way to the stave: rungs as data, and where on them a pupil stands and why."""
