"""Whatever a builder answers within reason: the first files build, and measure as answered."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.first_evening import first_answers
from planform.design.first_files import DESIGN, PLACE, begun
from planform.design.first_questions import GEARS, QUESTIONS
from planform.design.notation import read
from planform.study.sound import refusals

UNITS = {"ft-in": ("in", 0.0254), "in": ("in", 0.0254), "mm": ("mm", 0.001), "m": ("m", 1.0)}


FACTORS = st.floats(0.75, 1.35)


@st.composite
def answered(draw):
    """Some answers: lengths about what is usual, angles anywhere within their bounds."""
    system = draw(st.sampled_from(list(UNITS)))
    unit, size = UNITS[system]
    taken = first_answers({}, system)
    answers = {}
    for question in QUESTIONS:
        if not draw(st.booleans()):
            continue
        if question.kind == "choice":
            answers[question.key] = draw(st.sampled_from(GEARS))
        elif question.kind == "angle":
            low, high = (float(end.split()[0]) for end in (question.least, question.most))
            answers[question.key] = f"{draw(st.floats(low, high)):.1f} deg"
        elif question.kind == "length":
            nought = question.least == "0 m" and draw(st.integers(0, 4)) == 0
            value = 0.0 if nought else taken[question.key] * draw(FACTORS)
            answers[question.key] = f"{value / size:.4f} {unit}"
    return answers, system


def told(answers, system):
    """The files, or what does not go together."""
    try:
        return begun(answers, system), ()
    except pf.InputError as error:
        return None, error.problems


@settings(max_examples=80, deadline=None)
@given(answered())
def test_answers_that_are_taken_build_and_measure_as_answered(both):
    answers, system = both
    texts, problems = told(answers, system)
    assert all(problem.path in answers for problem in problems)
    if texts is None:
        event("told what does not go together")
        return
    event("written")
    with tempfile.TemporaryDirectory() as folder:
        for name, text in texts.items():
            Path(folder, name).write_text(text, encoding="utf-8")
        design = pf.load(Path(folder, DESIGN))
        place = pf.load_place(Path(folder, PLACE))
    assert not refusals(design)
    standing = pf.stand(pf.build(design))
    if "span" in answers:
        wanted = float(read(answers["span"], "length"))
        assert pf.design_measures(standing.airframe)["wing.span"] == pytest.approx(wanted, abs=1e-5)
    if "door_width" in answers:
        wanted = float(read(answers["door_width"], "length"))
        assert float(place.doors[0].clear_width) == pytest.approx(wanted, abs=1e-6)
    hull = next(p for p in standing.parts if p.name == "hull")
    low = min(c.support for c in standing.settled.contacts)
    assert low == 0.0
    if "stands" in answers:
        wanted = float(read(answers["stands"], "length"))
        assert hull.points[:, 2].min() == pytest.approx(wanted, abs=0.02)
