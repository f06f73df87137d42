"""A real server in a process of its own: what it answers, and how it ends."""

from __future__ import annotations

import copy
import http.client
import json
import os
import signal
import socket
import threading
from contextlib import suppress

import pytest

import planform as pf
from planform.airframe.measure import extents
from planform.design.load import changed
from planform.explore import answering as answering_module
from planform.explore.answering import Answering, steps
from planform.explore.asked import question_of
from planform.explore.watch import Watch
from planform.fit.straight import Straight
from tests.conftest import PLAIN, ROOM
from tests.explore.served import QUICK, gone, server
from tests.fuzz.changes import written
from tests.processes import below

CANT = "winglets.winglet.cant"
PARKED = "standing in the room"


THINGS = {"bench": [(0, 0), (1, 0), (1, 2)], "rack": [(11, 8), (12, 8), (12, 9)]}


def small(folder):
    """A small design and room, as files: every step of an answer takes little."""
    design, place = copy.deepcopy(PLAIN), copy.deepcopy(ROOM)
    design["winglets"]["winglet"]["cant"] = "0 deg ± 0.5 deg (measured)"
    design["stances"]["low"] = {"on": ["nose", "main"], "flat": ["main"]}
    design["stages"].insert(0, {"name": "bare", "stance": "gear", "without": ["winglet"]})
    place["obstacles"] = [
        {"name": name, "kind": "standing", "outline": [[f"{x} m", f"{y} m"] for x, y in ring],
         "top": "0.9 m"}
        for name, ring in THINGS.items()
    ]  # fmt: skip
    files = folder / "plain.toml", folder / "box.toml"
    for path, table in zip(files, (design, place), strict=True):
        path.write_text(written(table), encoding="utf-8")
    return files


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    return small(tmp_path_factory.mktemp("small"))


@pytest.fixture(scope="module")
def asked(files):
    with server(*files, "--stage", "complete") as (_, asker):
        yield asker


def until(lines, step):
    """The lines of an answer up to a step."""
    out = []
    for line in lines:
        out.append(line)
        if line.get("step") == step or "step" not in line:
            lines.close()
            break
    return out


def strip_of(line):
    return {row["key"]: row for row in line["strip"]}


def stage_of(line):
    (stage,) = line["look"]["stages"]
    return stage


def test_the_page_and_what_it_loads(asked):
    answer = asked.request("GET", "")
    text = answer.read().decode()
    assert answer.status == 200
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    assert "default-src 'none'" in answer.headers["Content-Security-Policy"]
    assert "http" not in text.replace("http-equiv", "").replace("application/json", "")
    assert asked.secret not in text
    held = text.split('id="look">')[1].split("</script>")[0]
    look = json.loads(held)
    assert [part["name"] for part in look["stages"][0]["parts"]]
    assert {"rack", "bench"} <= {one["name"] for one in look["room"]["things"] if one["movable"]}
    for name in ("three.js", "explore.js", "explore.css"):
        found = asked.request("GET", name)
        assert found.status == 200
        assert found.read()


def test_numbers_and_names(asked, files):
    found = asked.json("GET", "numbers")
    assert {one["path"] for one in found["design"]} >= {CANT, "winglets.winglet.length"}
    assert {one["path"] for one in found["place"]} >= {"doors[1].clear_height", "spots[1].heading"}
    assert [one["name"] for one in found["stages"]][-1] == "complete"
    assert found["stances"] == ["gear", "low"]
    assert found["spots"][0]["name"] == "middle"
    assert found["files"] == {"design": str(files[0]), "place": str(files[1])}
    assert found["command"].startswith("planform explore ")
    assert found["problems"] == []


@pytest.mark.parametrize(
    ("method", "path", "headers", "body", "status"),
    [
        ("GET", "", {"Host": "evil.example"}, None, 403),
        ("GET", "", {"Origin": "http://evil.example"}, None, 403),
        ("POST", "ask", {"Origin": None}, b"{}", 403),
        ("POST", "ask", {"Origin": "http://evil.example"}, b"{}", 403),
        ("GET", "../x/", {}, None, 404),
        ("GET", "nothing", {}, None, 404),
        ("GET", "../../etc/passwd", {}, None, 404),
        ("GET", "page.js", {}, None, 404),
        ("GET", "events", {}, None, 400),
        ("GET", "ask", {}, None, 405),
        ("POST", "numbers", {}, b"{}", 405),
        ("PUT", "ask", {"Origin": None}, b"{}", 403),
        ("POST", "ask", {}, b"no json", 400),
        ("POST", "ask", {}, b"", 400),
        ("POST", "ask", {}, b"[]", 400),
        ("POST", "ask", {"Content-Type": "text/plain"}, b"{}", 400),
        ("POST", "ask", {}, b" " * 300_000, 400),
        ("POST", "keep", {}, b"{}", 400),
    ],
)
def test_what_is_no_question_of_the_page_is_refused_in_one_sentence(
    asked, method, path, headers, body, status
):
    answer = asked.request(method, path, body, headers)
    assert answer.status == status
    words = json.loads(answer.read())["words"]
    assert words.endswith(".")
    assert "\n" not in words
    assert asked.secret not in words


def test_what_is_no_http_breaks_nothing(asked):
    for raw in (b"\0\1\2\3\r\n\r\n", b"GET / HTTP/1.1\r\n", b"GET " + b"x" * 100_000):
        with socket.create_connection(("127.0.0.1", asked.port), timeout=10) as one:
            one.sendall(raw)
    assert asked.json("GET", "numbers")["version"] == 0


def test_it_listens_on_this_machine_alone(asked):
    with (
        pytest.raises(OSError, match="refused"),
        socket.create_connection(("127.0.0.2", asked.port), timeout=2),
    ):
        pass


def test_an_answer_comes_in_order_and_is_what_the_library_says(asked, files):
    lines = list(asked.ask({"design": {CANT: "20 deg"}}))
    every = steps(Watch(*files, None).files)
    assert tuple(line["step"] for line in lines) == every
    assert {line["ticket"] for line in lines} == {asked.ticket}
    for k, line in enumerate(lines):
        assert (*line["done"], *line["left"]) == every
        assert len(line["done"]) == k + 1
    assert lines[0]["values"]["design"][CANT]["value"] == pytest.approx(0.34906585)
    design = changed(pf.load(files[0]), CANT, "20 deg ± 0.5 deg (measured)")
    standing = pf.stand(pf.build(design), "complete")
    measures = {m.key: m.value for m in extents(standing)}
    strip = strip_of(lines[-2])
    assert strip["tip_height"]["now"] == pf.said(measures["tip_height"], "length", "m")
    assert strip["tip_height"]["change"].startswith("-")
    place = pf.load_place(files[1])
    parked = Straight(standing, pf.build_room(place), None).answer()
    assert strip["room"]["now"] == parked.room_verdict.value
    assert set(strip) == {
        "tip_height", "height", "width", "length", "room", "least_gap", "verdict", "cg",
        "margin", "drag",
    }  # fmt: skip
    assert all(row["base"] and row["now"] for row in strip.values())
    assert strip["verdict"]["now"] == pf.judge(standing, place).verdict.value
    stage = stage_of(lines[-3])
    assert stage["verdict"]["word"] == strip["verdict"]["now"]
    assert stage["way"] is not None
    assert stage["measures"]


def test_what_is_not_worked_out_yet_is_not_told(asked):
    changes = {"design": {CANT: "21 deg"}}
    built, parked = until(asked.ask(changes), PARKED)
    assert stage_of(built)["verdict"] is None
    assert stage_of(built)["leaders"] == []
    assert stage_of(built)["way"] is None
    assert set(strip_of(built)) == {"tip_height", "height", "width", "length"}
    assert stage_of(parked)["verdict"]["room"]["word"] == strip_of(parked)["room"]["now"]
    assert stage_of(parked)["verdict"]["word"] == "not judged"
    assert stage_of(parked)["way"] is None
    assert "verdict" not in strip_of(parked)


def test_a_mesh_that_the_page_has_is_not_sent_again(asked):
    first = until(asked.ask({"design": {CANT: "22 deg"}}), "built")[0]
    has = list(first["look"]["meshes"])
    assert has
    again = until(asked.ask({"design": {CANT: "23 deg"}}, has=has), "built")[0]
    sent = again["look"]["meshes"]
    assert 0 < len(sent) < len(has)
    held = {*has, *sent}
    assert {part["mesh"] for part in stage_of(again)["parts"]} <= held
    whole = until(asked.ask({"design": {CANT: "23 deg"}}, has=has, whole=True), "built")[0]
    assert len(whole["look"]["meshes"]) > len(sent)


def test_a_newer_question_ends_the_older_one_and_a_third_the_second(asked):
    older = asked.ask({"design": {CANT: "24 deg"}})
    assert next(older)["step"] == "built"
    newer = asked.ask({"design": {CANT: "25 deg"}})
    ended = list(older)[-1]
    assert ended == {"ticket": asked.ticket - 1, "halted": True}
    assert next(newer)["values"]["design"][CANT]["text"].startswith("25 deg")
    newer.close()


def test_two_pages_do_not_end_each_other(asked):
    one = asked.ask({"design": {CANT: "26 deg"}}, page="one")
    two = asked.ask({"design": {CANT: "27 deg"}}, page="two")
    told = [until(lines, PARKED)[-1] for lines in (one, two)]
    assert [line["step"] for line in told] == [PARKED, PARKED]
    tips = [strip_of(line)["tip_height"]["now"] for line in told]
    assert tips[0] != tips[1]


def test_a_hundred_changes_at_once_and_the_newest_is_answered(asked):
    ends = {}

    def one(ticket):
        body = {"page": "many", "ticket": ticket, "changes": {"design": {CANT: f"{ticket} deg"}}}
        answer = asked.request("POST", "ask", body)
        lines = []
        for raw in answer:
            lines.append(json.loads(raw))
            if lines[-1].get("step") == PARKED:
                break
        ends[ticket] = lines[-1]

    threads = [threading.Thread(target=one, args=(k,)) for k in range(1, 61)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(120.0)
    assert len(ends) == 60
    assert ends[60]["step"] == PARKED
    assert all(line.get("halted") or line["step"] == PARKED for line in ends.values())


def test_mistakes_come_back_at_their_fields(asked):
    changes = {"design": {CANT: "steep"}, "place": {"floor.width": "1 mm"}}
    (line,) = asked.ask(changes)
    assert {(one["file"], one["path"]) for one in line["problems"]} == {
        ("design", CANT),
        ("place", "floor.width"),
    }
    (line,) = asked.ask({}, stage="nowhere")
    assert line["problems"][0]["path"] == "stage"


def test_what_cannot_be_built_is_told_and_ends_nothing(asked):
    lines = list(asked.ask({"design": {"wheels.nose.wl": "WL 40 m"}}))
    assert lines[-1]["problems"]
    assert until(asked.ask(), PARKED)[-1]["step"] == PARKED


def test_stage_stance_and_spot_are_switched(asked):
    kneeling = until(asked.ask(stance="low"), PARKED)[-1]
    assert stage_of(kneeling)["stance"] == "low"
    first = until(asked.ask(stage="bare"), PARKED)[-1]
    assert stage_of(first)["stage"] == "bare"
    assert all(row["change"] == "" for row in strip_of(first).values())
    moved = until(asked.ask(spot={"at": [4.3, 5.2], "heading": 3.14}), PARKED)[-1]
    assert stage_of(moved)["spot"]["at"] == [4.3, 5.2]
    assert strip_of(moved)["least_gap"]["change"]
    assert strip_of(moved)["tip_height"]["change"] == ""


def test_a_base_of_its_own(asked):
    base = {"changes": {"design": {CANT: "20 deg"}}, "spot": None}
    line = until(asked.ask({"design": {CANT: "20 deg"}}, base=base), PARKED)[-1]
    assert all(row["change"] == "" for row in strip_of(line).values())
    line = until(asked.ask({}, base=base), PARKED)[-1]
    assert strip_of(line)["tip_height"]["change"].startswith("+")


def test_a_thing_of_the_room_is_moved(asked):
    found = asked.json("GET", "numbers")["place"]
    mine = [one for one in found if one["moves"] == "rack" and one["axis"] == "x"]
    changes = {one["path"]: f"{one['value'] - 1.0:.6f} m" for one in mine}
    line = until(asked.ask({"place": changes}), "built")[0]
    things = {one["name"]: one for one in line["look"]["room"]["things"]}
    before = until(asked.ask(), "built")[0]
    there = {one["name"]: one for one in before["look"]["room"]["things"]}
    assert things["rack"]["mesh"] != there["rack"]["mesh"]
    assert things["bench"]["mesh"] == there["bench"]["mesh"]


@pytest.fixture
def own(tmp_path):
    return small(tmp_path)


def test_an_edited_file_is_taken_up_and_a_wrong_one_told(own):
    with server(*own, code=QUICK.format(lingers=30.0)) as (_, asker):
        events = asker.events()
        good = own[0].read_text("utf-8")
        own[0].write_text(good.replace('"0 deg ±', '"steep ±'), "utf-8")
        name, news = next(events)
        assert name == "file"
        assert news["problems"][0]["path"] == CANT
        line = until(asker.ask(), "built")[0]
        assert line["step"] == "built"  # the last good one stays
        assert asker.json("GET", "numbers")["problems"] == news["problems"]
        own[0].write_text(good.replace('"0 deg ±', '"30 deg ±'), "utf-8")
        name, news = next(events)
        assert (news["problems"], news["version"]) == ([], 1)
        lower = until(asker.ask(), "built")[0]
        assert strip_of(lower)["tip_height"]["now"] != strip_of(line)["tip_height"]["now"]
        assert strip_of(lower)["tip_height"]["change"] == ""  # the files are the base
        own[1].unlink()
        name, news = next(events)
        assert "no such file" in news["problems"][0]["words"]
        assert until(asker.ask(), PARKED)[-1]["step"] == PARKED


def test_keep_writes_a_new_file(own):
    with server(*own) as (_, asker):
        body = {"file": "design", "name": "second.toml", "changes": {"design": {CANT: "20 deg"}}}
        found = asker.json("POST", "keep", body)
        assert found["asks"][0]["path"] == CANT
        more = {"carry": {CANT: "keep"}, "write": True}
        found = asker.json("POST", "keep", {**body, **more})
        assert found["written"] == str(own[0].with_name("second.toml"))
        assert pf.load(found["written"]).winglets["winglet"].cant.text.startswith("20 deg ±")
        again = asker.json("POST", "keep", {**body, **more})
        assert again["problems"][0]["path"] == "name"


@pytest.mark.parametrize(
    ("number", "code"),
    [(signal.SIGINT, 0), (signal.SIGTERM, 143), (signal.SIGHUP, 129)],
    ids=["Ctrl-C", "TERM", "HUP"],
)
def test_it_ends_with_the_terminal_in_the_midst_of_work_and_leaves_nothing(number, code, own):
    with server(*own) as (child, asker):
        events = asker.events()
        lines = asker.ask()
        assert next(lines)["step"] == "built"
        ended = []
        listening = threading.Thread(target=lambda: ended.extend(events))
        listening.start()
        child.send_signal(number)
        found = gone(child)
        listening.join(30.0)
        assert ended == [("ends", {"words": "the terminal ended it"})]
        assert found == (code, "ended: the terminal ended it\n", "")
        assert list(lines)[-1] == {"ticket": 1, "halted": True}
        assert below_of(child) == []
    assert sorted(path.name for path in own[0].parent.iterdir()) == ["box.toml", "plain.toml"]
    with (
        pytest.raises(OSError, match="refused"),
        socket.create_connection(("127.0.0.1", asker.port), timeout=2),
    ):
        pass


def below_of(child):
    try:
        return below(child.pid)
    except FileNotFoundError:
        return []


def test_killed_it_leaves_nothing_and_another_is_begun_by_the_same_command(own):
    with server(*own) as (child, asker):
        lines = asker.ask()
        next(lines)
        before = below_of(child)
        assert before == []  # no process of its own
        os.kill(child.pid, signal.SIGKILL)
        with suppress(http.client.HTTPException, OSError):
            assert all(line["step"] != "all" for line in lines)  # it breaks off
    assert sorted(path.name for path in own[0].parent.iterdir()) == ["box.toml", "plain.toml"]
    with server(*own) as (_, again):
        assert again.secret != asker.secret
        assert until(again.ask(), "built")[0]["step"] == "built"


def test_it_ends_a_while_after_the_last_page_closed_and_not_while_one_is_open(own):
    with server(own[0], code=QUICK.format(lingers=1.0)) as (child, asker):
        one = asker.request("GET", "events?page=one")
        two = asker.request("GET", "events?page=two")
        one.close()
        assert child.poll() is None
        assert asker.json("GET", "numbers")["place"] == []
        two.close()
        code, out, err = gone(child)
        assert (code, err) == (0, "")
        assert out == "ended: the last page was closed 1 s ago\n"


def test_memory_is_flat_after_many_changes(files, monkeypatch):
    monkeypatch.setattr(answering_module, "MESHES", 40)

    read, answering = Watch(*files, None).files, Answering()

    def sizes():
        desk, meshes = answering._desk, answering._meshes
        return [*(len(one) for one in desk._kept.values()), len(meshes._kept),
                len(answering._strips)]  # fmt: skip

    def change(k):
        given = {"page": "p", "ticket": k, "changes": {"design": {CANT: f"{k / 8} deg"}}}
        lines = answering.lines(read, question_of(given))
        assert next(lines)["step"] == "built"
        lines.close()

    for k in range(40):
        change(k)
    before = sizes()
    for k in range(40, 60):
        change(k)
    assert sizes() == before
