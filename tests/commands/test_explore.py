"""The explore command: what it refuses, and how it opens its page."""

from __future__ import annotations

import os
import signal
import stat

import pytest

from tests.commands.test_commands import MARRAM, called
from tests.conftest import DESIGNS
from tests.explore.served import gone, server
from tests.processes import waited

SHED = str(DESIGNS / "boatshed.toml")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("nowhere.toml",), "nowhere.toml: 1 problem\n  no such file"),
        ((SHED,), "this is a place file; a design file is wanted here"),
        ((MARRAM, MARRAM), "this is a design file; a place file is wanted here"),
        ((MARRAM, SHED, "--stage", "hul on its wheels"), "did you mean 'hull on its wheels'?"),
        ((MARRAM, SHED, "--stance", "floating"), "stance: given 'floating'; no such name"),
        ((MARRAM, SHED, "--spot", "moon"), "spot: given 'moon'; no such name"),
        ((MARRAM, SHED, "--units", "cubits"), "--units: given 'cubits'; allowed: ft-in"),
    ],
)
def test_bad_input_is_told_and_nothing_is_served(words, told):
    code, out, err = called("explore", *words, "--address")
    assert (code, out) == (2, "")
    assert told in err
    assert "Traceback" not in err


def test_where_no_browser_can_be_opened_the_address_is_told():
    bare = {"BROWSER": "", "DISPLAY": "", "WAYLAND_DISPLAY": ""}
    with server(MARRAM, env=bare, address_only=False) as (child, asker):
        told = child.stderr.readline()
        assert told == "no browser could be opened; open this address in yours\n"
        assert asker.request("GET", "").status == 200
        child.send_signal(signal.SIGINT)
        assert gone(child)[0] == 0


def test_a_browser_is_opened_with_the_address_and_may_stay(tmp_path):
    opened = tmp_path / "opened"
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\necho "$1" > {opened}\nexec sleep 5\n', encoding="utf-8")
    browser.chmod(browser.stat().st_mode | stat.S_IXUSR)
    env = {"BROWSER": f"{browser} %s", "PATH": os.environ["PATH"]}
    with server(MARRAM, env=env, address_only=False) as (child, asker):
        waited(lambda: opened.exists() and opened.read_text("utf-8").endswith("\n"))
        assert opened.read_text("utf-8").strip() == asker.address
        assert asker.json("GET", "numbers")["design"]
        child.send_signal(signal.SIGTERM)
        assert gone(child, 4.0)[0] == 143
