"""Words in the reader's language."""

from __future__ import annotations

from landmarks.translation import _, activate, ngettext


def test_without_a_catalogue_everybody_reads_english() -> None:
    activate("xx")
    assert _("who is playing?") == "who is playing?"
    assert ngettext("{count} note", "{count} notes", 1) == "1 note"
    assert ngettext("{count} note", "{count} notes", 3) == "3 notes"
