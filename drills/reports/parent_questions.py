"""The questions for parents before the first lesson: one HTML page, to print or to fill in."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from importlib import resources

from drills.learning.prior_knowledge.question import NOT_SEEN, Question, questions
from landmarks.translation import _, language, noted

_HEAD = """<!DOCTYPE html>
<html lang="{language}"><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy"
 content="default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title><style>"""
_BEGINNING = """</style></head><body>
<h1>{title}</h1>
<p>{introduction}</p>
<form><p class="who"><label>{nickname} <input name="nickname" maxlength="24" autocomplete="off">
</label> <label>{date} <input name="date" type="text" autocomplete="off"></label></p>
"""
_TITLE = noted("Before the first lesson")
_INTRODUCTION = noted(
    "These few questions tell your child's piano teacher where to begin. There are no right "
    "answers, and “I don't know” is a good one. Fill the page in on the screen and print or save "
    "it, or print it and use a pencil. Nothing is sent anywhere. Please use a nickname."
)
_FOR_THE_TEACHER = noted(
    "For the teacher: each answer is set on the page of {command}, in the same order."
)
_END = """</form>
<p class="teacher">{for_the_teacher}</p>
"""
_SCRIPT = """<script>
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
_FOR_PARENTS = {"not-yet": noted("not yet"), NOT_SEEN: noted("I don't know")}


def parents_sheet() -> str:
    """Give the page, complete in itself, on one sheet of A4 or Letter."""
    style = resources.files("drills.reports").joinpath("parent_questions.css").read_text("utf-8")
    title = escape(_(_TITLE))
    head = _HEAD.format(language=language(), title=title)
    beginning = _BEGINNING.format(
        title=title, introduction=escape(_(_INTRODUCTION), quote=False),
        nickname=escape(_("Nickname")), date=escape(_("Date")),
    )  # fmt: skip
    command = "<code>landmark-drills beginnings</code>"
    end = _END.format(for_the_teacher=escape(_(_FOR_THE_TEACHER)).format(command=command))
    return f"{head}{style}{beginning}{''.join(_fields())}{end}{_SCRIPT}"


def _fields() -> Iterator[str]:
    for name, question in questions().items():
        choices = "".join(
            f'<label><input type="radio" name="{name}" value="{answer}">'
            f"{escape(_words(question, answer))}</label> "
            for answer in question.options
        )
        yield f"<fieldset><legend>{escape(_(question.parents))}</legend>{choices}</fieldset>\n"


def _words(question: Question, answer: str) -> str:
    common = _FOR_PARENTS.get(answer)
    return question.words(answer) if common is None else _(common)
