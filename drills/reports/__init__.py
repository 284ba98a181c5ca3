"""All that is printed or written for people."""
