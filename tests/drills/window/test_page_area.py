"""Whatever shape a window has, its pages are laid out where they can be drawn."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.window.page_area import SMALLEST, TALLEST, WIDEST, page_area
from drills.window.pages.first_page import FirstPage
from drills.window.pages.marks import marks_of
from drills.window.pages.new_pupil import NewPupilPage
from drills.window.pages.teacher_page import TeacherPage

SIDES = st.integers(1, 5000)


@given(SIDES, SIDES)
def test_the_area_lies_in_the_window_and_has_a_shape_for_pages(width, height):
    area = page_area(width, height)
    if area is None:
        assert min(width / SMALLEST[0], height / SMALLEST[1]) < max(TALLEST, WIDEST)
        return
    assert area.x >= 0 <= area.y
    assert area.right <= width
    assert area.bottom <= height
    assert (area.width, area.height) >= SMALLEST
    assert area.height <= TALLEST * area.width + 1
    assert area.width <= WIDEST * area.height + 1
    assert area.width == width or area.height == height


@given(st.integers(320, 5000), st.integers(240, 5000))
def test_every_size_that_can_be_asked_for_is_drawn(width, height):
    assert page_area(width, height) is not None


@pytest.mark.parametrize(
    ("size", "area"),
    [((400, 1080), (400, 720)), ((280, 768), (280, 504)), ((4000, 300), (1800, 300))],
)
def test_narrow_and_low_windows_have_margins(size, area):
    found = page_area(*size)
    assert (found.width, found.height) == area


@settings(deadline=None, max_examples=25)
@given(st.integers(160, 2000), st.integers(120, 2000), st.integers(0, 11))
def test_pages_of_pupils_can_be_drawn_in_every_area(width, height, count):
    area = page_area(width, height)
    if area is None:
        return
    marks = marks_of({f"Pupil {number}": "" for number in range(count)})
    pages = [
        NewPupilPage(marks, set(marks.values())),
        TeacherPage(marks, next(iter(marks), ""), ""),
    ]
    if marks:
        pages.append(FirstPage(marks))
    for page in pages:
        for layer in page.layers(area.width, area.height):
            assert layer.box.width > 0 < layer.box.height
