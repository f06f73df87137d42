"""Names and texts of a file that are made to act: shown as they stand, by every writer."""

from __future__ import annotations

import csv
import json
import re
import subprocess
import tomllib
from html import escape
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import pytest

from planform.study import judging
from tests.conftest import DESIGNS, PLAIN, ROOM
from tests.fuzz.changes import written
from tests.fuzz.drive import run
from tests.fuzz.hostile import hostile
from tests.page.browser import PHONE
from tests.page.test_page import BROWSER, FLAGS

FILES = ("quillwort", "garden-shed", "flat-trailer")
SCRIPT = '"><img src=x onerror=parent.postMessage(1,"*")>'
MARKS = "=1+1 & [bold]b[/] {0} {{ x }} $y$ ]]> <!-- :joy: \\n"
TEXTS = (SCRIPT, MARKS, "_漢字 🛩 é")


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """The folder of what the commands wrote for files full of hostile texts, and what they said."""
    folder = tmp_path_factory.mktemp("hostile")
    tables = [tomllib.loads((DESIGNS / f"{name}.toml").read_text("utf-8")) for name in FILES]
    tables = [hostile(table, TEXTS) for table in (*tables, PLAIN, ROOM)]
    files = [str(folder / f"{k}.toml") for k in range(len(tables))]
    for path, table in zip(files, tables, strict=True):
        Path(path).write_text(written(table), encoding="utf-8")
    assert run("check", *files).code == 0
    design, place, carrier, plain, room = files
    part = "right " + next(iter(tables[0]["winglets"]))
    patch = pytest.MonkeyPatch()
    patch.setenv("PLANFORM_NO_GL", "1")
    patch.setattr(judging, "SPARING", 3_000)
    read = folder / "read.csv"
    read.write_text("what,point,to,read\nheight,nose tip,,3 ft\n", encoding="utf-8")
    calls = [
        ("survey", design, str(read)),
        ("balance", design),
        ("carry", design, place, "--part", part),
        ("haul", design, carrier, "--part", part),
        ("compare", plain, room, "--cant", "0 deg, 10 deg", "--workers", "1"),
        ("changes", plain, room, "--time", "1"),
        ("pack", room, plain, "--time", "30"),
        ("report", plain, room),
    ]
    said = {}
    for name, *words in calls:
        answer = run(name, *words, "-o", str(folder / name))
        assert answer.code in (0, 1), (name, answer.refused, answer.failure)
        said[name] = answer.out
    patch.undo()
    return folder, said


class Acting(HTMLParser):
    """Collects what would act in a page: scripts, handlers, pictures from elsewhere."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag, attrs):
        """A tag of the page."""
        held = dict(attrs)
        away = tag == "img" and not (held.get("src") or "").startswith("data:")
        if tag in ("script", "iframe", "b0") or away or any(k.startswith("on") for k in held):
            self.found.append(self.get_starttag_text() or tag)


def test_no_page_holds_anything_that_acts(made):
    folder, _ = made
    pages = list(folder.rglob("*.html"))
    assert len(pages) >= 8
    for page in pages:
        if page.name == "in-3d.html":
            continue  # it has scripts of its own; what it runs is seen in a browser, below
        content = page.read_text("utf-8")
        parser = Acting()
        parser.feed(content)
        assert not parser.found, page
        plain = content.replace("&#34;", '"').replace("&#39;", "'")
        assert any(escape(text, quote=False) in plain for text in TEXTS), page


def test_every_drawing_is_xml(made):
    folder, _ = made
    drawings = list(folder.rglob("*.svg"))
    assert len(drawings) >= 8
    literal = 0
    for path in drawings:
        tree = ElementTree.fromstring(path.read_text("utf-8"))
        literal += any(t in part for part in tree.itertext() for t in TEXTS)
        assert not [e for e in tree.iter() if e.tag.endswith(("}img", "}script"))], path
    assert literal >= 3


def test_a_spreadsheet_works_nothing_out(made):
    folder, _ = made
    tables = list(folder.rglob("*.csv"))
    assert len(tables) >= 4
    for path in tables:
        for line in csv.reader(path.read_text("utf-8").splitlines()):
            for cell in line:
                plain = re.fullmatch(r"-[\d.' /-]+(e-?\d+)?\"?( ?[a-z%]+)?", cell)
                assert plain or not cell.startswith(("=", "+", "-", "@")), (path, cell)


def test_json_and_terminal_say_the_names_as_they_are(made):
    folder, said = made
    for path in folder.rglob("[!.]*.json"):
        told = list(_texts(json.loads(path.read_text("utf-8"))))
        assert any(t in text for text in told for t in TEXTS), path
    squeezed = re.sub(r"\s+", "", "".join(said.values()))
    for text in (SCRIPT, MARKS):
        assert re.sub(r"\s+", "", text) in squeezed


def _texts(node):
    if isinstance(node, dict | list):
        for inner in node.values() if isinstance(node, dict) else node:
            yield from _texts(inner)
        if isinstance(node, dict):
            yield from node
    elif isinstance(node, str):
        yield node


@pytest.mark.page
@pytest.mark.skipif(BROWSER is None, reason="no chromium on this machine")
def test_nothing_runs_in_a_browser(made):
    folder, _ = made

    def messages(*pages):
        frames = "".join(f"<iframe src='{page.as_uri()}'></iframe>" for page in pages)
        count = "<script>n=0;document.title='0';onmessage=()=>{document.title=++n}</script>"
        index = folder / "index.html"
        index.write_text(f"<title></title>{count}{frames}", encoding="utf-8")
        got = subprocess.run(
            [BROWSER, *FLAGS, f"--user-data-dir={folder}/profile", "--dump-dom", index.as_uri()],
            capture_output=True,
            text=True,
            timeout=120,
            check=True,
        )
        return int(re.search(r"<title>(\d+)", got.stdout)[1])

    pages = sorted(folder.rglob("*.html"))
    control = folder / "control.html"
    control.write_text(f'<p title="{SCRIPT}">as if nobody escaped it</p>', encoding="utf-8")
    assert messages(control) == 1
    assert messages(*pages) == 0


@pytest.mark.page
def test_no_page_moves_sideways_on_a_telephone(made, page_at):
    pytest.importorskip("playwright.sync_api", reason="needs the extra for tests in a browser")
    folder, _ = made
    pages = [page for page in folder.glob("*/*.html") if page.name != "in-3d.html"]
    assert len(pages) >= 8
    page = page_at(pages[0], PHONE, touch=True).page
    for path in pages:
        page.goto(path.as_uri())
        wide = page.evaluate("[innerWidth, document.documentElement.scrollWidth]")
        assert wide == [PHONE[0], PHONE[0]], path


def test_dollars_in_a_rendered_picture_are_no_formula():
    pytest.importorskip("pyvista")
    from planform_viewer.stills import _words

    assert _words("a $x$", 12.0, "black", (0.0, 0.0)).GetInput() == r"a \$x\$"
