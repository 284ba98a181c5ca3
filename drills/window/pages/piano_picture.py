"""A small piano whose plug has come out, or whose cable leads elsewhere."""

from __future__ import annotations

from drills.engrave import palette
from drills.engrave.layer import Box, Layer

_UNITS = (160, 100)
_PIANO = (
    f'<rect x="4" y="44" width="84" height="44" rx="6" fill="{palette.CARD}" '
    f'stroke="{palette.INK}" stroke-width="5"/>'
    f'<path d="M25 68V88M46 68V88M67 68V88" stroke="{palette.INK}" stroke-width="4"/>'
    f'<path d="M25 47V70M46 47V70M67 47V70" stroke="{palette.INK}" stroke-width="11"/>'
)
_PULLED_OUT = (
    f'<path d="M88 56H106" stroke="{palette.INK}" stroke-width="6" fill="none"/>'
    f'<path d="M106 48V64H116V48Z" fill="{palette.INK}"/>'
    f'<path d="M132 46H146V66H132ZM126 51H132M126 61H132" fill="{palette.ACCENT}" '
    f'stroke="{palette.ACCENT}" stroke-width="4"/>'
    f'<path d="M146 56C158 56 154 24 140 22" stroke="{palette.ACCENT}" stroke-width="6" '
    'fill="none"/>'
)
_ELSEWHERE = (
    f'<path d="M46 44V34Q46 22 58 22H96" stroke="{palette.ACCENT}" stroke-width="6" fill="none"/>'
    f'<rect x="98" y="4" width="54" height="36" rx="4" fill="{palette.CARD}" '
    f'stroke="{palette.ACCENT}" stroke-width="5"/>'
    f'<path d="M98 14H152" stroke="{palette.ACCENT}" stroke-width="6"/>'
)


def pulled_out(box: Box) -> Layer:
    """Draw a piano whose plug has come out."""
    return _drawn(_PIANO + _PULLED_OUT, box)


def busy_elsewhere(box: Box) -> Layer:
    """Draw a piano whose cable leads to another program's window."""
    return _drawn(_PIANO + _ELSEWHERE, box)


def _drawn(markup: str, box: Box) -> Layer:
    scale = min(box.width / _UNITS[0], box.height / _UNITS[1])
    left = box.x + (box.width - scale * _UNITS[0]) / 2
    top = box.y + (box.height - scale * _UNITS[1]) / 2
    transform = f"translate({left:.1f} {top:.1f}) scale({scale:.3f})"
    return Layer(box, f'<g transform="{transform}">{markup}</g>')
