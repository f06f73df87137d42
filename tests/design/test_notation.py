"""What builders write is read exactly or refused with the way to write it."""

from __future__ import annotations

import copy
import json
import math
import pickle
import time
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.notation import ALLOWED, NotationError, read
from planform.design.reading import Reading

NBSP, THIN, NARROW = "\u00a0", "\u2009", "\u202f"


def inches(number: str) -> float:
    """Inches, as whole and fraction, in metres, rounded once."""
    return float(sum(map(Fraction, number.split())) * Fraction("0.0254"))


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("11'-4 1/2\"", "136 1/2"),
        ("11 ft 4 1/2 in", "136 1/2"),
        ("11' 4.5\"", "136.5"),
        ("11'4\"", "136"),
        ("11' - 4\"", "136"),
        ("11'-0 1/16\"", "132 1/16"),
        ("136 1/2 in", "136 1/2"),
        ('136.5"', "136.5"),
        ("136.5''", "136.5"),
        ("3/8 in", "3/8"),
        ('4-1/2"', "4 1/2"),
        ("11 ft 4-1/2 in", "136 1/2"),
        ('5/16"', "5/16"),
        (".5 in.", "0.5"),
        ("11.5 ft", "138"),
        ("11 FT 4 IN", "136"),
        ("FS 142.5 in", "142.5"),
        ("FS -3 in", "-3"),
        ("BL 55.5 in L", "-55.5"),
        ("BL 55.5 in R", "55.5"),
        ("BL 55.5 in", "55.5"),
        ("BL -55.5 in", "-55.5"),
        ("BL 4'-7 1/2\" L", "-55 -1/2"),
        ('bl 55.5" left', "-55.5"),
        ("WL 20 in", "20"),
        ("-12 in", "-12"),
        ("- 12 in", "-12"),
        ("+12 in", "12"),
        ("-11'-4\"", "-136"),
        ("\u221211\u2032\u20114\u00bd\u2033", "-136 -1/2"),
        ("11\u2019 4\u00bd\u201d", "136 1/2"),
        ("\u00bc in", "1/4"),
        ("2\u00be in", "2 3/4"),
        ("4 \u215b in", "4 1/8"),
        ("4-\u215d in", "4 5/8"),
        ("4 1\u20442 in", "4 1/2"),
        (f"11{NBSP}ft{THIN}4{NARROW}1/2{NBSP}in", "136 1/2"),
        ("  12   in ", "12"),
        ("FS 92 1/2 in", "92 1/2"),
        ("FS 92-1/2 in", "92 1/2"),
        ("FS 92\u00bd\u2033", "92 1/2"),
        ("BL 12 1/2 in L", "-12 -1/2"),
        ("LBL 12 1/2 in", "-12 -1/2"),
        ("RBL 3 ft 6", "42"),
        ("BL 3 ft 6 L", "-42"),
        ("FS 7 ft 8 1/2", "92 1/2"),
        ("3 ft 6", "42"),
        ("3' 6", "42"),
        ("-3 ft 6 1/2", "-42 -1/2"),
        ("11'-4 1/2", "136 1/2"),
        ("3 ft 0", "36"),
        ("0", "0"),
        ("-0.00", "0"),
        ("FS 0", "0"),
        ("BL 0 L", "0"),
    ],
)
def test_feet_and_inches(text: str, number: str) -> None:
    reading = read(text, "length")
    assert float(reading) == inches(number)
    assert (reading.tolerance, reading.source, reading.text) == (0.0, None, text)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("1.25 m", "length", 1.25),
        ("1250 mm", "length", 1.25),
        ("12 cm", "length", 0.12),
        ("12cm", "length", 0.12),
        ("2.5 deg", "angle", math.radians(2.5)),
        ("2.5°", "angle", math.radians(2.5)),
        ("-2.5°", "angle", math.radians(-2.5)),
        ("2° 30'", "angle", math.radians(2.5)),
        ("2°30\u2032", "angle", math.radians(2.5)),
        ("2 deg 30 min", "angle", math.radians(2.5)),
        ("2° 30' 15\"", "angle", math.radians(2 + 1815 / 3600)),
        ("-2° 30' 15.5''", "angle", -math.radians(2 + 1815.5 / 3600)),
        ("1 rad", "angle", 1.0),
        ("1854 lb", "mass", 1854 * 0.45359237),
        ("8 oz", "mass", 0.45359237 / 2),
        ("396 kg", "mass", 396.0),
        ("60 gal (US)", "volume", 60 * 0.003785411784),
        ("60 US gal", "volume", 60 * 0.003785411784),
        ("5 gal(imp)", "volume", 5 * 0.00454609),
        ("20 L", "volume", 0.02),
        ("6 lb/gal (US)", "density", 6 * 0.45359237 / 0.003785411784),
        ("0.72 kg/L", "density", 720.0),
        ("0.72 g/cm³", "density", 720.0),
        ("300 g/m2", "area_density", 0.3),
        ("300 g / m^2", "area_density", 0.3),
        ("9 oz/yd²", "area_density", 9 * 0.45359237 / 16 / 0.9144**2),
    ],
)
def test_other_units(text: str, kind: str, value: float) -> None:
    reading = read(text, kind)
    assert float(reading) == pytest.approx(value, rel=4e-16, abs=0)
    assert reading.kind == kind


@pytest.mark.parametrize("given", [0, 0.0, -0.0, "0", "0.0", "-0"])
@pytest.mark.parametrize("kind", list(ALLOWED))
def test_zero_needs_no_unit(given: object, kind: str) -> None:
    reading = read(given, kind)
    assert (float(reading), reading.tolerance, reading.kind) == (0.0, 0.0, kind)
    assert math.copysign(1.0, reading) == 1.0
    assert float(read(reading.text, kind)) == 0.0


def test_zero_has_a_tolerance_with_its_unit() -> None:
    assert read("0 ± 1/8 in (measured)", "length").tolerance == inches("1/8")
    with pytest.raises(NotationError, match="no unit; write 1/8 in"):
        read("0 ± 1/8", "length")


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("inboard 4 deg 30'", -4.5),
        ("4 deg 30 min inboard", -4.5),
        ("leaning inboard 4\u00b0 ± 0.25 deg (measured)", -4.0),
        ("Outboard 10 deg", 10.0),
        ("inboard 0", 0.0),
        ("-4 deg 30'", -4.5),
    ],
)
def test_a_cant_may_say_which_way_it_leans(text: str, degrees: float) -> None:
    assert float(read(text, "angle", leans=True)) == pytest.approx(math.radians(degrees), rel=4e-16)


@pytest.mark.parametrize(
    ("text", "allowed"),
    [
        ("-4 deg inboard", "a sign and inboard are two signs; write 4 deg inboard"),
        ("outboard +4 deg", "a sign and outboard are two signs; write 4 deg outboard"),
        ("inboard", ALLOWED["angle"]),
        ("inboard 4 deg outboard", ALLOWED["angle"]),
        ("inboard 4", "no unit; write 4 deg"),
    ],
)
def test_a_cant_has_one_sense(text: str, allowed: str) -> None:
    with pytest.raises(NotationError) as caught:
        read(text, "angle", leans=True)
    assert allowed in caught.value.allowed


@given(
    degrees=st.integers(0, 80), minutes=st.integers(0, 59), word=st.sampled_from(["in", "out"]),
    form=st.sampled_from(["{w}board {d} deg {m}'", "{d}° {m}′ {w}board", "{w}board {d}° {m} min"]),
)  # fmt: skip
def test_degrees_and_minutes_lean_as_their_sign(
    degrees: int, minutes: int, word: str, form: str
) -> None:
    sign = "-" if word == "in" else ""
    text = form.format(w=word, d=degrees, m=minutes)
    plain = read(f"{sign}{degrees}° {minutes}'", "angle")
    assert float(read(text, "angle", leans=True)) == float(plain)


@given(
    feet=st.integers(0, 40), whole=st.integers(0, 11), eighths=st.integers(0, 7),
    name=st.sampled_from(["FS ", "WL ", "BL ", ""]), mark=st.sampled_from(["", " in", '"']),
    joint=st.sampled_from([" ft ", "' ", "'-", "'"]), dash=st.booleans(),
)  # fmt: skip
def test_mixed_forms_of_one_length_are_one_length(
    feet: int, whole: int, eighths: int, name: str, mark: str, joint: str, dash: bool
) -> None:
    part = f"{'-' if dash else ' '}{Fraction(eighths, 8)}" if eighths else ""
    all_inches = Fraction(12 * feet + whole) + Fraction(eighths, 8)
    both, rest = divmod(all_inches, 1)
    exact = float(all_inches * Fraction("0.0254"))
    assert float(read(f"{name}{feet}{joint}{whole}{part}{mark}", "length")) == exact
    assert float(read(f"{name}{both} {rest} in" if rest else f"{name}{both} in", "length")) == exact


@pytest.mark.parametrize("text", ["-0 in", "BL 0 in L"])
def test_no_negative_zero(text: str) -> None:
    assert math.copysign(1.0, read(text, "length")) == 1.0


@pytest.mark.parametrize(
    ("text", "kind", "value", "tolerance", "source"),
    [
        ("174 in ± 1/8 in (measured)", "length", inches("174"), inches("1/8"), "measured"),
        ("174 in +/- 1/8 in", "length", inches("174"), inches("1/8"), None),
        ("174 in ±\u215b\u2033(Drawing)", "length", inches("174"), inches("1/8"), "drawing"),
        ("174 in (assumed)", "length", inches("174"), 0.0, "assumed"),
        ("BL 55.5 in L ± 3 mm", "length", -inches("55.5"), 0.003, None),
        ("-11'-4\" ± 0 in", "length", -inches("136"), 0.0, None),
        ("2° 30' ± 0.1 deg", "angle", math.radians(2.5), math.radians(0.1), None),
        (
            "60 gal (US) ± 2 L (measured)",
            "volume",
            60 * 0.003785411784,
            0.002,
            "measured",
        ),
        ("5 gal (imp) ± 1 gal (imp)", "volume", 5 * 0.00454609, 0.00454609, None),
        ("8 qt (US)", "volume", 2 * 0.003785411784, 0.0, None),
        ("8 qt (imp)", "volume", 2 * 0.00454609, 0.0, None),
        ("720 g/L", "density", 720.0, 0.0, None),
        ("0.72 g/cm3", "density", 720.0, 0.0, None),
        ("0.72 g/mL", "density", 720.0, 0.0, None),
    ],
)
def test_tolerance_and_source(
    text: str, kind: str, value: float, tolerance: float, source: str | None
) -> None:
    reading = read(text, kind)
    assert float(reading) == pytest.approx(value, rel=4e-16)
    assert reading.tolerance == pytest.approx(tolerance, rel=4e-16)
    assert reading.source == source


@pytest.mark.parametrize(
    ("given", "kind", "allowed"),
    [
        (12, "length", "no unit; write 12 in or 12 mm"),
        (80.0, "angle", "no unit; write 80.0 deg or 80.0 rad"),
        ("12", "length", "no unit; write 12 in or 12 mm"),
        ("4 1/2", "length", "no unit; write 4 1/2 in"),
        ("FS 142.5", "length", "no unit; write FS 142.5 in or FS 142.5 mm"),
        ("FS 92-1/2", "length", "no unit; write FS 92-1/2 in"),
        ("BL 12 1/2 L", "length", "no unit; write 12 1/2 in"),
        ("LBL 12 in R", "length", "two sides; write BL 55.5 in L"),
        ("LBL -12 in", "length", "two signs"),
        ("12,5 mm", "length", "write 12.5 mm or 125 mm"),
        ("12,5", "length", "write 12.5 in or 125 in"),
        ("1,250 mm", "length", "write 1.250 mm or 1250 mm"),
        ("1.250,5 m", "length", "a comma in a number; write 1250.5 m"),
        ("1,250.5 m", "length", "a comma in a number; write 1250.5 m"),
        ("1,250,000 mm", "length", "a comma in a number; write 1250000 mm"),
        (math.nan, "length", "not a finite number"),
        (math.inf, "mass", "not a finite number"),
        ("NaN", "length", "not a finite number"),
        ("-inf m", "length", "not a finite number"),
        ("#REF!", "length", "a spreadsheet error"),
        ("#DIV/0!", "mass", "a spreadsheet error"),
        (True, "length", ALLOWED["length"]),
        (None, "angle", ALLOWED["angle"]),
        ([1], "mass", ALLOWED["mass"]),
        ("", "length", "nothing is written"),
        (" \u00a0", "length", "nothing is written"),
        ("± 1/8 in", "length", "nothing is written"),
        ("60 gal", "volume", "which gallon? write 60 gal (US) or 60 gal (imp)"),
        ("9 qt", "volume", "which quart? write 9 qt (US) or 9 qt (imp)"),
        ("9 quarts", "volume", "which quart? write 9 qt (US) or 9 qt (imp)"),
        ("1.9 lb/qt", "density", "which quart? write 1.9 lb/qt (US) or 1.9 lb/qt (imp)"),
        ("6 lb/gal", "density", "which gallon? write 6 lb/gal (US) or 6 lb/gal (imp)"),
        ("8 kg", "length", "kg is a unit of mass; allowed: a length"),
        ("20 L", "length", "L is a unit of volume"),
        ("3 in", "angle", "in is a unit of length"),
        ("1854 lbf", "mass", "lbf is a unit of force; allowed: a mass"),
        ("--12 in", "length", "two signs"),
        ("+-12 in", "length", "two signs"),
        ("\u2212 -12 in", "length", "two signs"),
        ("BL -55.5 in L", "length", "two signs"),
        ("FS 12 in L", "length", "only a butt line has a side"),
        ("55.5 in L", "length", ALLOWED["length"]),
        ("5/0 in", "length", "divides by zero"),
        ("4 9/8 in", "length", "9/8 is not less than one; if that is meant, write 5 1/8"),
        ("8/4 in", "length", "8/4 is not less than one; if that is meant, write 2"),
        ("5 ft 14 in", "length", "below 12; if that is meant, write 6 ft 2 in"),
        ("5 ft 14 1/2 in", "length", "write 6 ft 2 1/2 in"),
        ("5.5 ft 3 in", "length", "feet in front of inches are whole"),
        ("3.5 ft 6", "length", "feet in front of inches are whole"),
        ("3 ft 14", "length", "below 12; if that is meant, write 4 ft 2 in"),
        ("3 ft 6 mm", "length", ALLOWED["length"]),
        ("4 deg 30", "angle", ALLOWED["angle"]),
        ("inboard 4 deg", "angle", "this angle is not one outboard or inboard; write 4 deg or -4"),
        ("2° 60'", "angle", "below 60"),
        ("2.5° 30'", "angle", "only the last part may have decimals"),
        ("2° 30.5' 15\"", "angle", "only the last part may have decimals"),
        ("174 in ± 1/8", "length", "no unit; write 1/8 in"),
        ("174 in ± -1/8 in", "length", "a tolerance has no sign"),
        ("174 in ± 1 kg", "length", "kg is a unit of mass"),
        ("174 in ± nan in", "length", "not a finite number"),
        ("174 in ± 1 in ± 2 in", "length", "one tolerance"),
        ("174 in ±", "length", "nothing is written"),
        ("174 in (guessed)", "length", "in parentheses: drawing, measured, assumed"),
        ("1 250 mm", "length", ALLOWED["length"]),
        ("12. mm", "length", ALLOWED["length"]),
        ("1e3 mm", "length", ALLOWED["length"]),
        ("3 m + 2 m", "length", ALLOWED["length"]),
        ("\u00bd5 in", "length", ALLOWED["length"]),
        ("\u0661\u0662 in", "length", ALLOWED["length"]),
        ("9**9**8 m", "length", ALLOWED["length"]),
        ("9" * 81 + " m", "length", "too long: at most 80 characters"),
        (10**5000, "length", "no unit; write a very large number in"),
    ],
    ids=lambda case: str(case)[:30] if isinstance(case, str) else type(case).__name__,
)
def test_refused(given: object, kind: str, allowed: str) -> None:
    with pytest.raises(NotationError) as caught:
        read(given, kind)
    assert allowed in caught.value.allowed
    assert str(caught.value) == f"given {caught.value.given}; {caught.value.allowed}"
    assert len(caught.value.given) < 200
    assert "\n" not in str(caught.value)


def test_error_keeps_what_was_given() -> None:
    with pytest.raises(ValueError, match="no unit") as caught:
        read("12", "length")
    error = pickle.loads(pickle.dumps(caught.value))
    assert (error.given, error.allowed) == ("'12'", "no unit; write 12 in or 12 mm")


def test_unknown_kind() -> None:
    with pytest.raises(ValueError, match="expected a kind of length"):
        read("12 in", "colour")


@pytest.mark.parametrize(
    "piece", ["9", "9 ", "9/", "1/2 ", "9,", "((", "± ", "ft ", "1' ", ".", "-"]
)
def test_refused_at_once(piece: str) -> None:
    began = time.perf_counter()
    for length in (80, 100_000):
        with pytest.raises(NotationError):
            read((piece * length)[:length], "length")
    assert time.perf_counter() - began < 0.2


@given(text=st.text(alphabet="0123456789 ./-+'\"°±,()ftinmFBSLRk½²\u2212\u00a0", max_size=20))
def test_any_text_is_a_finite_reading_or_a_refusal(text: str) -> None:
    for kind in ALLOWED:
        try:
            reading = read(text, kind)
        except NotationError:
            continue
        assert math.isfinite(reading)
        assert reading.tolerance >= 0


@given(
    feet=st.integers(1, 200),
    whole=st.integers(0, 11),
    sixty_fourths=st.integers(0, 63),
    minus=st.booleans(),
    form=st.sampled_from(["{s}{f}'-{w}{p}\"", "{s}{f} ft {w}{p} in", "{s}{f}\u2032{w}{p}\u2033"]),
)
def test_feet_inches_and_fractions_are_exact(
    feet: int, whole: int, sixty_fourths: int, minus: bool, form: str
) -> None:
    part = Fraction(sixty_fourths, 64)
    text = form.format(s="-" * minus, f=feet, w=whole, p=f" {part}" if part else "")
    exact = (feet * 12 + whole + part) * Fraction("0.0254") * (-1 if minus else 1)
    assert float(read(text, "length")) == float(exact)


@given(value=st.decimals(0, 10_000, places=3))
def test_decimals_are_exact(value: object) -> None:
    assert float(read(f"{value} mm", "length")) == float(Fraction(str(value)) / 1000)
    assert float(read(f"{value} m", "length")) == float(str(value))


@pytest.fixture
def door() -> Reading:
    return read("174 in ± 1/8 in (measured)", "length")


def test_a_reading_is_a_float(door: Reading) -> None:
    value = inches("174")
    assert isinstance(door, float)
    assert door == value
    assert hash(door) == hash(value)
    assert type(door + 1) is float
    assert json.dumps({"door": door}) == json.dumps({"door": value})
    assert np.array([door, 1.0]).dtype == np.float64
    assert float(np.sin(door)) == math.sin(value)


@pytest.mark.parametrize(
    "again", [copy.copy, copy.deepcopy, lambda r: pickle.loads(pickle.dumps(r))]
)
def test_a_reading_survives_copies(again: object, door: Reading) -> None:
    other = again(door)  # type: ignore[operator]
    assert type(other) is Reading
    assert other == door
    assert vars(other) == vars(door)


def test_with_value_keeps_the_rest(door: Reading) -> None:
    other = door.with_value(2.0)
    assert other == 2.0
    assert vars(other) == vars(door)


def test_a_reading_is_fixed(door: Reading) -> None:
    with pytest.raises(AttributeError, match="tolerance cannot be set"):
        door.tolerance = 1.0
    with pytest.raises(AttributeError, match="source cannot be removed"):
        del door.source
