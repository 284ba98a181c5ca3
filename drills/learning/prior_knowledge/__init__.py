"""What a pupil brings to her first lessons, and where the drill begins because of it."""
