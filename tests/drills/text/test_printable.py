"""Nothing that a terminal would obey is printed from a name or a title."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drills.commands.output import print_lines
from drills.text.printable import printable


@given(st.text())
def test_no_control_character_is_left(words):
    """Category Cc is C0, DEL and C1 of ECMA-48; a lone C1 "CSI" begins a sequence as ESC [ does."""
    assert "Cc" not in map(unicodedata.category, printable(words))
    assert len(printable(words)) == len(words)


@pytest.mark.parametrize("words", ["Wren", "Zoë", "रोहन", "a\u200db", "楽", "F♯", "B\u0307"])
def test_names_of_every_script_stay_as_they_are(words):
    assert printable(words) == words


@pytest.mark.parametrize("sequence", ["\x1b[2J", "\x1b]0;title\x07", "\x9b31m", "\u202egnp.exe"])
def test_a_sequence_loses_what_begins_it(sequence):
    assert printable(sequence)[0] == "\ufffd"


def test_a_title_that_ends_its_line_stays_in_it(capsys):
    print_lines(["one\nline\r", "two"])
    assert capsys.readouterr().out == "one line \ntwo\n"
