"""The compare command, its study on processes and on a real local cluster, kills included."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import warnings

import numpy as np
import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.design.problems import Failure
from planform.fit.straight import judge_straight
from planform.fit.verdict import FITS, NOT
from planform.report.compare.csv import options_csv
from planform.report.compare.tables import tables
from planform.report.compare.words import sentences
from planform.study.compare import (
    ASKEW,
    NO_WAY,
    STRAIGHT,
    TEXTS,
    TOUCHES,
    TURNED,
    default_terms,
    evaluate,
    non_dominated,
    option_standing,
    study_of,
)
from planform.study.judging import judge
from planform.study.options import Option, changed_design, count_options, grid, variation
from planform.study.run import PARTS, WHOLE, fingerprint, run_study
from tests.commands.test_commands import MARRAM, SHED, called, names_in, run
from tests.conftest import DESIGNS
from tests.processes import below, running, waited

CANTS = "0 deg, 12 deg, 30 deg, 60 deg"


@pytest.fixture(scope="module")
def answer():
    code, out, err = run("compare", MARRAM, SHED, "--cant", CANTS, "--skin", "0.5 lb/ft2", "--json")
    assert code == 0, err  # with winglets upright it comes out turned, and else not
    return json.loads(out)


def test_a_value_that_leaves_all_as_designed_is_the_row_of_the_base(answer):
    names = [o["name"] for o in answer["options"]]
    assert names == ["as designed (cant 12 deg)", "cant 0 deg", "cant 30 deg", "cant 60 deg"]
    assert [o["number"] for o in answer["options"]] == [0, 1, 2, 3]
    assert "fits: cant 0 deg" in answer["answer"]
    assert f"out of the door {TURNED}: cant 0 deg" in answer["answer"]
    assert any(line.startswith("None is beaten") for line in answer["answer"])


def test_trim_tells_whose_incidence_and_loads_add_up(answer):
    for option in answer["options"]:
        assert option["trimming_surface"] == "foreplane"
        shares = option["share_of_lift_in_trim"]
        assert sum(share["value"] for share in shares.values()) == pytest.approx(1.0, abs=3e-6)
        lines = {line["surface"]: line for line in option["loading_in_trim"]}
        assert lines.keys() == shares.keys() == {"wing", "foreplane", "winglet"}
        lift = {
            name: np.trapezoid(line["chord_times_section_lift"], line["butt_line"])
            for name, line in lines.items()
        }
        part = lift["foreplane"] / (lift["foreplane"] + lift["wing"])
        told = shares["foreplane"]["value"] / (
            shares["foreplane"]["value"] + shares["wing"]["value"]
        )
        assert part == pytest.approx(told, abs=0.005)  # without the ends of the strips


def test_cant_trades_height_for_span_and_drag_for_bending(answer):
    rows = [answer["options"][k] for k in (1, 0, 2, 3)]

    def column(key):
        return [row[key]["value"] for row in rows]

    assert column("tip_height") == sorted(column("tip_height"), reverse=True)
    assert column("width") == sorted(column("width"))
    assert column("drag_area") == sorted(column("drag_area"), reverse=True)
    assert column("bending") == sorted(column("bending"))
    assert column("mass_change") == pytest.approx([0.0] * 4, abs=1e-6)  # the same skin, leaning
    assert [row["verdict"] for row in rows] == ["fits", *["does not fit"] * 3]
    assert [row["comes_out"] for row in rows] == [TURNED, NO_WAY, NO_WAY, TOUCHES]
    assert all(row["not_beaten"] for row in rows)
    for row in rows:
        assert 0.5 < row["drag_least"]["value"] / row["drag_area"]["value"] < 1.0
    assert all(
        0.0 < row["drag_area_error"]["value"] < 0.04 * row["drag_area"]["value"] for row in rows
    )


def test_figures_are_those_of_the_other_commands(answer):
    code, out, _ = called("measure", MARRAM, "--json")
    measured = json.loads(out)["stages"][-1]["measures"]
    base = answer["options"][0]
    assert base["tip_height"]["value"] == pytest.approx(measured["tip_height"]["value"], abs=1e-7)
    assert base["width"]["value"] == pytest.approx(measured["width"]["value"], abs=1e-7)
    code, out, _ = called("balance", MARRAM, "--json")
    lattice = json.loads(out)["lattice"][-1]["neutral_point_fs"]
    assert base["neutral_point"]["value"] == pytest.approx(lattice["value"], abs=1e-7)
    assert code == 1


def test_folder_holds_page_plots_and_data(tmp_path):
    code, out, err = run(
        "compare", MARRAM, SHED, "--cant", "0 deg, 40 deg", "--length", "40 in, 60 in",
        "--stage", "hull on its wheels", "--lift", "0.2", "-o", tmp_path / "c",
    )  # fmt: skip
    assert code == 0, err
    names = names_in(tmp_path / "c")
    data = {"options.csv", "loading.csv", "options.json", WHOLE}
    assert names == {"compare.html", "trade.svg", "span.svg"} | data
    page = (tmp_path / "c" / "compare.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 5 + 2
    assert "it recommends" not in page
    assert "several % MAC" in page
    rows = list(csv.DictReader((tmp_path / "c" / "options.csv").read_text().splitlines()))
    assert [row["option"] for row in rows][1:] == [
        "cant 0 deg, length 40 in",
        "cant 0 deg, length 60 in",
        "cant 40 deg, length 40 in",
        "cant 40 deg, length 60 in",
    ]
    import pyarrow.parquet as pq

    table = pq.read_table(tmp_path / "c" / WHOLE)
    assert table.column("number").to_pylist() == [0, 1, 2, 3, 4]
    assert table.schema.field("tip_height").metadata == {b"unit": b"m"}
    for number, row in zip(table.column("tip_height").to_pylist(), rows, strict=True):
        assert float(row["tip height [m]"]) == pytest.approx(number, abs=1e-6)
    assert "fits:\n  as designed\n  cant 0 deg, length 40 in\n" in out


ACROSS = [["0 m", "0.5 m"], ["12 m", "0.5 m"], ["12 m", "0.7 m"], ["0 m", "0.7 m"]]
BENCH = {"name": "bench", "kind": "standing", "outline": ACROSS, "top": "1.5 m"}


@pytest.mark.parametrize(
    ("door", "things", "leaves", "verdict"),
    [
        ({}, [], STRAIGHT, FITS),
        ({"clear_width": "7 m"}, [], f"{ASKEW} 90 deg", FITS),
        ({"clear_height": "1 m"}, [], NO_WAY, NOT),
        ({}, [BENCH], NO_WAY, NOT),
    ],
)
def test_how_it_comes_out_is_told_and_the_verdict_is_that_of_fit(
    plain, room, door, things, leaves, verdict
):
    room["doors"][0] |= door
    room["obstacles"] = things
    design, place = design_from(plain), place_from(room)
    study = study_of(design, place, default_terms(design)[0])
    record = evaluate(study, Option(0, ()))
    assert (record["comes_out"], record["verdict"]) == (leaves, verdict)
    look = judge_straight if things else judge  # how far it overlaps there takes long
    found = look(option_standing(study, Option(0, ())), pf.build_room(place))
    assert things or found.verdict == verdict
    parked = min(c.gap for c in found.in_group("room") if c.gap is not None)
    assert record["parked_gap"] == pytest.approx(parked, abs=1e-7)
    if leaves != NO_WAY:
        assert record["out_gap"] > 0.0
    texts = "\n".join((*sentences([record], design), *options_csv([record], "m").splitlines()[:1]))
    assert (ASKEW in texts) == leaves.startswith(ASKEW)
    assert "least gap, parked" in texts
    assert "least gap on the way out" in texts


def test_without_a_place_nothing_is_judged():
    code, out, _ = run("compare", DESIGNS / "samphire.toml", "--span", "380 in, 400 in", "--json")
    options = json.loads(out)["options"]
    assert code == 0
    assert {o["verdict"] for o in options} == {None}
    inches = [o["width"]["value"] / 0.0254 for o in options]
    assert inches[2] - inches[1] == pytest.approx(20.0, abs=1e-6)
    assert inches[1] == pytest.approx(380.0, abs=0.3)  # and the thickness of leaning tips


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--cant", "0, 15"), "write 15 deg or 15 rad"),
        (("--cant", ","), "values between commas"),
        (("--length", "none", "--cg", "FS 40 ft"), "behind every surface that lifts"),
        (("--vary", "lifting.wing.chord"), "allowed: a field, =, and values"),
        (("--vary", "lifting.wing.cuts[9].chord = 2 ft"), "no such field"),
        (("--vary", "lifting.wnig.cuts[1].chord = 2 ft"), "did you mean 'lifting.wing"),
        (("--span", "0 ft"), "further out than the cut before it"),
        (("--cant", "0 deg", "--cg", "170"), "write 170 in or 170 mm"),
        (("--cant", "0 deg", "--lift", "-1"), "above 0 and below 5"),
        (("--cant", "0 deg", "--stage", "complte"), "did you mean 'complete'"),
        (("--cant", "0 deg", "--skin", "2 lb"), "is a unit of mass"),
    ],
)
def test_bad_input_is_one_sentence(words, said, tmp_path):
    code, _, err = called("compare", MARRAM, SHED, *words, "-o", tmp_path / "new" / "out")
    assert code == 2
    assert said in err
    assert list(tmp_path.iterdir()) == []


def test_a_scheduler_that_does_not_answer(tmp_path, monkeypatch):
    monkeypatch.setattr("planform.study.run.ANSWERS", "0.5s")
    words = ("--cant", "0 deg", "--scheduler", "tcp://127.0.0.1:9", "-o", tmp_path / "out")
    code, out, err = called("compare", MARRAM, *words)
    assert (code, out) == (2, "")
    assert "no dask scheduler answers" in err
    assert list(tmp_path.iterdir()) == []


def test_a_very_large_grid_is_asked_about():
    design = pf.load(MARRAM)
    many = ", ".join(f"{k / 10} deg" for k in range(300))
    variations = [variation("cant", many), variation("toe", many)]
    assert count_options(variations) == 90_001
    with pytest.raises(pf.InputError, match="90,001 options; more than 10,000 need --yes"):
        grid(design, variations)


def test_an_option_that_cannot_be_built_is_told_and_the_rest_go_on():
    design = pf.load(MARRAM)
    options = grid(design, [variation("lifting.foreplane.cuts[1].fs", "58 in, 160 in")])
    low = changed_design(design, options[1].changes)
    assert low.lifting["foreplane"].cuts[0].fs > 4.0
    terms, _ = default_terms(design)
    level = Option(3, (*options[1].changes, ("lifting.foreplane.cuts[1].wl", "22 in")))
    record = evaluate(study_of(design, None, terms), level)
    assert "lies in" in record["lattice"]
    assert record["drag_area"] is None


def test_fit_and_lattice_are_of_one_stage():
    design, stage = pf.load(MARRAM), "off"
    table = design.model_dump(mode="json", exclude_unset=True)
    table["stages"][-1] |= {"name": stage, "without": ["winglet"]}
    table["stages"][-1].pop("parts", None)
    bare = design_from(table, "bare")
    terms, _ = default_terms(bare, stage)
    here = evaluate(study_of(bare, None, terms), Option(0, ()))
    whole, _ = default_terms(design)
    gone = evaluate(study_of(design, None, whole), grid(design, [variation("length", "none")])[1])
    assert here["surfaces"] == gone["surfaces"] == "wing, foreplane"
    assert here["drag_area"] == pytest.approx(gone["drag_area"], abs=1e-7)
    assert here["neutral_point"] == pytest.approx(gone["neutral_point"], abs=1e-7)
    assert here["tip_height"] == pytest.approx(gone["tip_height"], abs=1e-7)
    assert gone["winglet_area"] == 0.0


def test_a_grid_has_each_aircraft_once():
    design = pf.load(MARRAM)
    found = grid(
        design, [variation("cant", "12 deg, 15 deg, 12°"), variation("length", "none, 50 in")]
    )
    assert [o.name for o in found] == [
        "as designed",
        "no winglets",
        "cant 12 deg, length 50 in",
        "cant 15 deg, length 50 in",
    ]
    chord = grid(design, [variation("lifting.wing.cuts[4].chord", "20 in")])
    assert "cuts" not in chord[1].name
    assert grid(design, []) == (Option(0, ()),)


def test_no_trim_is_told_beyond_the_linear_range():
    design = pf.load(DESIGNS / "samphire.toml")
    terms, _ = default_terms(design, cg=-1.0)
    record = evaluate(study_of(design, None, terms), Option(0, ()))
    assert "tells no trim beyond 15°" in record["lattice"]
    assert record["drag_area"] is None
    assert record["neutral_point"] is not None


@pytest.mark.parametrize("side", ["right", "left"])
def test_tables_without_a_figure_are_left_out_and_the_reason_told_once(plain, side):
    plain["winglets"]["winglet"]["side"] = side
    design = design_from(plain)
    terms, _ = default_terms(design)
    options = grid(design, [variation("cant", "0 deg, 10 deg, 20 deg")])
    records = [evaluate(study_of(design, None, terms), o) for o in options]
    assert all(r["neutral_point"] is None for r in records)
    sheets = tables(records, options, terms)
    assert {t.key for t in sheets} == {"standing", "against-base", "per-degree"}
    for sheet in sheets:
        assert sheet.rows
        for column in zip(*sheet.rows, strict=True):
            assert any(cell is not None and cell != "" for cell in column)
    text = " ".join((*sentences(records, design), *(r for t in sheets for r in t.remarks)))
    assert text.count(f"the winglet is on the {side} side only") == 1
    assert "lattice of half as many" not in text


def test_the_error_of_a_difference_is_its_own():
    design = pf.load(MARRAM)
    terms, _ = default_terms(design)
    options = grid(design, [variation("cant", "12 deg, 12.01 deg, 40 deg")])
    records = [evaluate(study_of(design, None, terms), o) for o in options]
    sheet = next(t for t in tables(records, options, terms) if t.key == "against-base")
    drag = sheet.rows[1][sheet.columns.index("induced drag")]
    one, two = records[0], records[2]
    fine = two["drag_area"] / one["drag_area"] - 1.0
    coarse = two["drag_area_coarse"] / one["drag_area_coarse"] - 1.0
    assert drag.value == pytest.approx(fine)
    assert drag.worst == pytest.approx(abs(fine - coarse))
    assert 0.0 < drag.worst < one["drag_area_error"] / one["drag_area"]
    records[1] |= {"drag_area": one["drag_area"] * 1.00001}
    records[1] |= {"drag_area_coarse": one["drag_area_coarse"] * 0.999}
    sheets = {t.key: t for t in tables(records, options, terms)}
    for key in ("against-base", "per-degree"):
        cell = sheets[key].rows[0][sheets[key].columns.index("induced drag")]
        assert "below its own error" in cell.text


def test_terms_not_given_are_told():
    terms, told = default_terms(pf.load(MARRAM))
    assert terms.cg is not None
    assert any("one aboard, full tanks" in line for line in told)
    assert any("coefficient of 0.5" in line for line in told)


def test_non_dominated():
    rows = [
        {"number": k, "drag_area": d, "bending": b, "tip_height": h}
        for k, (d, b, h) in enumerate([(1, 1, 1), (2, 2, 2), (0.5, 3, 1), (None, 1, 1), (1, 1, 1)])
    ]
    assert non_dominated(rows) == {0, 2, 4}


@pytest.fixture(scope="module")
def work():
    design, place = pf.load(DESIGNS / "quillwort.toml"), pf.load_place(DESIGNS / "garden-shed.toml")
    terms, _ = default_terms(design)
    options = grid(design, [variation("cant", ", ".join(f"{k} deg" for k in range(-20, 40, 5)))])
    study = study_of(design, place, terms)
    return study, options, run_study(study, options, workers=1)


def same(one, two):
    """Equal words, and figures equal to the last digit kept."""
    assert len(one) == len(two)
    for a, b in zip(one, two, strict=True):
        assert a.keys() == b.keys()
        for key, value in a.items():
            if isinstance(value, float):
                assert b[key] == pytest.approx(value, abs=2e-8), key
            else:
                assert b[key] == value, key


def test_processes_give_the_same_records(work):
    study, options, alone = work
    same(run_study(study, options, workers=2), alone)


def test_a_killed_study_goes_on_with_nothing_lost_and_nothing_twice(work, tmp_path):
    study, options, alone = work
    command = [
        sys.executable, "-c", "from planform.cli.app import main; main()",
        "compare", str(DESIGNS / "quillwort.toml"), str(DESIGNS / "garden-shed.toml"),
        "--cant", ", ".join(o.changes[0][1] for o in options[1:]),
        "--workers", "2", "-o", str(tmp_path / "c"),
    ]  # fmt: skip
    child = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    parts = tmp_path / "c" / PARTS
    waited(lambda: list(parts.glob("*.parquet")))
    workers = below(child.pid)
    child.kill()
    child.wait()
    assert len(workers) >= 2
    waited(lambda: not any(running(pid) for pid in workers), 10.0)  # they end with their parent
    assert not (tmp_path / "c" / WHOLE).exists()
    import pyarrow.parquet as pq

    kept = [n for p in parts.glob("*.parquet") for n in pq.read_table(p)["number"].to_pylist()]
    assert 0 < len(kept) < len(options)
    broken = min(parts.glob("*.parquet"))
    whole = broken.read_bytes()
    broken.write_bytes(whole[: len(whole) // 2])
    with pytest.raises(pf.InputError, match=f"{broken.name}: cannot be read as records"):
        run_study(study, options, workers=1, folder=tmp_path / "c")
    broken.write_bytes(whole)
    (parts / "half.writing").write_bytes(b"left by a kill")
    worked = []
    records = run_study(
        study, options, workers=1, folder=tmp_path / "c", progress=lambda n, _: worked.append(n)
    )
    assert worked[0] == len(kept)  # what was kept is not worked out again
    assert len(worked) == 1 + len(options) - len(kept)
    same(records, alone)
    whole = pq.read_table(tmp_path / "c" / WHOLE)
    assert whole["number"].to_pylist() == [o.number for o in options]
    assert not parts.exists()


def test_a_folder_of_another_study_is_left_alone(work, tmp_path):
    study, options, _ = work
    run_study(study, options[:2], workers=1, folder=tmp_path)
    before = (tmp_path / WHOLE).read_bytes()
    with pytest.raises(pf.InputError, match="records of another study"):
        run_study(study, options[:3], workers=1, folder=tmp_path)
    assert (tmp_path / WHOLE).read_bytes() == before


def test_records_with_other_columns_are_those_of_another_study(work, monkeypatch):
    study, options, _ = work
    here = fingerprint(study, options)
    monkeypatch.delitem(TEXTS, "lattice")
    assert fingerprint(study, options) != here


def test_a_stopped_worker_is_told(work):
    study, options, _ = work
    with pytest.raises(Failure, match="a worker was stopped"):
        list(_killing_one(study, options))


def _killing_one(study, options):
    from multiprocessing import active_children

    from planform.study.run import _worked

    done = _worked(study, options, 2, None)
    yield next(done)
    for child in active_children():
        child.kill()
    yield from done


@pytest.mark.filterwarnings("ignore")
def test_a_real_cluster_with_a_worker_killed_in_the_middle(work):
    from distributed import LocalCluster

    study, options, alone = work
    with (
        warnings.catch_warnings(),
        LocalCluster(
            n_workers=2,
            threads_per_worker=1,
            processes=True,
            dashboard_address=None,
            silence_logs=50,
        ) as cluster,
    ):
        warnings.simplefilter("ignore")
        victim = next(iter(cluster.workers.values())).pid
        killed = []

        def kill_once(done, whole):
            if done >= 3 and not killed:
                os.kill(victim, signal.SIGKILL)
                killed.append(done)

        records = run_study(study, options, scheduler=cluster.scheduler_address, progress=kill_once)
    assert killed
    assert killed[0] < len(options)
    same(records, alone)


def test_no_trim_is_told_of_what_has_no_surface_that_trims(plain):
    option = Option(0, ())
    design = design_from(plain)
    terms, _ = default_terms(design, cg=0.5)
    record = evaluate(study_of(design, None, terms), option)
    assert record["trimmer"] is None
    assert record["drag_area"] is not None
    titles = {sheet.title for sheet in tables([record], (option,), terms)}
    assert "Drag and bending at the same lift (no surface trims)" in titles
    heads = options_csv([record], "m").splitlines()[0]
    assert "in trim" not in heads + "".join(titles)
    mixed = [record, dict(record) | {"number": 1, "trimmer": "foreplane"}]
    titles = {sheet.title for sheet in tables(mixed, (option, option), terms)}
    assert "Drag and bending at the same lift, in trim where a surface trims" in titles


def test_options_are_printed_as_one_file(tmp_path):
    import pypdf

    quillwort = DESIGNS / "quillwort.toml"
    code, out, _ = called("compare", quillwort, "--cant", "20 deg", "-o", tmp_path / "o.pdf",
                          "--workers", "1")  # fmt: skip
    assert code == 0
    assert f"wrote {tmp_path / 'o.pdf'}" in out
    assert [one.name for one in tmp_path.iterdir()] == ["o.pdf"]
    text = "".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "o.pdf").pages)
    assert "cant 20 deg" in text
