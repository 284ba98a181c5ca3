"""The icon's files, read by Pillow, which knows these formats from outside the project."""

from io import BytesIO

import pytest
from PIL import Image

from drills.engrave.icon import icon_icns, icon_ico, icon_png


def test_the_icon_is_a_square_picture_of_the_size_asked_for():
    with Image.open(BytesIO(icon_png(64))) as picture:
        assert (picture.format, picture.size) == ("PNG", (64, 64))
        corners = [picture.convert("RGBA").getpixel(at)[3] for at in ((0, 0), (63, 63))]
    assert corners == [0, 0]


def test_windows_finds_every_size_in_the_icon():
    with Image.open(BytesIO(icon_ico())) as icon:
        assert icon.info["sizes"] == {(n, n) for n in (16, 32, 48, 64, 128, 256)}
        icon.size = (32, 32)
        assert icon.convert("RGBA").getextrema()[3] == (0, 255)


@pytest.mark.parametrize("pixels", [128, 256, 512])
def test_macos_finds_every_size_in_the_icon(pixels):
    with Image.open(BytesIO(icon_icns())) as icon:
        assert (pixels, pixels, 1) in icon.info["sizes"]


def test_the_note_stands_out_from_the_paper_at_the_smallest_size():
    with Image.open(BytesIO(icon_png(16))) as picture:
        grey = picture.convert("L")
    # WCAG 2.1, 1.4.11 asks 3:1 of a drawn mark; ink on card has 15:1 and more when whole.
    assert min(grey.getpixel((x, 10)) for x in range(6, 10)) < 90
    assert grey.getpixel((4, 2)) > 200
