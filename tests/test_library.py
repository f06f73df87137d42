"""The examples of the library's guide run, and show what stands under them."""

from __future__ import annotations

import ast
import io
import re
from contextlib import redirect_stdout

from planform.core.shown import Shown
from tests.conftest import ROOT
from tests.laws.test_shown_laws import holds

GUIDE = ROOT / "docs/library.md"
EXAMPLE = re.compile(r"```python\n(.*?)```(?:\n\n```text\n(.*?)```)?", re.DOTALL)


def shown(source, names):
    """What a notebook shows of a cell: what it prints, and its last expression."""
    tree = ast.parse(source)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    out = io.StringIO()
    with redirect_stdout(out):
        exec(compile(tree, str(GUIDE), "exec"), names)
        if last is not None:
            value = eval(compile(ast.Expression(last.value), str(GUIDE), "eval"), names)
            if value is not None:
                print(repr(value))
    return out.getvalue()


def test_examples_of_the_library_show_what_stands_under_them(monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.setenv("PLANFORM_NO_GL", "1")
    names = {}
    examples = EXAMPLE.findall(GUIDE.read_text(encoding="utf-8"))
    assert len(examples) > 10
    for source, told in examples:
        assert shown(source, names) == told, source
    for value in names.values():
        if isinstance(value, Shown):
            holds(value)
