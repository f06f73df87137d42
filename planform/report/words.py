"""Values in the reader's units, and the cautions that stand on every sheet."""

from __future__ import annotations

from planform.design.units import show

CAUTIONS = (
    "Planning aid only. Structure, loads and airworthiness are the designer's and a licensed "
    "person's to judge; nothing here approves a flight.",
    "Weights given here plan a lift. A weight and balance record is made by weighing, by a person "
    "entitled to sign it.",
    "Before lifting or blocking: chock, support the tail, keep hands and heads out from under, and "
    "never trust a single jack or hoist.",
    "Measure the door opening again on the day, doors fully open, and put a walker at each tip, "
    "the nose and the propeller; one word stops all.",
    "Open canopies and doors fall: pin the struts. Stand ladders on level ground. Look up for "
    "lines and lamps before anything tall goes outside.",
    "Local building, fire and electrical codes come first, whatever a clearance here says.",
)


def plain_kind(kind: str) -> str:
    """The kind of quantity behind a measure's kind: a station is a length."""
    return "length" if kind == "station" else kind


def said(value: float, kind: str, system: str) -> str:
    """A value as text; a station is named as one and stays in inches or millimetres."""
    if kind == "station":
        unit = "in" if system in ("ft-in", "in") else "mm"
        return f"FS {show(value, 'length', unit)}"
    return show(value, kind, system)


def plus_minus(value: float, kind: str, system: str) -> str:
    """A tolerance as text, finer than the values themselves; empty where there is none."""
    if value <= 0.0 or (kind in ("length", "station") and value < 1e-4):
        return ""
    if kind == "angle":
        return f"± {value * 57.29577951308232:.2f}°"
    if kind in ("length", "station"):
        if system in ("ft-in", "in"):
            return f"± {value / 0.0254:.2f} in"
        return f"± {value * 1000.0:.1f} mm"
    if kind == "area":
        return (
            f"± {value / 0.09290304:.2f} ft2" if system in ("ft-in", "in") else f"± {value:.3f} m2"
        )
    return f"± {value:.3f}"
