"""A job file written otherwise: the same keys and values in any spelling that TOML has for them."""

from __future__ import annotations

import json
import tomllib
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

Lines = list[str]


@st.composite
def respelled(draw: st.DrawFn, text: str) -> str:
    """The same job, its tables under headers, with dots or in line; with comments, tabs, quotes.

    Its lines may end as DOS has them, the last may end without, and a byte order mark may lead.
    """
    speller = _Speller(draw)
    raw = tomllib.loads(text)
    windows = raw.pop("window")
    own, under = speller.with_tables(raw)
    listed: Lines = []
    if draw(st.booleans()):
        own.append(speller.windows_in_one(windows))
    else:
        for window in windows:
            lines, tables = speller.with_tables(window, "window.")
            title = f"[[{speller.key('window')}]]"
            listed += [speller.one_of("", "# a window"), title, *lines, *tables]
    blocks = [under, listed] if draw(st.booleans()) else [listed, under]
    end = speller.one_of("\n", "", "\n\n# the end")
    written = "\n".join([*own, *blocks[0], *blocks[1]]) + end
    mark, ending = speller.one_of("", "", "\ufeff"), speller.one_of("\n", "\n", "\r\n")
    return mark + written.replace("\n", ending)


@dataclass(frozen=True)
class _Speller:
    """Writes parts of a job file, each in a way that is drawn."""

    draw: st.DrawFn

    def one_of(self, *ways: str) -> str:
        return self.draw(st.sampled_from(ways))

    def key(self, name: str) -> str:
        return self.one_of(name, name, f'"{name}"', f"'{name}'")

    def value(self, given: object) -> str:
        if isinstance(given, dict):
            inner = [f"{self.key(name)} = {self.value(each)}" for name, each in given.items()]
            return f"{{{', '.join(inner)}}}"
        if isinstance(given, str) and "'" not in given:
            return self.one_of(json.dumps(given), f"'{given}'")
        return json.dumps(given)

    def line(self, name: str, given: object) -> str:
        indent, equals = self.one_of("", "", "  ", "\t"), self.one_of(" = ", "=", "\t= ")
        comment = self.one_of("", "", "  # so", "\t#of old")
        return f"{indent}{name}{equals}{self.value(given)}{comment}"

    def inside(self, table: dict[str, Any], before: str = "") -> Lines:
        return [self.line(f"{before}{self.key(name)}", each) for name, each in table.items()]

    def with_tables(self, table: dict[str, Any], title: str = "") -> tuple[Lines, Lines]:
        """A table's own lines, and those of its tables that have headers."""
        own: Lines = []
        under: Lines = []
        for name, each in table.items():
            is_table = isinstance(each, dict)
            way = self.one_of("header", "dots", "in line") if is_table else "in line"
            if way == "header":
                heading = f"[{title}{self.key(name)}]{self.one_of('', ' # here')}"
                under += [self.one_of("", "# about it"), heading, *self.inside(each)]
            elif way == "dots" and each:
                own += self.inside(each, f"{self.key(name)}.")
            else:
                own.append(self.line(self.key(name), each))
        return own, under

    def windows_in_one(self, windows: list[dict[str, Any]]) -> str:
        """All windows as one value, in as many lines as may be."""
        each = [
            self.one_of("", "\n  ", "\n\t# the next\n\t") + self.value(window) for window in windows
        ]
        return f"window{self.one_of(' = ', '=')}[{','.join(each)}{self.one_of('', ',', chr(10))}]"
