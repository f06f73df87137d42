"""The questions of a first evening as a form that needs no scripts."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape

from starlette.responses import Response

from planform.design.fields import UnitSystem
from planform.design.first_evening import first_answers, usual
from planform.design.first_questions import GROUPS, QUESTIONS, FirstQuestion
from planform.design.problems import InputError, Problem
from planform.design.units import SYSTEMS
from planform.report.seen.page import built

UNITS = "units"
"""The one field of the form that is no question."""

LEAD = (
    "What can be measured in ten minutes. What you leave empty is taken as it stands in grey, "
    "which follows from the rest, and marked as taken in the files with how to measure it. Write "
    "lengths with their units: 26 ft 8 in ± 1/4 in, 8130 mm."
)


def form(answers: Mapping[str, str], system: UnitSystem, problems: tuple[Problem, ...]) -> str:
    """The questions as a form, with what was answered and what of it cannot be."""
    by_key: dict[str, list[str]] = {}
    for problem in problems:
        by_key.setdefault(problem.path, []).append(str(problem))
    keys = {question.key for question in QUESTIONS}
    apart = [text for key, texts in by_key.items() if key not in keys for text in texts]
    told = "".join(f"<li>{escape(text)}</li>" for text in apart)
    count = len(problems)
    some = "One answer cannot" if count == 1 else f"{count} answers cannot"
    head = f"{some} be so; each is told at its question."
    summary = f'<div class="wrong" role="alert"><p>{head}</p><ul>{told}</ul></div>' if count else ""
    options = "".join(
        f"<option{' selected' if one == system else ''}>{one}</option>" for one in SYSTEMS
    )
    units = (
        '<p><label for="units">your tape reads</label>'
        f'<select id="units" name="{UNITS}">{options}</select></p>'
    )
    taken = _taken(answers, system)
    groups = "".join(
        f"<fieldset><legend>{escape(group)}</legend>"
        + "".join(
            _field(question, answers.get(question.key, ""), taken[question.key], by_key)
            for question in QUESTIONS
            if question.group == group
        )
        + "</fieldset>"
        for group in GROUPS
    )
    return (
        f"<h1>The first evening</h1><p>{escape(LEAD)}</p>{summary}"
        f'<form method="post" action="./">{units}{groups}<button>Build it</button></form>'
    )


def _taken(answers: Mapping[str, str], system: UnitSystem) -> dict[str, str]:
    """What is taken for each question, as far as the answers are good."""
    try:
        first = first_answers(answers, system)
    except InputError:
        first = first_answers({}, system)
    return {q.key: usual(q, first.sizes, first.words, first.metric) for q in QUESTIONS}


def _field(question: FirstQuestion, text: str, taken: str, wrong: Mapping[str, list[str]]) -> str:
    """One question with its answer."""
    key, lines = question.key, wrong.get(question.key, [])
    told = f'<span class="no" id="no-{key}">{escape("; ".join(lines))}</span>' if lines else ""
    how = f'<span class="how" id="how-{key}">{escape(question.how)}</span>' if question.how else ""
    ids = " ".join(f"{name}-{key}" for name, there in (("no", told), ("how", how)) if there)
    marks = f' aria-describedby="{ids}"' * bool(ids) + ' aria-invalid="true"' * bool(lines)
    if question.choices:
        options = "".join(
            f"<option{' selected' if one == (text or taken) else ''}>{escape(one)}</option>"
            for one in question.choices
        )
        box = f'<select id="{key}" name="{key}"{marks}>{options}</select>'
    else:
        box = (
            f'<input id="{key}" name="{key}" value="{escape(text)}" '
            f'placeholder="{escape(taken)}" autocomplete="off"{marks}>'
        )
    return f'<p><label for="{key}">{escape(question.words)}</label>{box}{told}{how}</p>'


STYLE = """
body { max-width: 46rem; margin: 0 auto; padding: 1rem 1rem 4rem; }
fieldset { border: 1px solid #d8d2c4; margin: 1.2rem 0; padding: .4rem 1rem 1rem; }
legend { font-weight: 700; padding: 0 .4rem; }
form p { display: grid; grid-template-columns: 1fr 12rem; gap: .15rem 1rem; margin: .8rem 0;
  align-items: baseline; }
input, select, button { font: inherit; padding: .5rem; min-height: 2.6rem; width: 100%;
  color: #22343c; background: #fff; border: 1px solid #5d6b70; border-radius: 3px; }
input::placeholder { color: #6b7579; opacity: 1; }
[aria-invalid] { border: 2px solid #9c3019; }
.how, .no { grid-column: 1 / -1; font-size: .88rem; color: #5d6b70; }
.no { color: #9c3019; font-weight: 600; }
.wrong { border: 2px solid #9c3019; padding: .2rem 1rem; }
button { background: #1f5f4d; color: #fff; font-weight: 700; border-color: #1f5f4d; }
@media (max-width: 34rem) { form p { grid-template-columns: 1fr; } }
"""


def form_page(inner: str, status: int = 200) -> Response:
    """A whole page; its address is told to this server, which asks where a form comes from."""
    text = (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="referrer" content="same-origin">'
        '<link rel="icon" href="data:,">'
        f"<title>The first evening</title><style>{built('page.css')}{STYLE}</style></head>"
        f"<body><main>{inner}</main></body></html>\n"
    )
    return Response(text, status, media_type="text/html")
