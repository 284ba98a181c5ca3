"""Words and numbers for people."""
