"""Folders are written whole: laws over sequences of runs, and kills at every step of a swap."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.design.problems import InputError
from planform.report import folder
from planform.report import swap as write
from planform.report.folder import whole_folder, written
from planform.report.swap import EARLIER, NAMES, RECORD, SHOP

WAY = {"route.html": "way", "step-1.svg": "one", "helpers-card.html": "card", "roll-out.gif": "gif"}
NONE = {"route.html": "no way", "jam.svg": "jam"}
OWN = ["route.html", "step-1.svg", "step-2.svg", "jam.svg", "helpers-card.html", "aircraft/way.svg"]
OTHER = ["notes.txt", "photos/tail.jpg", "photos/wing.jpg", "aircraft/log.txt"]
CONTENT = st.text("abc", max_size=3)


def put(folder: Path, files: dict[str, str]) -> None:
    """Files as a person, or an answer, writes them."""
    for name, text in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text)


def held(folder: Path) -> dict[str, str]:
    """All that a folder holds, by name."""
    return {
        path.relative_to(folder).as_posix(): path.read_text()
        for path in folder.rglob("*")
        if path.is_file()
    }


def run(folder: Path, files: dict[str, str], answer: str = "rollout") -> None:
    with whole_folder(folder, answer) as workshop:
        put(workshop, files)


def alone(files: dict[str, str], answer: str = "rollout") -> dict[str, str]:
    """What a run alone leaves."""
    with TemporaryDirectory() as base:
        run(Path(base) / "out", files, answer)
        return held(Path(base) / "out")


ANSWERS = st.dictionaries(st.sampled_from(OWN), CONTENT, min_size=1)


@settings(max_examples=60)
@given(ANSWERS, ANSWERS, st.dictionaries(st.sampled_from(OTHER), CONTENT))
def test_two_runs_leave_what_the_second_alone_leaves_and_what_others_put_there(one, two, others):
    with TemporaryDirectory() as base:
        out = Path(base) / "out"
        run(out, one)
        put(out, others)
        run(out, two)
        assert held(out) == alone(two) | others
        assert [path.name for path in Path(base).iterdir()] == ["out"]


@settings(max_examples=60)
@given(
    st.lists(ANSWERS, min_size=1, max_size=3),
    st.dictionaries(st.sampled_from([*OWN, *OTHER]), CONTENT, min_size=1),
    st.integers(0, 2),
)
def test_no_file_of_a_person_is_ever_lost(answers, mine, when):
    """Also one that has the name of a planform file, or is one that was changed by hand."""
    mine = {name: f"by hand: {text}" for name, text in mine.items()}
    with TemporaryDirectory() as base:
        out = Path(base) / "out"
        for k, files in enumerate(answers):
            if k == min(when, len(answers) - 1):
                put(out, mine)
            run(out, files)
        found = held(out)
        for name, text in mine.items():
            places = [name, f"{EARLIER}/{name}"]
            assert any(found.get(place) == text for place in places), name
        own = {n: t for n, t in found.items() if n in answers[-1]}
        assert own == answers[-1]
        assert set(found) - set(mine) - {RECORD} - set(own) == {
            name for name in found if name.startswith(f"{EARLIER}/")
        }


def test_a_stale_card_of_unknown_origin_does_not_stay_beside_a_newer_answer(tmp_path, caplog):
    put(tmp_path / "out", WAY)  # as a version without a record left it
    run(tmp_path / "out", NONE)
    found = held(tmp_path / "out")
    assert {name for name in found if "/" not in name} == {*NONE, RECORD}
    assert {n: found[f"{EARLIER}/{n}"] for n in WAY} == WAY
    assert "kept as earlier/" in caplog.text


def test_answers_of_two_kinds_stay_beside_each_other(tmp_path):
    run(tmp_path / "out", WAY)
    run(tmp_path / "out", {"balance.html": "b"}, "balance")
    run(tmp_path / "out", NONE)
    assert set(held(tmp_path / "out")) == {*NONE, "balance.html", RECORD}


def test_modes_links_and_empty_folders_are_kept(tmp_path):
    out = tmp_path / "out"
    run(out, WAY)
    out.chmod(0o750)
    (out / "empty").mkdir()
    (out / "link").symlink_to("nowhere")
    run(out, NONE)
    assert out.stat().st_mode & 0o777 == 0o750
    assert (out / "empty").is_dir()
    assert os.readlink(out / "link") == "nowhere"


def test_what_comes_in_while_folders_are_swapped_is_brought_back(tmp_path, monkeypatch):
    out = tmp_path / "out"
    run(out, WAY)
    swap = write._exchanged

    def late(place, new, old):
        put(out, {"notes.txt": "late", "step-1.svg": "by hand, late"})
        swap(place, new, old)

    monkeypatch.setattr(write, "_exchanged", late)
    run(out, NONE)
    found = held(out)
    assert found["notes.txt"] == "late"
    assert "by hand, late" in found.values()


def test_a_refused_or_broken_run_leaves_nothing(tmp_path):
    for target in (tmp_path / "a/b/out", tmp_path / "out"):
        with pytest.raises(InputError, match="No space left"), whole_folder(target, "sheet"):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_swapped_is_refused(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(InputError, match="name one inside it"):
        run(Path(), WAY)
    monkeypatch.setattr(folder, "MOST_KEPT", 3)
    put(tmp_path / "full", {f"{k}.txt": "mine" for k in range(6)})
    with pytest.raises(InputError, match="a folder of its own"):
        run(tmp_path / "full", WAY)
    assert len(held(tmp_path)) == 6


def test_without_an_exchange_of_the_system_two_steps_do_it(tmp_path, monkeypatch):
    monkeypatch.setattr(write.ctypes, "CDLL", lambda *_, **__: object())
    run(tmp_path / "out", WAY)
    put(tmp_path / "out", {"notes.txt": "mine"})
    run(tmp_path / "out", NONE)
    assert held(tmp_path / "out") == alone(NONE) | {"notes.txt": "mine"}
    # and where it was killed between the two, the next run brings the old one back first
    shop = tmp_path / f"{SHOP}out-abcdefgh"
    shop.mkdir()
    (tmp_path / "out").rename(shop / "old")
    run(tmp_path / "out", WAY)
    assert held(tmp_path / "out") == alone(WAY) | {"notes.txt": "mine"}
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


KILLED = """
import os, signal, sys
from pathlib import Path
from planform.report import swap as write
from planform.report.folder import whole_folder
out, step, two_steps = Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3] == "1"
count = 0
def counted(event, args):
    global count
    if event in ("os.rename", "os.link", "os.mkdir", "os.remove", "os.rmdir", "os.chmod", "open"):
        if str(out.parent) in repr(args) and "import" not in event:
            count += 1
            if count == step:
                os.kill(os.getpid(), signal.SIGKILL)
if two_steps:
    write.ctypes.CDLL = lambda *_, **__: object()
sys.addaudithook(counted)
with whole_folder(out, "rollout") as workshop:
    for name in ("route.html", "jam.svg"):
        (workshop / name).write_text({"route.html": "no way", "jam.svg": "jam"}[name])
print(count)
"""


def killed(out: Path, step: int, two_steps: bool) -> int:
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(out), str(step), str(int(two_steps))],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
        check=False,
    )
    assert done.returncode in (0, -signal.SIGKILL), done.stderr
    return int(done.stdout) if done.returncode == 0 else 0


@pytest.mark.parametrize("two_steps", [False, True])
def test_killed_at_any_step_the_old_folder_or_the_new_one_is_whole(tmp_path, two_steps):
    mine = {"notes.txt": "mine", "photos/tail.jpg": "tail"}
    old, new = alone(WAY) | mine, alone(NONE) | mine
    run(tmp_path / "0/out", WAY)
    put(tmp_path / "0/out", mine)
    steps = killed(tmp_path / "0/out", 0, two_steps)
    assert held(tmp_path / "0/out") == new
    seen = []
    for step in range(1, steps + 1, 1 if steps < 30 else 3):
        base = tmp_path / str(step)
        run(base / "out", WAY)
        put(base / "out", mine)
        killed(base / "out", step, two_steps)
        found = held(base / "out")
        assert found in (old, new) or (two_steps and found == {}), step
        seen.append(found == new)
        run(base / "out", {"route.html": "third"})
        assert held(base / "out") == alone({"route.html": "third"}) | mine
        assert [path.name for path in base.iterdir()] == ["out"]
    assert seen == sorted(seen)  # old until the swap, new from then on
    assert {*seen} == {False, True}


def test_a_live_run_beside_it_is_left_alone(tmp_path):
    with whole_folder(tmp_path / "out", "rollout") as workshop:
        put(workshop, WAY)
        run(tmp_path / "out", NONE)
        assert held(workshop) == WAY
    assert held(tmp_path / "out") == alone(WAY)


def test_starters_are_whole_and_never_over_ones_own(tmp_path):
    files = {"schema.json": "s", "mine.toml": "m"}
    (tmp_path / f"{SHOP}mine.toml").write_text("half")  # a killed run left it
    assert [path.name for path in written(tmp_path, files, ["mine.toml"])] == list(files)
    assert held(tmp_path) == files
    with pytest.raises(InputError, match="already there"):
        written(tmp_path, {"schema.json": "t", "mine.toml": "n"}, ["mine.toml"])
    assert held(tmp_path) == files


def test_every_answer_has_its_names():
    for answer in ("report", "preview", "sheet", "balance", "compare", "rollout", "changes",
                   "pack", "carry", "haul", "survey"):  # fmt: skip
        assert NAMES[answer]
