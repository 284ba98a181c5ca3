import csv
import io
import json
from dataclasses import replace

from drills.reports.review_tables import COLUMNS, csv_of, json_of
from drills.reports.review_text import pupil_lines, studio_lines

G4 = "landmark/treble/G4"


def test_the_spreadsheet_has_one_line_a_note_with_plain_numbers(reviewed_studio):
    _, studio = reviewed_studio(0)
    rows = list(csv.DictReader(io.StringIO(csv_of(studio.pupils))))
    assert len(rows) == sum(len(review.notes) for review in studio.pupils)
    assert tuple(rows[0]) == COLUMNS
    for row, note in zip(rows, (n for r in studio.pupils for n in r.notes), strict=True):
        assert row["card"] == note.card.id
        assert int(row["answers"]) == note.answers
        assert (row["median_seconds"] == "") == (note.seconds is None)
        if note.seconds:
            assert float(row["median_seconds"]) == round(note.seconds.value, 3)


def test_a_nickname_is_no_formula_in_a_spreadsheet(notebook):
    notebook.session((G4, 1.0, True))
    review = replace(notebook.review(), nickname="-2+3")
    rows = list(csv.reader(io.StringIO(csv_of([review]))))
    assert rows[1][0] == "'-2+3"


def test_programs_get_everything_that_people_are_told(reviewed_studio):
    _, studio = reviewed_studio(0)
    told = {pupil["pupil"]: pupil for pupil in json.loads(json_of(studio.pupils))}
    for review in studio.pupils:
        pupil = told[review.nickname]
        assert pupil["next_step"] == review.next_step
        assert [t["trouble"] for t in pupil["troubles"]] == [
            str(t.trouble) for t in review.troubles
        ]
        assert [n["card"] for n in pupil["notes"]] == [n.card.id for n in review.notes]
        assert [n["seconds"] and n["seconds"]["value"] for n in pupil["notes"]] == [
            n.seconds and n.seconds.value for n in review.notes
        ]


def test_the_terminal_names_the_trouble_first_and_shows_every_note(reviewed_studio):
    _, studio = reviewed_studio(0)
    wren = next(review for review in studio.pupils if review.nickname == "Wren")
    lines = list(pupil_lines(wren))
    assert lines[3].startswith("Clef confusion.")
    for note in wren.notes:
        name = note.name.replace(" clef)", ")")
        assert sum(line.startswith(name + "  ") for line in lines) == 2


def test_the_terminal_names_every_pupil_and_trouble(reviewed_studio):
    _, studio = reviewed_studio(0)
    text = "\n".join(studio_lines(studio))
    for review in studio.pupils:
        assert f"\n{review.nickname}" in text
        assert all(str(trouble.trouble) in text for trouble in review.troubles[:1])


def test_the_terminal_is_read_without_colour_and_without_a_wide_window(reviewed_studio):
    _, studio = reviewed_studio(0)
    lines = [line for review in studio.pupils for line in pupil_lines(review)]
    lines += studio_lines(studio)
    assert "\x1b" not in "".join(lines)
    assert "".join(lines).isascii()
    assert max(map(len, lines)) <= 80


def test_a_pupil_without_a_session_is_told_so_in_every_form(notebook):
    review = notebook.review()
    assert "No session yet." in list(pupil_lines(review))
    assert "No note has been answered yet." in list(pupil_lines(review))
    assert json.loads(json_of([review]))[0]["last_session"] is None
    assert ",,," in csv_of([review])


def test_wide_letters_keep_the_columns_of_the_terminal_in_line(reviewed_studio):
    """A wide letter takes two columns (Unicode Standard Annex 11)."""
    _, studio = reviewed_studio(0)
    first, *others = studio.pupils
    wide = replace(studio, pupils=(replace(first, nickname="楽" * 4), *others))
    named = replace(studio, pupils=(replace(first, nickname="A" * 8), *others))
    line = next(line for line in studio_lines(wide) if line.startswith("楽"))
    plain = next(line for line in studio_lines(named) if line.startswith("AAAA"))
    assert line.removeprefix("楽" * 4) == plain.removeprefix("A" * 8)
