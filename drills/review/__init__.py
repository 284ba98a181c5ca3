"""What the session files say about each note, each pupil and the studio."""
