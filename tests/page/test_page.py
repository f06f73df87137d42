"""The made pages in a real browser, from a file and offline."""

from __future__ import annotations

import math
import re
import shutil
import subprocess

import pytest

import planform as pf
from planform.fit.moves import Pose
from planform.report.way_out.answer import write_route
from planform.report.way_out.handover import handover
from tests.conftest import DESIGNS
from tests.routes import chained, pushed, turned

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = [
    pytest.mark.page,
    pytest.mark.skipif(BROWSER is None, reason="no chromium on this machine"),
]

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


def dom(page, profile):
    done = subprocess.run(
        [BROWSER, *FLAGS, f"--user-data-dir={profile}", "--dump-dom", page.as_uri()],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    return done.stdout


def test_report_page_holds_verdicts_pictures_and_cautions(quillwort_report, tmp_path):
    text = dom(quillwort_report / "report.html", tmp_path)
    assert text.count("<tr><td>") > 20
    assert "does not fit" in text
    assert "Cautions" in text
    assert "complete, kneeling" in text
    assert text.count("<svg") >= 3 * 3
    assert "{{" not in text
    assert "nan" not in text.lower().replace("finance", "")


def test_sheet_prints_to_pdf(quillwort_report, tmp_path):
    pdf = tmp_path / "sheet.pdf"
    page = (quillwort_report / "sheet.html").as_uri()
    subprocess.run(
        [BROWSER, *FLAGS, f"--user-data-dir={tmp_path}/p", f"--print-to-pdf={pdf}", page],
        capture_output=True,
        timeout=120,
        check=True,
    )
    assert pdf.read_bytes().startswith(b"%PDF")
    assert pdf.stat().st_size > 20_000


def test_balance_page_and_record_in_a_browser(tmp_path):
    design = pf.load(DESIGNS / "marram.toml")
    found = pf.balance_findings(pf.stand_all(pf.build(design)), design)
    pf.write_balance(found, tmp_path / "b", "ft-in")
    text = dom(tmp_path / "b" / "balance.html", tmp_path / "profile")
    assert text.count("<svg") == 3  # the envelope, the lateral limits, the burn
    assert 'class="v not">outside' in text
    assert "level correction" in text
    assert text.count("<table") >= 12
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
    record = dom(tmp_path / "b" / "weighing-record.html", tmp_path / "profile")
    assert "signature of the person entitled to sign" in record
    assert "FS 179.67 in" in record


def test_helpers_card_prints_on_one_page(tmp_path):
    standing = pf.stand_all(pf.build(pf.load(DESIGNS / "marram.toml")))[0]
    room = pf.build_room(pf.load_place(DESIGNS / "boatshed.toml"))
    start = Pose(5.26, 4.57, math.pi)
    turns = [lambda p, k=k: turned(p, (0.0, 0.914), 0.05 * (-1) ** k) for k in range(7)]
    route = chained(start, *turns, lambda p: pushed(p, 9.0))
    found = handover(standing, room, route)
    assert len(found.steps) == 8
    write_route(found, tmp_path / "out", "ft-in")
    pdf = tmp_path / "card.pdf"
    page = (tmp_path / "out" / "helpers-card.html").as_uri()
    subprocess.run(
        [BROWSER, *FLAGS, f"--user-data-dir={tmp_path}/p", f"--print-to-pdf={pdf}", page],
        capture_output=True,
        timeout=120,
        check=True,
    )
    assert len(re.findall(rb"/Type /Page\b", pdf.read_bytes())) == 1
    text = dom(tmp_path / "out" / "route.html", tmp_path / "q")
    assert text.count("<figure>") == 2 + 8 + 2
    ids = re.findall(r' id="([^"]+)"', text)
    assert len(ids) == len(set(ids))
