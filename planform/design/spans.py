"""Where each value stands in the text of a TOML file, to the letter."""

from __future__ import annotations

import re
import tomllib

from planform.design.naming import Path

Span = tuple[int, int]

_SPACE = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:\\.|[^\\])*?""""{0,2}|' + r"'''.*?''''{0,2}|" + r'"(?:\\.|[^"\\\n])*"|' + r"'[^'\n]*'",
    re.DOTALL,
)
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_BARE_VALUE = re.compile(r"[^,\[\]{}#\r\n]+")
_DOT = re.compile(r"[ \t]*\.[ \t]*")


def spans(text: str) -> dict[Path, Span]:
    """From where to where the text of each value goes, quotes with it.

    text : of a file that `tomllib` reads ; lists and tables have none, what stands in them has
    """
    return _Scan(text).all()


class _Scan:
    """Goes over a text once."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.found: dict[Path, Span] = {}
        self.listed: dict[Path, int] = {}

    def all(self) -> dict[Path, Span]:
        """Every value of the text."""
        head: Path = ()
        self._skip()
        while self.at < len(self.text):
            if self._here("[["):
                head = self._header("]]")
                self.listed[head] = self.listed.get(head, -1) + 1
                head = (*head, self.listed[head])
            elif self._here("["):
                head = self._header("]")
            else:
                self._pair(head)
            self._skip()
        return self.found

    def _skip(self) -> None:
        found = _SPACE.match(self.text, self.at)
        assert found is not None
        self.at = found.end()

    def _here(self, mark: str) -> bool:
        """Whether a mark comes next, which is then gone over."""
        there = self.text.startswith(mark, self.at)
        self.at += len(mark) * there
        return there

    def _header(self, end: str) -> Path:
        """The path of a table's head; through lists of tables it goes to their last one."""
        self._skip()
        out: Path = ()
        steps = self._keys()
        for k, step in enumerate(steps):
            out = (*out, step)
            if k < len(steps) - 1 and out in self.listed:
                out = (*out, self.listed[out])
        if end == "]" and out in self.listed:
            out = (*out, self.listed[out])
        self._skip()
        self._here(end)
        return out

    def _keys(self) -> list[str]:
        """A key, dotted or not."""
        out = [self._key()]
        while (dot := _DOT.match(self.text, self.at)) is not None:
            self.at = dot.end()
            out.append(self._key())
        return out

    def _key(self) -> str:
        quoted = _STRING.match(self.text, self.at)
        found = quoted or _BARE_KEY.match(self.text, self.at)
        if found is None:
            raise LookupError(self.text[self.at : self.at + 20])
        self.at = found.end()
        return found[0] if quoted is None else str(tomllib.loads(f"k = {found[0]}")["k"])

    def _pair(self, head: Path) -> None:
        """A key with its value."""
        path = (*head, *self._keys())
        self._skip()
        self._here("=")
        self._skip()
        self._value(path)

    def _value(self, path: Path) -> None:
        if self._here("["):
            self._list(path)
        elif self._here("{"):
            self._table(path)
        else:
            found = _STRING.match(self.text, self.at) or _BARE_VALUE.match(self.text, self.at)
            if found is None:
                raise LookupError(self.text[self.at : self.at + 20])
            self.found[path] = (self.at, self.at + len(found[0].rstrip()))
            self.at = found.end()

    def _list(self, path: Path) -> None:
        number = 0
        self._skip()
        while not self._here("]"):
            self._value((*path, number))
            number += 1
            self._skip()
            self._here(",")
            self._skip()

    def _table(self, path: Path) -> None:
        self._skip()
        while not self._here("}"):
            self._pair(path)
            self._skip()
            self._here(",")
            self._skip()
