"""Whether the answer to a card goes into the statistics, and why not."""

from __future__ import annotations

TOO_SOON_MS = 150.0
"""An answer sooner than this began before the card was seen: the floor of simple reaction
times is near 100 ms (Luce 1986, from memory), and choosing a key adds to it."""
PAUSE_MS = 30_000.0
"""Beyond this the pupil was away or helped, not reading. Common practice, no source."""


def why_not_counted(ms: float, attempt: int, helped: bool, interruption: str | None) -> str | None:
    """Return why an answer does not count, None if it does.

    `ms` is the time since the card was on the screen, `attempt` 1 for the first answer to it,
    `helped` whether the teacher gave help before it, `interruption` what came between, if anything.

    >>> why_not_counted(1420.0, 1, False, None)
    >>> why_not_counted(1420.0, 2, False, None)
    'later attempt'
    """
    reasons = (
        ("too soon", ms < TOO_SOON_MS),
        ("later attempt", attempt > 1),
        ("helped", helped),
        (interruption, interruption is not None),
        ("pause", ms > PAUSE_MS),
    )
    return next((reason for reason, holds in reasons if holds), None)
