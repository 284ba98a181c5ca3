"""Two minutes of listening: what a pupil brings, heard at the piano."""
