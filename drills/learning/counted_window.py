"""What a page counts of a note: the latest answers, and what they allow to be said.

Every percentage on a page, the ink of a note and the troubles that a review names rest on this one
window, so that none of them can contradict another.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from drills.learning.parameters import USUAL, Parameters

T = TypeVar("T")


def counted_window(answers: Sequence[T], parameters: Parameters = USUAL) -> Sequence[T]:
    """Return the answers of one note that a page counts: the latest, of `answers` oldest first.

    >>> counted_window(range(12))
    range(2, 12)
    """
    return answers[-parameters.window :]


def supports_ink(rights: Sequence[bool], parameters: Parameters = USUAL) -> bool:
    """Return whether a note may be inked by what a page counts of it.

    `rights` tells of each of its answers, oldest first, whether it was right. At most one of the
    window is wrong, and at least four in five are right: of four answers all.

    >>> supports_ink([True] * 9 + [False]), supports_ink([True] * 8 + [False] * 2)
    (True, False)
    """
    window = counted_window(rights, parameters)
    return window.count(False) <= parameters.window_wrong and not is_trouble(rights, parameters)


def is_trouble(rights: Sequence[bool], parameters: Parameters = USUAL) -> bool:
    """Return whether too few of a note's counted answers are right for it to stand in ink.

    >>> is_trouble([True] * 8 + [False] * 2), is_trouble([True] * 7 + [False] * 3)
    (False, True)
    """
    window = counted_window(rights, parameters)
    return sum(window) < parameters.window_right * len(window)
