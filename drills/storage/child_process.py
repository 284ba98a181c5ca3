"""Processes that work for this one: none outlives it."""

from __future__ import annotations

import os
from multiprocessing import parent_process
from multiprocessing.connection import wait
from threading import Thread


def end_with_parent() -> None:
    """Have this process end as soon as the one that started it has ended, however that was."""
    parent = parent_process()
    if parent is not None:
        Thread(target=_end_after, args=(parent.sentinel,), daemon=True).start()


def _end_after(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)
