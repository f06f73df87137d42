"""The first evening in the page: asked, refused at the question, written, and explored."""

from __future__ import annotations

import re
import signal
from urllib.parse import urlencode

import planform as pf
from tests.commands.test_commands import called
from tests.explore.served import gone, server
from tests.laws.test_first_evening_laws import UNITS as SYSTEMS

FORM = {"Content-Type": "application/x-www-form-urlencoded"}


def posted(asker, **answers):
    answer = asker.request("POST", "", urlencode(answers).encode(), FORM)
    return answer.status, answer.getheader("Location"), answer.read().decode()


def test_answers_become_files_and_the_page_goes_on(tmp_path):
    with server(tmp_path) as (child, asker):
        form = asker.request("GET", "").read().decode()
        assert form.count("<label") == 29  # 28 questions and the units
        assert set(re.findall(r"<option[^>]*>([\w-]+)</option>", form)) >= set(SYSTEMS)
        status, _, told = posted(asker, span="8,2 m", tip_chord="3 m", units="mm")
        assert status == 422
        assert "a comma can be read two ways" in told
        assert 'value="8,2 m"' in told
        assert 'aria-invalid="true"' in told
        assert list(tmp_path.iterdir()) == []
        status, where, _ = posted(asker, name="<i>Wren</i>", span="27 ft 2 in ± 1/4 in", units="in")
        assert (status, where) == (303, "./")
        design = pf.load(tmp_path / "my-design.toml")
        assert design.name == "<i>Wren</i>"
        assert design.units == "in"
        page = asker.request("GET", "").read().decode()
        assert "<i>Wren" not in page
        assert "Wren" in page
        lines = {
            line["step"]: line
            for line in asker.ask({"design": {"winglets.winglet.cant": "20 deg"}})
        }
        assert "standing in the room" in lines
        assert "my-design.toml" in asker.json("GET", "numbers")["command"]
        child.send_signal(signal.SIGTERM)
        code, out, _ = gone(child)
    assert code == 128 + signal.SIGTERM
    assert "ended: the terminal ended it" in out


def test_a_form_from_elsewhere_is_refused(tmp_path):
    with server(tmp_path) as (_, asker):
        for origin in (None, "null", "http://example.org"):
            answer = asker.request("POST", "", b"span=8+m", {**FORM, "Origin": origin})
            assert answer.status == 403
        assert asker.request("POST", "", b"a" * 30_000, FORM).status == 413
        assert list(tmp_path.iterdir()) == []


def test_what_cannot_begin_is_told(tmp_path):
    (tmp_path / "my-design.toml").write_text("", encoding="utf-8")
    code, _, err = called("explore", tmp_path, "--address")
    assert code == 2
    assert "already there" in err
    code, _, err = called("explore", tmp_path, tmp_path / "p.toml", "--address")
    assert code == 2
    assert "the questions ask for the place too" in err
