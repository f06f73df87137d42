"""What the report's page says of tolerances, guidance and the last chance."""

from __future__ import annotations

import json

import planform as pf
from planform.design.load import design_from, place_from
from planform.study import judging


def test_report_holds_its_column_the_last_chance_and_what_to_measure(
    plain, room, tmp_path, monkeypatch
):
    monkeypatch.setenv("PLANFORM_NO_GL", "1")
    monkeypatch.setattr(judging, "SPARING", 3_000)  # how wide the way out is stands elsewhere
    plain["stages"] = [
        {"name": "winged", "without": ["winglet"], "stance": "gear"},
        {"name": "complete", "stance": "gear", "permanent": "winglets bonded on"},
    ]
    room["doors"][0]["clear_height"] = "1.99 m ± 20 mm (assumed)"
    room["clearances"] = {"guide": "MIL-HDBK-1028/1C", "walls": "0.1 m", "source": "our wish"}
    pf.write_report(design_from(plain), place_from(room), tmp_path / "out")
    page = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    for words in (
        "Box: LAST CHANCE is “winged”. Take it out before “complete” (winglets bonded on)",
        "for good: winglets bonded on",
        "What to measure next",
        "Measure next, for “door: under the door head”: clear height of “door” (",
        "wanted: MIL-HDBK-1028/1C (1999), par. 3.3 (read)",
        "wanted: our wish",
        "not law for a private shop",
        "99 of 100 cases",
    ):
        assert words in page
    answer = json.loads((tmp_path / "out" / "answer.json").read_text(encoding="utf-8"))
    assert answer["last_chance"]["before_the_step_to"] == "complete"
    head = next(c for c in answer["stages"][1]["checks"] if c["key"] == "door: head")
    assert head["tolerance"]["could_turn"]
    assert head["wanted_from"] == "MIL-HDBK-1028/1C (1999), par. 3.3 (read)"
    sheet = (tmp_path / "out" / "sheet.html").read_text(encoding="utf-8")
    assert "state law (common practice, no source)" in sheet
