"""The files on disk: taken up where they change, and the last good ones where they are wrong."""

from __future__ import annotations

import math
import os

import pytest

from planform.design.problems import InputError
from planform.explore.watch import Watch
from tests.conftest import DESIGNS


@pytest.fixture
def both(tmp_path):
    for name in ("marram", "boatshed"):
        (tmp_path / f"{name}.toml").write_bytes((DESIGNS / f"{name}.toml").read_bytes())
    return tmp_path / "marram.toml", tmp_path / "boatshed.toml"


def edited(path, old, new):
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


CANT = 'cant = "12 deg ± 0.25 deg (measured)"'


def test_what_does_not_change_is_no_news(both):
    watch = Watch(*both, None)
    assert watch.look() is None
    assert watch.files.version == 0


def test_a_file_written_anew_is_taken_up_at_once(both):
    watch = Watch(*both, None)
    edited(both[0], CANT, 'cant = "20 deg"')
    news = watch.look()
    assert news.record() == {"version": 1, "changed": ["design"], "problems": []}
    assert watch.files.design.design.winglets["winglet"].cant.text == "20 deg"
    assert watch.look() is None
    edited(both[1], 'depth = "28 ft"', 'depth = "29 ft"')
    assert watch.look().changed == ("place",)
    assert watch.files.place.place.floor.depth.text == "29 ft"
    assert watch.files.version == 2


def test_a_file_swapped_for_another_is_taken_up_though_its_time_is_the_same(both, tmp_path):
    watch = Watch(*both, None)
    other = tmp_path / "other"
    other.write_text(both[0].read_text(encoding="utf-8").replace("12 deg", "13 deg"), "utf-8")
    before = os.stat(both[0])
    os.utime(other, ns=(before.st_atime_ns, before.st_mtime_ns))
    os.replace(other, both[0])
    assert watch.look().changed == ("design",)
    assert watch.files.design.design.winglets["winglet"].cant.text.startswith("13 deg")


def test_while_a_file_is_wrong_the_last_good_one_stays_and_the_error_is_told(both):
    watch = Watch(*both, None)
    good = watch.files
    edited(both[0], CANT, 'cant = "steep"')
    assert watch.look() is None  # an editor may still be writing
    news = watch.look()
    assert news.version == 0
    (told,) = news.record()["problems"]
    assert (told["file"], told["path"], told["given"]) == (
        "design",
        "winglets.winglet.cant",
        "'steep'",
    )
    assert watch.files is good
    assert watch.news().problems == news.problems
    edited(both[0], 'cant = "steep"', 'cant = "')
    assert watch.look() is None
    (told,) = watch.look().record()["problems"]
    assert "not readable as TOML" in told["words"]
    both[0].write_bytes((DESIGNS / "marram.toml").read_bytes())
    assert watch.look().problems == ()
    assert watch.files.version == 1


def test_a_file_read_in_the_midst_of_being_written_is_no_mistake(both):
    watch = Watch(*both, None)
    whole = both[0].read_bytes().replace(b"12 deg", b"14 deg")
    both[0].write_bytes(b"")
    assert watch.look() is None
    both[0].write_bytes(whole[:900])
    assert watch.look() is None
    both[0].write_bytes(whole)
    assert watch.look().problems == ()
    assert watch.files.design.design.winglets["winglet"].cant.text.startswith("14 deg")
    assert watch.look() is None


def test_a_file_that_is_deleted_is_told_and_taken_up_when_it_is_back(both):
    watch = Watch(*both, None)
    text = both[1].read_bytes()
    both[1].unlink()
    assert watch.look() is None
    (told,) = watch.look().record()["problems"]
    assert told["file"] == "place"
    assert "no such file" in told["words"]
    assert watch.files.place is not None
    assert watch.look() is None
    both[1].write_bytes(text)
    assert watch.look().problems == ()


def test_included_files_and_those_of_profiles_are_watched_too(both, tmp_path):
    edited(both[0], 'units = "ft-in"', 'units = "ft-in"\ninclude = ["more.toml"]')
    more = tmp_path / "more.toml"
    more.write_text('[profiles.own]\nfile = "own.dat"\n[values]\na = "1 in"\n', encoding="utf-8")
    edited(both[0], 'root_setback = "2 in"', 'root_setback = "= a + 1 in"')
    stations = [0.5 * (1.0 + math.cos(math.pi * k / 12)) for k in range(25)]
    sides = [1.0 if k < 12 else -1.0 for k in range(25)]
    points = [
        f"{x:.6f} {side * 0.1 * math.sqrt(max(x, 0.0)) * (1.0 - x):.6f}\n"
        for x, side in zip(stations, sides, strict=True)
    ]
    (tmp_path / "own.dat").write_text("own\n" + "".join(points), encoding="utf-8")
    edited(both[0], 'profile = "NACA 0010"', 'profile = "own"')
    watch = Watch(*both, None)
    edited(more, '"1 in"', '"1 1/2 in"')
    assert watch.look().problems == ()
    assert watch.files.design.design.winglets["winglet"].root_setback == pytest.approx(0.0635)
    (tmp_path / "own.dat").write_text("nothing", encoding="utf-8")
    assert watch.look() is None
    assert watch.look().record()["problems"]


def test_what_cannot_be_read_at_first_is_refused(both):
    edited(both[0], CANT, 'cant = "steep"')
    with pytest.raises(InputError, match="steep"):
        Watch(*both, None)
