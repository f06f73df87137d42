"""A file with values changed: those values and nothing else, to the letter."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.changing import DESIGN, PLACE, source_of, tail_of, with_changes
from planform.design.content import content
from planform.design.naming import path_of, path_text
from planform.design.number_fields import number_fields
from planform.design.reading import Reading, Shared
from planform.design.rewriting import rewritten
from planform.design.spans import spans
from tests.conftest import DESIGNS
from tests.laws.worlds import worlds

HARD = """\
a = 1 # one
[t]   # a table
"x y" = [ # c1
   "1 in",   # c2 "no" = [
   "2 in"  ,  # c3
]
pts = [ [ "1 in" , '2 in' ],["3 in",    "4 in"] , ]
f = {a=1.50,b = 'q'  , c= { left = "1 in",right="2 in"} }
x.y.z = "3 in"   # hi
[[m]]
v=2.0
k = { }

[u]
q = 1_000
[[m]]
v = "9 in"
[m.deep]
w = [ { a = "1 m" }, { a = "2 m" } ]
[[m.deep.more]]
s = "#1"
[t.sub]
k = \"\"\"multi " [[
line\"\"\"
last = '''it's'''"""


def leaves(item, path=()):
    if isinstance(item, dict | list):
        pairs = item.items() if isinstance(item, dict) else enumerate(item)
        return [leaf for key, one in pairs for leaf in leaves(one, (*path, key))]
    return [(path, item)]


@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_where_each_value_stands_is_known_to_the_letter(end):
    text = HARD.replace("\n", end)
    found = spans(text)
    every = leaves(tomllib.loads(text))
    assert set(found) == {path for path, _ in every}
    for path, value in every:
        start, end_at = found[path]
        assert tomllib.loads(f"k = {text[start:end_at]}")["k"] == value


@pytest.mark.parametrize("file", sorted(DESIGNS.glob("*.toml")), ids=lambda path: path.stem)
def test_of_the_demo_files_too(file):
    text = file.read_text(encoding="utf-8")
    assert set(spans(text)) == {path for path, _ in leaves(tomllib.loads(text))}


def test_quotes_comments_and_spaces_stay():
    changes = {
        't."x y"[2]': "7 in",
        "t.pts[1][2]": "8 in",
        "t.pts[2][2]": "9'",
        "t.f.a": 2.5,
        "t.f.c.left": "6'-1 1/2\"",
        "m[2].v": '1"',
        "m[2].deep.more[1].s": "2 m",
        "u.q": 5,
    }
    out = rewritten(HARD, {path_of(path): value for path, value in changes.items()})
    told = [(a, b) for a, b in zip(HARD.split("\n"), out.split("\n"), strict=True) if a != b]
    assert [b for _, b in told] == [
        '   "7 in"  ,  # c3',
        """pts = [ [ "1 in" , '8 in' ],["3 in",    "9'"] , ]""",
        """f = {a=2.5,b = 'q'  , c= { left = "6'-1 1/2\\"",right="2 in"} }""",
        "q = 5",
        "v = '1\"'",
        's = "2 m"',
    ]


def test_a_mark_at_the_head_and_line_ends_stay():
    text = '\ufeffa = "1 m"\r\nb = "2 m" # two\r\n'
    assert rewritten(text, {("b",): "3 m"}) == '\ufeffa = "1 m"\r\nb = "3 m" # two\r\n'


@pytest.mark.parametrize("path", ["b", "t", "a[1]", 't."x y"', 't."x y"[3]', "t.f.d"])
def test_where_no_value_stands_none_is_put(path):
    with pytest.raises(LookupError):
        rewritten(HARD, {path_of(path): "1 m"})


def moved(number):
    """A text for a number a little off, of the same kind."""
    if not isinstance(number, Reading):
        return str(number + 1) if isinstance(number, int) else f"{float(number) * 1.01:.4f}"
    units = {"length": "m", "angle": "rad", "mass": "kg", "moment": "kg m", "percent": "%"}
    units |= {"volume": "m3", "density": "kg/m3", "area_density": "kg/m2", "force": "N"}
    size = 100.0 if number.kind == "percent" else 1.0
    return f"{size * (float(number) * 1.001 + 1e-4):.6f} {units[number.kind]}"


@given(worlds, st.integers(0, 10_000))
def test_a_number_changed_in_the_file_is_the_number_changed_in_the_design(tmp_path_factory, one, k):
    folder = tmp_path_factory.mktemp("world")
    for sort in (DESIGN, PLACE):
        file = folder / f"{sort}.toml"
        file.write_text(one.texts()[sort], encoding="utf-8")
        source = source_of(file, sort)
        fields = [f for f in number_fields(source) if not isinstance(f.number, Shared)]
        field = fields[k % len(fields)]
        text = moved(field.number)
        wanted = with_changes(source, {path_text(field.path): text})
        there = getattr(field.number, "text", "")
        value = f"{text} {tail_of(there)}".strip() if isinstance(field.number, Reading) else text
        number = isinstance(field.number, Reading)
        before = file.read_text(encoding="utf-8")
        new = value if number else type(field.number)(float(text))
        after = rewritten(before, {field.path: new})
        file.write_text(after, encoding="utf-8")
        assert content(source_of(file, sort).model) == content(wanted)
        lines = zip(before.split("\n"), after.split("\n"), strict=True)
        assert sum(a != b for a, b in lines) == 1
