"""Sessions as state machines: events in, effects out."""
