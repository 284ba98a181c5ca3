"""The questions for parents before the first lesson: one HTML page, to print or to fill in."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from importlib import resources

from drills.beginnings.question import NOT_SEEN, questions

_HEAD = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy"
 content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Before the first lesson</title><style>"""
_INTRODUCTION = """</style></head><body>
<h1>Before the first lesson</h1>
<p>These few questions tell your child's piano teacher where to begin. There are no right answers,
and “I don't know” is a good one. Fill the page in on the screen and print or save it, or print it
and use a pencil. Nothing is sent anywhere. Please use a nickname.</p>
<form><p class="who"><label>Nickname <input name="nickname" maxlength="24" autocomplete="off">
</label> <label>Date <input name="date" type="text" autocomplete="off"></label></p>
"""
_END = """</form>
<p class="teacher">For the teacher: each answer is set on the page of
<code>landmark-drills beginnings</code>, in the same order.</p>
<script>
// Keeps what is filled in when the browser saves the page as a file.
document.addEventListener("input", ({target}) => {
  if (target.type === "radio") {
    document.getElementsByName(target.name).forEach((each) =>
      each.toggleAttribute("checked", each.checked));
  } else {
    target.setAttribute("value", target.value);
  }
});
</script></body></html>
"""
_FOR_PARENTS = {"not-yet": "not yet", NOT_SEEN: "I don't know"}


def parents_sheet() -> str:
    """Give the page, complete in itself, on one sheet of A4 or Letter."""
    style = resources.files("drills.beginnings").joinpath("sheet.css").read_text("utf-8")
    return f"{_HEAD}{style}{_INTRODUCTION}{''.join(_fields())}{_END}"


def _fields() -> Iterator[str]:
    for name, question in questions().items():
        choices = "".join(
            f'<label><input type="radio" name="{name}" value="{answer}">'
            f"{escape(_FOR_PARENTS.get(answer, question.words(answer)))}</label> "
            for answer in question.options
        )
        yield f"<fieldset><legend>{escape(question.parents)}</legend>{choices}</fieldset>\n"
