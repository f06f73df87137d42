"""The commented design and place files of a first evening, from templates beside the starters."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files
from string import Template

from planform.design.fields import UnitSystem
from planform.design.first_evening import PROPELLER_DEPTH, SHAFT, First, first_answers
from planform.design.first_questions import QUESTIONS, TAIL_WHEEL, FirstQuestion
from planform.design.starter import FILES
from planform.design.units import INCH

DESIGN, PLACE = FILES

HALVES = ("span", "foreplane_span", "width", "track")
"""Answers of which the files hold the half."""

SHAPE = (
    (0.0, 0.06, 0.36, 0.46, 2.0),
    (0.14, 0.58, 0.12, 0.72, 2.4),
    (0.36, 1.0, 0.0, 1.0, 2.6),
    (0.66, 0.98, 0.02, 0.98, 2.6),
    (1.0, 0.45, 0.36, 0.86, 2.2),
)
"""A plain body from nose to aft end: share of its length, of its half-width, underside and top as
shares of its depth, boxiness; assumption."""


def begun(answers: Mapping[str, str], system: UnitSystem) -> dict[str, str]:
    """The texts of a design and a place file, by their names.

    answers : texts by the keys of `first_questions`, as builders write them; what is missing is
        taken ; system : of the files
    Raises InputError with every answer that cannot be, and with those that do not go together.
    """
    first = first_answers(answers, system)
    filled = _values(first)
    kinds = {"foreplane": "foreplane_span", "winglet": "winglet_length", "propeller": "propeller"}
    pieces = [
        kind
        for kind in ("head", "wing", "foreplane", "winglet", "hull", "propeller", "wheels")
        if kind not in kinds or first[kinds[kind]]
    ]
    design = "\n".join(_filled(kind, filled) for kind in pieces)
    return {DESIGN: design, PLACE: _filled("place", filled)}


def _filled(kind: str, values: Mapping[str, str]) -> str:
    named = files("planform.design").joinpath("starter", f"first-{kind}.toml")
    return Template(named.read_text(encoding="utf-8")).substitute(values)


def _values(first: First) -> dict[str, str]:
    """What stands in the templates, by name."""
    small = "tail" if first.words["gear"] == TAIL_WHEEL else "nose"
    out = {
        "name": _quoted(first.words["name"]),
        "units": first.system,
        "small": small,
        "to_measure": _to_measure(first),
        "hull_cuts": _hull_cuts(first),
        "early": _early(first),
    }
    for question in QUESTIONS:
        if question.key in first.sizes:
            out[question.key] = _given(first, question.key)
            out[f"about_{question.key}"] = _about(first, question)
    for key in HALVES:
        out[f"half_{key}"] = _half(first, key)
    return out | {name: _taken(first, size) for name, size in _sizes(first, small).items()}


def _sizes(first: First, small: str) -> dict[str, float]:
    """Lengths that nobody was asked for [m], by their names in the templates."""
    g, floor = first, -first["stands"]
    little = (0.5 if small == "tail" else 0.72) * g["tyre"]
    leg = min(0.35 * g["width"], 0.5 * g["track"])
    return {
        "foreplane_wl": 0.62 * g["depth"],
        "foreplane_tip": 0.85 * g["foreplane_chord"],
        "winglet_root": 0.9 * g["tip_chord"],
        "winglet_tip": 0.5 * g["tip_chord"],
        "disc_fs": g["length"] - 0.5 * PROPELLER_DEPTH,
        "shaft_wl": SHAFT * g["depth"],
        "propeller_depth": PROPELLER_DEPTH,
        "small_wl": floor + 0.5 * little,
        "small_tyre": little,
        "small_width": 0.36 * little,
        "small_leg_wl": 0.45 * g["depth"],
        "main_wl": floor + 0.5 * g["tyre"],
        "main_width": 0.36 * g["tyre"],
        "main_leg_bl": leg,
        "main_leg_wl": 0.3 * g["depth"],
        "leg": 1.5 * INCH,
        "block": 4.0 * INCH,
        "door_corner": 0.5 * (g["floor_width"] - g["door_width"]),
        "keep_wide": 6.0 * INCH,
        "keep": 3.0 * INCH,
        "spot_x": 0.5 * g["floor_width"],
        "spot_y": 0.5 * (g["floor_depth"] - g["length"]) + g["main_axle_at"],
    }


def _hull_cuts(first: First) -> str:
    end, wide, deep = first.body_end, first["width"], first["depth"]
    lines = []
    for along, across, low, high, boxy in SHAPE:
        half = _half(first, "width") if across == 1.0 else _taken(first, 0.5 * across * wide)
        top = _given(first, "depth") if high == 1.0 else _taken(first, high * deep)
        lines.append(
            f"  {{ fs = {_taken(first, along * end)}, half_width = {half}, "
            f"bottom = {_taken(first, low * deep)}, top = {top}, boxiness = {boxy} }},"
        )
    return "\n".join(lines)


def _early(first: First) -> str:
    """The stage before the last, where something comes off."""
    there = {"winglet": first["winglet_length"], "propeller": first["propeller"]}
    off = [name for name, size in there.items() if size]
    if not off:
        return ""
    listed = ", ".join(map(_quoted, off))
    name = _quoted(f"{' and '.join(off)} off")
    return f'[[stages]]\nname = {name}\nwithout = [{listed}]\nstance = "gear"\n'


def _to_measure(first: First) -> str:
    """What was taken, each with how to measure it, as comments."""
    left = [q for q in QUESTIONS if q.key not in first.answered and q.how]
    if not left:
        return "#\n# All that was asked was measured."
    lines = [f"#   {q.words}: {q.how}" for q in left]
    return "\n".join(("#", "# Taken, and to be measured next:", *lines))


def _about(first: First, question: FirstQuestion) -> str:
    """What a value is; where it was taken, how to measure it."""
    if question.key in first.answered:
        return question.words
    return f"{question.words}. TAKEN; to measure it: {question.how}"


def _given(first: First, key: str) -> str:
    """An answer as it was given, or what was taken for it."""
    reading = first.sizes[key]
    if key not in first.answered:
        return _quoted(f"{reading.text} (assumed)")
    return _quoted(reading.text if reading.source else f"{reading.text} (measured)")


def _half(first: First, key: str) -> str:
    """Half of an answer, with half its tolerance."""
    reading = first.sizes[key]
    band = f" ± {_size(first, reading.tolerance / 2.0)}" if reading.tolerance else ""
    source = (reading.source or "measured") if key in first.answered else "assumed"
    return f'"{_size(first, float(reading) / 2.0)}{band} ({source})"'


def _taken(first: First, metres: float) -> str:
    """A length that nobody gave."""
    return f'"{_size(first, metres)} (assumed)"'


def _size(first: First, metres: float) -> str:
    """A length in the file's unit, to a tenth of a millimetre or a hundredth of an inch."""
    size = round(metres * 1000.0, 2) if first.metric else round(metres / INCH, 4)
    return f"{size + 0.0:.10g} {'mm' if first.metric else 'in'}"


def _quoted(text: str) -> str:
    """A text as TOML writes it; what JSON escapes, TOML does alike."""
    return json.dumps(text, ensure_ascii=False)
