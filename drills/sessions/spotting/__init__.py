"""Spotting: every treble G, every crotchet found in a line of music."""
