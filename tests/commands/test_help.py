"""What a shell and a reader are told of the commands: completion, help, and one default stage."""

from __future__ import annotations

import copy
import io
import json
import os
import re
import subprocess
import sys
from contextlib import chdir, redirect_stderr, redirect_stdout
from unittest import mock

import pytest
import typer
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planform.cli import completing
from planform.cli.app import app
from tests.commands.test_commands import DESIGNS, MARRAM, SHED, called
from tests.conftest import PLAIN, ROOM
from tests.fuzz.changes import written

COMMANDS = typer.main.get_command(app).commands
MAIN = "from planform.cli.app import main; main()"
TYPES = re.compile(
    r"\b(TEXT|PATH|FLOAT|INTEGER|str|int|float|bool|path|list|range|None|True|False|directory)\b"
)


@pytest.mark.parametrize("name", ["", *COMMANDS])
def test_help_speaks_no_types_and_says_what_follows_an_option(name):
    code, out, _ = called(*[name] * bool(name), "--help")
    assert code == 0
    assert not TYPES.search(out.replace("a dask scheduler", ""))
    assert "[OPTIONS]" not in out
    assert "..." not in out.split("\n", 2)[2]  # no sentence is cut off
    for line in re.findall(r"^  (-.*?)(?:  |$)", out, flags=re.MULTILINE):
        assert re.fullmatch(r"(-o, )?--[a-z]+( [A-Z]+)?", line), line


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("rollout", MARRAM, SHED, "--time", "soon"), "--time: given 'soon'; allowed: a number"),
        (("rollout", MARRAM, SHED, "--time", "0"), "a number of 1 or more"),
        (("compare", MARRAM, "--lift", "much"), "--lift: given 'much'; allowed: a number"),
        (("compare", MARRAM, "--workers", "1.5"), "--workers: given '1.5'; allowed: a whole"),
        (("--completion", "nutshell"), "--completion: given 'nutshell'; allowed: bash, zsh"),
    ],
)
def test_numbers_are_asked_for_in_words(words, told):
    code, out, err = called(*words)
    assert (code, out) == (2, "")
    assert told in err


def offered(*words):
    """What bash is offered behind these words, the last of which is not yet whole."""
    asked = {
        "COMP_WORDS": "\n".join(["planform", *words]),
        "COMP_CWORD": str(len(words)),
        completing.VARIABLE: "complete_bash",
    }
    out, err = io.StringIO(), io.StringIO()
    with (
        chdir(DESIGNS),
        mock.patch.dict(os.environ, asked),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        assert completing.complete(app) == 0
    assert err.getvalue() == ""
    return out.getvalue().splitlines()


def test_bash_is_offered_commands_files_and_names():
    assert offered("ca") == ["carry"]
    assert "haul" in offered("")
    assert offered("fit", "mar") == ["marram.toml"]
    assert offered("fit", "marram.toml", "b") == ["barn.toml", "boatshed.toml"]
    assert offered("haul", "marram.toml", "") == [
        "box-container.toml", "flat-trailer.toml", "readings/", "schemas/",
    ]  # fmt: skip
    assert offered("measure", "marram.toml", "--stage", "") == [
        "spars and winglets, no skins", "hull on its wheels", "engine hung, canopy up",
        "complete", "all",
    ]  # fmt: skip
    assert offered("preview", "marram.toml", "--stage", "engine\\ h") == ["engine hung, canopy up"]
    assert "kneeling" in offered("measure", "marram.toml", "--stance", "k")[0]
    assert offered("rollout", "marram.toml", "boatshed.toml", "--spot", "")
    found = offered("carry", "marram.toml", "--part", "left\\ out")
    assert sorted(found) == ["left outer panel", "left outer spar"]
    assert "left outer panel + left winglet" in offered(
        "carry", "marram.toml", "--part", '"left outer panel + left w'
    )
    assert "Marram: complete" in offered("pack", "long-hall.toml", "marram.toml", "--stage", "")


class Line:
    """A line that names files, as the library of commands reads it."""

    def __init__(self, *words):
        self.params = {"design": words[0] if words else None, "places": list(words[1:])}
        self.args = []


BAD = st.one_of(
    st.binary(max_size=60),
    st.text(max_size=60).map(lambda text: text.encode("utf-8", "replace")),
    st.sampled_from([
        b"", b"format", b'format = "planform design 1"\nstages = 3\nstances = [1]\nspots = {}',
        b'format = "planform design 1"\n[[stages]]\nname = 4\n[[stages]]\nname = "a\\nb"',
        b'format = "planform place 1"\nspots = [[1], {}]', b'format = "planform design 1"\nx = [',
    ]),
)  # fmt: skip


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=BAD, incomplete=st.text(max_size=8))
def test_bad_files_offer_nothing_and_raise_nothing(content, incomplete, tmp_path):
    path = tmp_path / "bad.toml"
    path.write_bytes(content)
    for words in ((), (path,), (path, path), (tmp_path, "/no/such.toml", "\0.toml")):
        for offer in ("stages", "stages_or_all", "staged", "stances", "spots", "parts"):
            assert getattr(completing, offer)(Line(*words), incomplete) == []
    assert isinstance(completing.files("design", "place")(incomplete), list)


def test_the_script_for_bash_fills_the_words(tmp_path):
    program = tmp_path / "planform"
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -c "{MAIN}" "$@"\n')
    program.chmod(0o755)
    code = """
eval "$(planform --completion bash)"
COMP_WORDS=(planform measure marram.toml --stage '"engine'); COMP_CWORD=4
_planform_completion planform
printf '%s\n' "${COMPREPLY[@]}"
complete -p planform
"""
    done = subprocess.run(
        ["bash", "--norc", "-c", code],
        cwd=DESIGNS,
        capture_output=True,
        text=True,
        timeout=120,
        env={**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}"},
        check=False,
    )
    assert done.stdout.splitlines() == [
        "engine hung, canopy up",
        "complete -o default -F _planform_completion planform",
    ]


FIRST = [
    {"name": "whole", "stance": "gear"},
    {"name": "bare", "stance": "gear", "without": ["wing"]},
]


@pytest.fixture
def files(tmp_path):
    """A design whose complete stage is not its last, and a room."""
    plain = copy.deepcopy(PLAIN) | {"stages": FIRST}
    plain["masses"] = [
        {"name": "wing", "part": "wing", "mass": "60 kg", "fs": "1.2 m", "wl": "0 m"},
        {"name": "pod", "part": "pod", "mass": "200 kg", "fs": "0.6 m", "wl": "0 m"},
    ]
    design, place = tmp_path / "plain.toml", tmp_path / "room.toml"
    design.write_text(written(plain))
    place.write_text(written(ROOM))
    return str(design), str(place)


def stages_in(answer):
    """Every stage that an answer tells, by name."""
    if isinstance(answer, list):
        return {name for one in answer for name in stages_in(one)}
    if not isinstance(answer, dict):
        return set()
    named = {answer["stage"]} if isinstance(answer.get("stage"), str) else set()
    return named | {name for one in answer.values() for name in stages_in(one)}


def test_the_default_stage_is_the_same_in_every_command_and_told(files):
    design, place = files
    for words in (
        ("measure", design), ("balance", design), ("fit", design, place),
        ("rollout", design, place), ("compare", design),
    ):  # fmt: skip
        code, out, _ = called(*words, "--json")
        answer = json.loads(out)
        assert code in (0, 1)
        assert stages_in(answer) == {"whole"}, words
        assert "stage: “whole”" in json.dumps(answer, ensure_ascii=False), words


def test_all_stages_are_asked_for_in_one_word_where_several_are_told(files):
    design, place = files
    for words in (("measure", design), ("balance", design)):
        _, out, _ = called(*words, "--json", "--stage", "all")
        assert stages_in(json.loads(out)) == {"whole", "bare"}, words
        _, out, _ = called(*words, "--json", "--stage", "bare", "--stage", "whole")
        assert stages_in(json.loads(out)) == {"whole", "bare"}, words
    for words in (("rollout", design, place), ("changes", design, place), ("compare", design)):
        code, out, err = called(*words, "--stage", "all")
        assert (code, out) == (2, "")
        assert "--stage: given 'all'; allowed: one stage here, of “whole”, “bare”" in err
