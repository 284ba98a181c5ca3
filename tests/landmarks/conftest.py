"""No law is timed here."""

from hypothesis import settings

# No test fails for being slow on a busy machine; timed figures live in the benches.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
