"""The compare command, its study on processes and on a real local cluster, kills included."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import warnings

import pytest

import planform as pf
from planform.design.problems import Failure
from planform.study.compare import FIELDS, default_terms, evaluate, non_dominated, study_of
from planform.study.options import Option, changed_design, count_options, grid, variation
from planform.study.run import PARTS, WHOLE, run_study
from tests.commands.test_commands import MARRAM, SHED, called, names_in, run
from tests.conftest import DESIGNS
from tests.processes import below, running, waited

CANTS = "0 deg, 12 deg, 30 deg, 60 deg"


@pytest.fixture(scope="module")
def answer():
    code, out, err = run("compare", MARRAM, SHED, "--cant", CANTS, "--skin", "0.5 lb/ft2", "--json")
    assert code == 1, err  # none of them comes out of that door
    return json.loads(out)


def test_base_is_a_row_and_an_option_equal_to_it_is_the_same(answer):
    base, options = answer["options"][0], answer["options"][1:]
    assert (base["number"], base["name"]) == (0, "as designed")
    same = options[1]
    assert same["name"] == "cant 12 deg"
    for key in FIELDS:
        assert same[key] == base[key]
    assert [o["name"] for o in options][-1] == "cant 60 deg"


def test_cant_trades_height_for_span_and_drag_for_bending(answer):
    rows = [answer["options"][k] for k in (1, 2, 3, 4)]

    def column(key):
        return [row[key]["value"] for row in rows]

    assert column("tip_height") == sorted(column("tip_height"), reverse=True)
    assert column("width") == sorted(column("width"))
    assert column("drag_area") == sorted(column("drag_area"), reverse=True)
    assert column("bending") == sorted(column("bending"))
    assert column("mass_change") == pytest.approx([0.0] * 4, abs=1e-6)  # the same skin, leaning
    assert all(row["verdict"] == "does not fit" for row in rows)
    assert all(row["not_beaten"] for row in rows)
    for row in rows:
        assert 0.5 < row["drag_least"]["value"] / row["drag_area"]["value"] < 1.0
    assert all(
        0.0 < row["drag_area_error"]["value"] < 0.04 * row["drag_area"]["value"] for row in rows
    )


def test_figures_are_those_of_the_other_commands(answer):
    code, out, _ = run("measure", MARRAM, "--json")
    measured = json.loads(out)["stages"][-1]["measures"]
    base = answer["options"][0]
    assert base["tip_height"]["value"] == pytest.approx(measured["tip_height"]["value"], abs=1e-7)
    assert base["width"]["value"] == pytest.approx(measured["width"]["value"], abs=1e-7)
    code, out, _ = run("balance", MARRAM, "--json")
    lattice = json.loads(out)["lattice"][-1]["neutral_point_fs"]
    assert base["neutral_point"]["value"] == pytest.approx(lattice["value"], abs=1e-7)
    assert code == 1


def test_folder_holds_page_plots_and_data(tmp_path):
    code, out, err = run(
        "compare", MARRAM, SHED, "--cant", "0 deg, 40 deg", "--length", "40 in, 60 in",
        "--stage", "hull on its wheels", "-o", tmp_path / "c",
    )  # fmt: skip
    assert code == 0, err
    names = names_in(tmp_path / "c")
    assert names == {"compare.html", "trade.svg", "span.svg", "options.csv", "options.json", WHOLE}
    page = (tmp_path / "c" / "compare.html").read_text(encoding="utf-8")
    assert page.count("<svg") == 5 + 2
    assert "it recommends" not in page
    assert "several % MAC" in page
    rows = list(csv.DictReader((tmp_path / "c" / "options.csv").read_text().splitlines()))
    assert [row["name"] for row in rows][1:] == [
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
        assert float(row["tip_height [m]"]) == pytest.approx(number, abs=1e-6)
    assert "fits: as designed" in out


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
        (("--cant", "0, 15"), "write 0 deg or 0 rad"),
        (("--cant", ","), "values between commas"),
        ((), "nothing to vary"),
        (("--vary", "surfaces.wing.chord"), "allowed: a field, =, and values"),
        (("--vary", "surfaces.wing.sections[9].chord = 2 ft"), "no such field"),
        (("--vary", "surfaces.wnig.sections[1].chord = 2 ft"), "did you mean 'surfaces.wing"),
        (("--span", "0 ft"), "further out than the section before it"),
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
    options = grid(design, [variation("surfaces.foreplane.sections[1].fs", "58 in, 160 in")])
    low = changed_design(design, options[2].changes)
    assert low.surfaces["foreplane"].sections[0].fs > 4.0
    terms, _ = default_terms(design)
    level = Option(3, (*options[2].changes, ("surfaces.foreplane.sections[1].wl", "22 in")))
    record = evaluate(study_of(design, None, terms), level)
    assert "lies in" in record["problem"]
    assert record["drag_area"] is None


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
    options = grid(design, [variation("cant", ", ".join(f"{k} deg" for k in range(-20, 40, 3)))])
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
