"""Published worked examples as whole design files, through the real balance command.

Sources: see tests/published/test_weight_and_balance.py; the entry is in each test's name.
"""

from __future__ import annotations

import csv
import json

import pytest

from tests.commands.test_commands import MARRAM, called, names_in, run
from tests.conftest import DESIGNS

INCH, POUND = 0.0254, 0.45359237
HEAD = """
format = "planform design 1"
name = "Worked example"
units = "in"
datum = "as in the example"
"""


@pytest.fixture
def answer(tmp_path):
    """Write a design file, run the command on it, return its JSON and exit code."""

    def ask(text):
        path = tmp_path / "example.toml"
        path.write_text(HEAD + text, encoding="utf-8")
        code, out, err = called("balance", path, "--json")
        assert code in (0, 1), err
        return json.loads(out), code

    return ask


def pounds(item):
    return item["mass"]["value"] / POUND


def inches(item):
    return item["fs"]["value"] / INCH


FOUR_SEATS = """
[balance.empty]
mass = "1169 lb"
fs = "10.6 in"
[balance.places]
oil = { kind = "fluid", fs = "-49 in", least = "17 lb", limit = "17 lb" }
pilot = { kind = "seat", fs = "16 in", least = "170 lb", limit = "170 lb" }
front = { kind = "seat", fs = "16 in", limit = "170 lb" }
rear = { kind = "seat", fs = "48 in", limit = "340 lb" }
fuel = { kind = "fuel", fs = "22 in", least = "83 lb", limit = "40 gal (US)", fluid = "avgas" }
baggage = { kind = "baggage", fs = "75.5 in", limit = "100 lb" }
[balance.limits]
max_mass = "2100 lb"
forward = [{ fs = "8.5 in" }]
aft = [{ fs = "21.9 in" }]
[[balance.cases]]
name = "most passengers"
loads = { oil = "17 lb", pilot = "170 lb", front = "170 lb", rear = "340 lb", fuel = "39 gal (US)" }
[[balance.cases]]
name = "most baggage"
[balance.cases.loads]
oil = "17 lb"
pilot = "170 lb"
front = "170 lb"
rear = "170 lb"
fuel = "240 lb"
baggage = "100 lb"
"""


def test_wb_01_and_02_adverse_loadings_are_found(answer):
    found, code = answer(FOUR_SEATS)
    assert code == 0
    forward, aft = found["adverse"]
    assert pounds(forward["total"]) == pytest.approx(1439)
    assert inches(forward["total"]) == pytest.approx(11.2, abs=0.05)
    assert forward["remaining"]["value"] / INCH == pytest.approx(11.191 - 8.5, abs=0.001)
    assert pounds(aft["total"]) == pytest.approx(2036)
    assert inches(aft["total"]) == pytest.approx(21.33, abs=0.005)
    assert aft["remaining"]["value"] > 0.0


def test_wb_03_and_04_cases(answer):
    found, _ = answer(FOUR_SEATS)
    passengers, baggage = found["cases"]
    assert pounds(passengers["total"]) == pytest.approx(2100)
    assert inches(passengers["total"]) == pytest.approx(18.32, abs=0.005)
    assert passengers["useful_load_remaining"]["value"] == pytest.approx(0.0, abs=1e-9)
    assert pounds(baggage["total"]) == pytest.approx(2036)
    assert inches(baggage["total"]) == pytest.approx(18.7, abs=0.05)
    assert {case["verdict"] for case in found["cases"]} == {"inside"}


def test_wb_12_weighing_with_full_fuel(answer):
    found, code = answer("""
[balance.weighing]
scales = [
  { at = "left main", reading = "650 lb", tare = "5 lb", arm = "70 in" },
  { at = "right main", reading = "640 lb", tare = "5 lb", arm = "70 in" },
  { at = "nose", reading = "225 lb", tare = "2.5 lb", arm = "-30 in" },
]
deduct = [{ name = "fuel", volume = "30 gal (US)", density = "5.9 lb/gal (US)", fs = "95 in" }]
add = [{ name = "unusable fuel", mass = "6 lb", fs = "98 in" }]
""")
    assert code == 0
    assert pounds(found["empty"]["now"]) == pytest.approx(1331.5)
    assert inches(found["empty"]["now"]) == pytest.approx(50.1, abs=0.05)
    assert found["empty"]["bl_known"] is False


def test_wb_14_case(answer):
    found, _ = answer("""
[balance.empty]
mass = "2100 lb"
fs = "78.3 in"
[balance.places]
front = { kind = "seat", fs = "85 in" }
rear = { kind = "seat", fs = "121 in" }
fuel = { kind = "fuel", fs = "75 in", fluid = "avgas" }
baggage = { kind = "baggage", fs = "150 in" }
[balance.limits]
max_mass = "3400 lb"
forward = [{ fs = "78 in" }]
aft = [{ fs = "86 in" }]
[[balance.cases]]
name = "loaded"
loads = { front = "340 lb", rear = "350 lb", fuel = "75 gal (US)", baggage = "80 lb" }
""")
    case = found["cases"][0]
    assert pounds(case["total"]) == pytest.approx(3320)
    assert inches(case["total"]) == pytest.approx(84.8, abs=0.05)
    assert case["burn"][0]["point"] == "all aboard"


def test_wb_15_least_shift_of_cargo(answer):
    found, code = answer("""
[balance.empty]
mass = "7700 lb"
moment = "620700 lb in"
[balance.places]
aft_hold = { kind = "baggage", fs = "150 in" }
forward_hold = { kind = "baggage", fs = "30 in" }
[balance.limits]
aft = [{ fs = "80.5 in" }]
[[balance.cases]]
name = "as loaded"
loads = { aft_hold = "100 lb" }
""")
    case = found["cases"][0]
    assert (pounds(case["total"]), inches(case["total"])) == (
        pytest.approx(7800),
        pytest.approx(81.5),
    )
    assert (code, case["verdict"]) == (1, "outside")
    shift = next(r for r in case["least_changes"] if r["what"].startswith("move"))
    assert shift["mass"]["value"] / POUND == pytest.approx(65.0)
    assert inches(shift["after"]) == pytest.approx(80.5)


def test_wb_16_room_at_a_station(answer):
    found, _ = answer("""
[balance.empty]
mass = "2900 lb"
fs = "115 in"
[balance.places]
hold = { kind = "baggage", fs = "130 in" }
[balance.limits]
aft = [{ fs = "116 in" }]
[[balance.cases]]
name = "as it is"
""")
    room = found["cases"][0]["room_remaining"]["hold"]["value"] / POUND
    assert room == pytest.approx(207.1, abs=0.05)
    assert not [key for key in keys(found) if "left" in key]  # left is a side, and no rest


def keys(table):
    """The keys of tables in tables."""
    inner = table.values() if isinstance(table, dict) else table if isinstance(table, list) else ()
    yield from table if isinstance(table, dict) else ()
    for one in inner:
        yield from keys(one)


def test_wb_18_fuel_to_drain(answer):
    found, code = answer("""
[balance.empty]
mass = "1600 lb"
fs = "40 in"
[balance.places]
seats = { kind = "seat", fs = "40 in" }
fuel = { kind = "fuel", fs = "48 in", fluid = "avgas" }
[balance.limits]
max_mass = "2300 lb"
[[balance.cases]]
name = "too heavy"
loads = { seats = "510 lb", fuel = "300 lb" }
""")
    case = found["cases"][0]
    assert code == 1
    assert case["useful_load_remaining"]["value"] / POUND == pytest.approx(-110.0)
    drain = next(r for r in case["least_changes"] if r["what"] == "drain from fuel")
    gallons = drain["volume"]["value"] / 3.785411784e-3
    assert 18.4 >= gallons > 18.3


@pytest.mark.parametrize(
    ("mass", "fs", "off", "on", "weight", "cg"),
    [
        (
            "2886 lb",
            "35.23 in",
            '{ name = "seat one", mass = "15 lb", fs = "71 in" }, '
            '{ name = "seat two", mass = "15 lb", fs = "71 in" }',
            [(97, 71), (20, 71), (30, 94)],
            3003,
            36.85,
        ),
        (
            "2100 lb",
            "32.5 in",
            '{ name = "old", mass = "36 lb", fs = "73 in" }',
            [(17, 77), (35, 74.5), (35, 95)],
            2151,
            33.87,
        ),
        (
            "1500 lb",
            "28.4 in",
            '{ name = "old", mass = "24 lb", fs = "68.5 in" }',
            [(28, 73), (30, 70.5), (25, 85)],
            1559,
            30.30,
        ),
    ],
    ids=["wb-19", "wb-20", "wb-21"],
)
def test_equipment_changes(answer, mass, fs, off, on, weight, cg):
    items = ", ".join(
        f'{{ name = "new {k}", mass = "{lb} lb", fs = "{arm} in" }}'
        for k, (lb, arm) in enumerate(on)
    )
    found, _ = answer(f"""
[balance.mac]
lemac_fs = "20 in"
mac = "60 in"
[balance.empty]
mass = "{mass}"
fs = "{fs}"
[[balance.changes]]
name = "refit"
off = [{off}]
on = [{items}]
""")
    after = found["empty"]["changes"][0]["after"]
    assert pounds(after) == pytest.approx(weight)
    assert inches(after) == pytest.approx(cg, abs=0.005)
    assert inches(after) > inches(found["empty"]["base"])
    assert found["empty"]["changes"][0]["negligible"] is False


@pytest.mark.parametrize(
    ("mass", "cg", "limit", "arm", "ballast"),
    [(4954, 30.5, 32.0, 162.0, 57.16), (1876, 32.2, 33.0, 228.0, 7.70)],
    ids=["wb-22", "wb-23"],
)
def test_ballast(answer, mass, cg, limit, arm, ballast):
    found, code = answer(f"""
[balance.empty]
mass = "{mass} lb"
fs = "{cg} in"
[balance.places]
bulkhead = {{ kind = "ballast", fs = "{arm} in" }}
[balance.limits]
forward = [{{ fs = "{limit} in" }}]
[[balance.cases]]
name = "as it is"
""")
    change = found["cases"][0]["least_changes"][0]
    assert code == 1
    assert change["what"] == "add ballast at bulkhead"
    assert change["mass"]["value"] / POUND == pytest.approx(ballast, abs=0.005)
    assert inches(change["after"]) == pytest.approx(limit)


def test_wb_24_water_is_deducted_hydraulic_fluid_stays(answer):
    found, _ = answer("""
[balance.empty]
mass = "5862 lb"
moment = "885957 lb in"
[[balance.changes]]
name = "water drained"
off = [{ name = "potable water", mass = "20 lb", fs = "84 in" }]
""")
    assert pounds(found["empty"]["now"]) == pytest.approx(5842)
    assert inches(found["empty"]["now"]) == pytest.approx(151.365, abs=0.0005)


def test_wb_25_and_26_mixed_units_and_jacks(answer):
    found, _ = answer("""
[balance.weighing]
scales = [
  { at = "nose", reading = "285 kg", tare = "0 kg", arm = "0 in" },
  { at = "left main", reading = "1465 kg", tare = "0 kg", arm = "7 ft 8 in" },
  { at = "right main", reading = "1395 kg", tare = "0 kg", arm = "7 ft 8 in" },
]
""")
    assert found["empty"]["now"]["mass"]["value"] == pytest.approx(3145)
    assert inches(found["empty"]["now"]) == pytest.approx(83.7, abs=0.05)
    found, _ = answer("""
[balance.weighing]
scales = [
  { at = "nose jack", reading = "6488 kg", tare = "0 kg", arm = "161 in" },
  { at = "left jack", reading = "17783 kg", tare = "0 kg", arm = "775 in" },
  { at = "right jack", reading = "17783 kg", tare = "0 kg", arm = "775 in" },
]
""")
    assert found["empty"]["now"]["mass"]["value"] == pytest.approx(42054)
    assert inches(found["empty"]["now"]) == pytest.approx(680.3, abs=0.05)


def test_wb_27_and_30_limits_in_percent(answer):
    found, code = answer("""
[balance.mac]
lemac_fs = "625.6 in"
mac = "134.5 in"
[balance.empty]
mass = "24200 kg"
fs = "645 in"
[balance.limits]
forward = [{ percent_mac = "15 %" }]
[[balance.cases]]
name = "as it is"
""")
    left = found["cases"][0]["margins"]["forward"]["remaining"]["value"] / INCH
    assert code == 1
    assert 645.0 - left == pytest.approx(645.78, abs=0.0051)


def test_marram_tells_what_it_should():
    code, out, err = run("balance", MARRAM)
    assert code == 1  # two of its cases lie outside
    for words in (
        "level correction",
        "outside",
        "move from rear_shelf to nose_box",
        "someone lighter at rear_left, by",
        "5.2 lb at",
        "1. rear_right; 2.",
        "(any ballast",
        "caution: A weight and balance record is made by weighing",
        "taken: avgas: 6 lb/gal (US)",
    ):
        assert words in out
    assert "question" not in err


def test_folder_holds_sheet_plots_record_and_data(tmp_path):
    code, out, _ = called("balance", MARRAM, "-o", tmp_path / "b", "--units", "mm")
    assert code == 1
    names = names_in(tmp_path / "b")
    assert names == {
        "balance.csv",
        "balance.html",
        "balance.json",
        "balance.pdf",
        "envelope.svg",
        "lateral.svg",
        "loading.svg",
        "weighing-record.html",
        "weighing-record.pdf",
    }
    assert all(name in out for name in names)
    rows = list(csv.DictReader((tmp_path / "b" / "balance.csv").read_text().splitlines()))
    weights = [
        r for r in rows if r["table"] == "weighing" and r["column"] == "weight" and r["value"]
    ]
    assert float(weights[-1]["value"]) == pytest.approx(1196.5 * POUND, abs=1e-5)
    assert {r["unit"] for r in rows} >= {"kg", "m", "kg m", "1"}
    data = json.loads((tmp_path / "b" / "balance.json").read_text())
    assert data["empty"]["source"] == "weighed"
    form = (tmp_path / "b" / "weighing-record.html").read_text()
    assert "signature of the person entitled to sign" in form
    for name in ("envelope.svg", "lateral.svg", "loading.svg", "balance.html"):
        assert "http" not in (tmp_path / "b" / name).read_text().replace("http://www.w3.org", "")


def test_blank_record_where_nobody_has_weighed(tmp_path):
    called("balance", DESIGNS / "quillwort.toml", "-o", tmp_path)
    form = (tmp_path / "weighing-record.html").read_text()
    assert "left main" in form
    assert "arm measured, mm" in form
    assert "FS 2610 mm" in form


def test_three_decimal_units_agree():
    figures = set()
    for units in ("in", "mm"):
        code, out, _ = called("balance", DESIGNS / "samphire.toml", "--json", "--units", units)
        assert code == 1
        figures.add(json.loads(out)["cases"][0]["total"]["fs"]["value"])
    assert len(figures) == 1


def test_a_design_of_weights_alone_is_no_design_to_measure(tmp_path):
    path = tmp_path / "weights.toml"
    path.write_text(HEAD + '[balance.empty]\nmass = "500 kg"\nfs = "2 m"\n')
    assert called("balance", path)[0] == 0
    for command in (
        ("measure", path),
        ("sheet", path, "-o", tmp_path / "s"),
        ("preview", path, "-o", tmp_path / "p"),
        ("fit", path, DESIGNS / "boatshed.toml"),
        ("report", path, DESIGNS / "boatshed.toml", "-o", tmp_path / "r"),
        ("page", path, "-o", tmp_path / "page.html"),
        ("view", path, "-o", tmp_path / "v"),
    ):
        code, _, err = called(*command)
        assert code == 2, command
        assert "weights alone" in err, command
    assert [one.name for one in tmp_path.iterdir()] == ["weights.toml"]


ZERO_FUEL = """
[balance.empty]
mass = "82000 lb"
fs = "20 m"
[balance.places]
hold = { kind = "baggage", fs = "20 m" }
tanks = { kind = "fuel", fs = "20 m", limit = "60000 lb", density = "800 g/L" }
[balance.limits]
max_mass = "155000 lb"
max_zero_fuel_mass = "108500 lb"
[[balance.cases]]
name = "all fuel, no load yet"
loads = { tanks = "22000 lb" }
kept = { tanks = "5000 lb" }
[[balance.cases]]
name = "loaded to the limit"
loads = { tanks = "22000 lb", hold = "26500 lb" }
[[balance.cases]]
name = "a pound over"
loads = { tanks = "22000 lb", hold = "26501 lb" }
"""


def test_zero_fuel_mass_bounds_the_load_as_in_a_licence_question(answer):
    """An EASA-style mass-and-balance question (read in a stored quiz page): dry operating mass
    82,000 kg, greatest zero-fuel mass 108,500 kg, trip 17,000 and reserve 5,000 kg of fuel, so at
    most 130,500 kg at take-off and 26,500 kg of load, whatever the 155,000 kg would allow. Here in
    pounds, as a mass above 100 t is taken for a slip; the sums are the same.
    """
    found, code = answer(ZERO_FUEL)
    assert code == 1
    first, second, third = found["cases"]
    assert first["room_remaining"]["hold"]["value"] / POUND == pytest.approx(26500.0)
    assert second["total"]["mass"]["value"] / POUND == pytest.approx(130500.0)
    assert second["zero_fuel_mass"]["value"] / POUND == pytest.approx(108500.0)
    assert second["margins"]["max_zero_fuel_mass"]["remaining"]["value"] == pytest.approx(
        0.0, abs=1e-9
    )
    verdicts = [case["verdict"] for case in found["cases"]]
    assert verdicts == ["inside", "inside", "outside"]
    drained = [change["what"] for change in third["least_changes"]]
    assert drained == ["take out of hold"]  # burning or draining fuel helps nothing
    assert first["burn"][-1]["point"] == "tanks down to 5000 lb"
    assert first["burn"][-1]["mass"]["value"] / POUND == pytest.approx(87000.0)


LATERAL = """
[balance.empty]
mass = "1000 lb"
fs = "100 in"
bl = "BL 0.5 in R"
[balance.places]
left = { kind = "seat", fs = "100 in", bl = "BL 10 in L", limit = "250 lb" }
right = { kind = "seat", fs = "100 in", bl = "BL 10 in R", limit = "250 lb" }
floor = { kind = "baggage", fs = "100 in", bl = "BL 20 in R", limit = "60 lb" }
shelf = { kind = "baggage", fs = "100 in", bl = "BL 20 in L", limit = "60 lb" }
[balance.joint_limits]
holds = { places = ["floor", "shelf"], limit = "80 lb" }
[balance.limits]
max_mass = "1600 lb"
left = "BL 1.5 in L"
right = "BL 1.5 in R"
[[balance.cases]]
name = "alone on the left"
loads = { left = "200 lb" }
[[balance.cases]]
name = "too far left"
loads = { left = "220 lb", shelf = "30 lb" }
[[balance.cases]]
name = "holds"
loads = { left = "180 lb", right = "180 lb", floor = "50 lb", shelf = "40 lb" }
"""


def test_lateral_cg_is_the_side_moment_over_the_weight(answer, tmp_path):
    """By hand: (1000 x 0.5 - 200 x 10) / 1200 = -1.25 in; arms to the right are positive (WB-36).

    The formula is that of the helicopter chapters of FAA-H-8083-1, from memory; no worked example
    with its numbers was at hand.
    """
    found, code = answer(LATERAL)
    assert code == 1
    alone, left, holds = found["cases"]
    assert alone["total"]["bl"]["value"] / INCH == pytest.approx(-1.25)
    assert alone["margins"]["left"]["remaining"]["value"] / INCH == pytest.approx(0.25)
    assert alone["verdict"] == "inside"
    assert left["verdict"] == "outside"
    # -2300 lb in at 1250 lb; with w out of the shelf: (20 w - 2300) / (1250 - w) = -1.5
    out = next(c for c in left["least_changes"] if c["what"] == "take out of shelf")
    assert out["mass"]["value"] / POUND == pytest.approx(425 / 18.5)
    assert holds["over_limit_of"] == ["holds"]
    assert holds["verdict"] == "outside"
    sides = {one["side"]: one for one in found["adverse"]}
    # 250 lb and the shelf's 60 on the left: (500 - 2500 - 1200) / 1310
    worst = sides["left"]["remaining"]["value"] / INCH
    assert worst == pytest.approx(-3200 / 1310 + 1.5)


def test_what_the_sides_allow_is_written_and_drawn(tmp_path):
    path = tmp_path / "sides.toml"
    path.write_text(HEAD + LATERAL, encoding="utf-8")
    code, out, _ = called("balance", path)
    assert code == 1
    for word in ("limit to the left", "CG butt line", "over the limit of holds", "joint limits"):
        assert word in " ".join(out.split())
    code, _, _ = called("balance", path, "-o", tmp_path / "out")
    assert {"lateral.svg", "envelope.svg"} <= set(names_in(tmp_path / "out"))
    assert "CG butt line" in (tmp_path / "out" / "lateral.svg").read_text(encoding="utf-8")
    page = (tmp_path / "out" / "balance.html").read_text(encoding="utf-8")
    assert "limits to the left and right" in page


def test_limits_to_a_side_ask_for_the_butt_line_of_the_empty_aircraft(answer):
    found, _ = answer(LATERAL.replace('bl = "BL 0.5 in R"', "", 1))
    assert any("limits to the left and right" in q for q in found["questions"])


@pytest.mark.parametrize(
    "places",
    [
        "",
        '[balance.places]\nseat = { kind = "seat", fs = "100 in" }',
        '[balance.places]\nseat = { kind = "seat", fs = "90 in", bl = "3 in", limit = "0 lb" }',
    ],
    ids=["no places", "no limit", "nothing may be loaded"],
)
def test_limits_to_the_sides_where_next_to_nothing_can_be_loaded(places, tmp_path):
    limits = 'left = "BL 1 in L"\nright = "BL 1 in R"\nmax_zero_fuel_mass = "1200 lb"'
    empty = 'mass = "1000 lb"\nfs = "100 in"\nbl = "BL 0.5 in R"'
    text = f"[balance.empty]\n{empty}\n{places}\n[balance.limits]\n{limits}\n"
    path = tmp_path / "bare.toml"
    path.write_text(HEAD + text + '[[balance.cases]]\nname = "as it is"\n', encoding="utf-8")
    code, _, err = called("balance", path, "-o", tmp_path / "out")
    assert (code, err) == (0, "")
    assert "lateral.svg" in names_in(tmp_path / "out")
