"""The program's icon: a stave and one note head, as each system wants it."""

from __future__ import annotations

import struct
from collections.abc import Sequence
from importlib import resources

_ICNS_TYPES = {128: b"ic07", 256: b"ic08", 512: b"ic09"}
"""Apple Icon Image format: the type of an entry that holds a PNG picture of so many pixels."""
_ICO_SIZES = (16, 32, 48, 64, 128, 256)


def icon_png(pixels: int) -> bytes:
    """Return the icon as a square PNG picture."""
    import resvg_py

    svg = resources.files("drills.engrave").joinpath("icon.svg").read_text("utf-8")
    return bytes(resvg_py.svg_to_bytes(svg_string=svg, width=pixels, height=pixels))


def icon_ico(sizes: Sequence[int] = _ICO_SIZES) -> bytes:
    """Return the icon as a Windows ICO file, whose entries are PNG pictures of those sizes."""
    pictures = [icon_png(pixels) for pixels in sizes]
    offset = 6 + 16 * len(pictures)
    directory = struct.pack("<HHH", 0, 1, len(pictures))
    for pixels, picture in zip(sizes, pictures, strict=True):
        # A byte holds no 256, which is written as 0.
        directory += struct.pack(
            "<BBBBHHII", pixels % 256, pixels % 256, 0, 0, 1, 32, len(picture), offset
        )
        offset += len(picture)
    return directory + b"".join(pictures)


def icon_icns() -> bytes:
    """Return the icon as an Apple ICNS file."""
    entries = b""
    for pixels, kind in _ICNS_TYPES.items():
        picture = icon_png(pixels)
        entries += kind + struct.pack(">I", 8 + len(picture)) + picture
    return b"icns" + struct.pack(">I", 8 + len(entries)) + entries
