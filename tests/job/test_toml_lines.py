"""The line of every key, held against the TOML reader: what a line says is what changes."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from itertools import count
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.job.toml_lines import Place, lines_of

NOISE = ["", "  ", "# [[window]]", "#'\"", '\t# """', "# }]"]
SPACES = ["", " ", "\t", "  "]
UNLIKE = 100_000


class Writer:
    """Writes a TOML text as drawn: no key is given twice, and every value has its own number."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.numbers = count(10_000)

    def one(self, *choices: str) -> str:
        """One of a few spellings."""
        return self.draw(st.sampled_from(choices))

    def name(self) -> str:
        """A new key's name, in one of the ways to write it."""
        name = f"n{next(self.numbers)}"
        return self.one(name, f'"{name}"', f"'{name}'", f'"{name}.\\"# ]"', f"'{name} =\"'", name)

    def key(self) -> str:
        """A new key of one to three parts."""
        dot = self.one(".", " .", ". ", " . ")
        return dot.join(self.name() for _ in range(self.draw(st.integers(1, 3))))

    def value(self, depth: int) -> str:
        """A value whose first line has its number."""
        number = next(self.numbers)
        kinds = [
            str(number),
            f'"{number} # \\" = ["',
            f"'{number} \\'",
            f'"""{number}\na = 1 \\\n  ""\n[table]"""',
            f"'''{number}\n''\nb = 2'''",
            f'"""{number}"""""',
            f"{number}.5",
            f"[{number}, # [\n'a', \n\n[1, [2]], ]",
            f"[{number}]",
        ]
        if depth and self.draw(st.booleans()):
            pairs = [self.pair(depth - 1) for _ in range(self.draw(st.integers(1, 3)))]
            if self.draw(st.booleans()):
                return "{" + self.one(", ", ",").join(pairs) + "}"
            breaks = [self.one("", "\n", " # {\n", "\n\n") for _ in pairs]
            return "[" + ",".join(f"{a}{{{b}}}" for a, b in zip(breaks, pairs, strict=True)) + "]"
        return self.one(*kinds)

    def pair(self, depth: int) -> str:
        """A new key and its value."""
        return f"{self.key()}{self.one(*SPACES)}={self.one(*SPACES)}{self.value(depth)}"

    def header(self) -> str:
        """A header of a new table, at any depth, or of one window more."""
        window = self.one("window", '"window"', "'window'")
        return self.one(
            f"[{self.key()}]",
            f"[[{window}]]",
            f"[[{window}]]\n[{window}.{self.key()}]",
            f"[[{window}]]\n[[{window}.{self.name()}]]",
            f"[[{window}]]\n[[window.inner]]\n[ {window} .inner. {self.name()} ]",
            f"[[{self.key()}]]",
        )

    def text(self) -> str:
        """A whole text."""
        lines = []
        for _ in range(self.draw(st.integers(1, 8))):
            line = self.draw(st.integers(0, 3))
            lines.append(
                self.one(*NOISE)
                if line == 0
                else f"{self.header()}{self.one(*NOISE)}"
                if line == 1
                else f"{self.one(*SPACES)}{self.pair(2)}{self.one(*NOISE)}"
            )
        return "\n".join(lines)


texts = st.composite(lambda draw: Writer(draw).text())()


def values(value: Any, place: Place = ()) -> Iterator[tuple[Place, Any]]:  # noqa: ANN401
    """Every key, table and list of tables of a parsed text."""
    if place:
        yield place, value
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from values(inner, (*place, key))
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            if isinstance(inner, dict | list):
                yield from values(inner, (*place, n))


def leaves(text: str) -> dict[Place, str]:
    """Every value of a text that is no table and holds none."""
    return {
        place: repr(value)
        for place, value in values(tomllib.loads(text))
        if not isinstance(value, dict) and "{" not in repr(value)
    }


@given(texts)
def test_every_place_has_a_line(text: str) -> None:
    """The places are those of the parsed text, no more and no fewer."""
    assert {place for place, _ in values(tomllib.loads(text))} == set(lines_of(text))


@given(texts)
def test_line_of_a_value(text: str) -> None:
    """Changing the number on a key's line changes that key, and no other."""
    before = leaves(text)
    for place, line in lines_of(text).items():
        number = re.search(r"\d{5}", before.get(place, ""))
        if number is None:  # a table, or a list inside a list
            continue
        lines = text.split("\n")
        changed = str(int(number[0]) + UNLIKE)
        lines[line - 1] = re.sub(rf"(?<!n){number[0]}", changed, lines[line - 1])
        after = leaves("\n".join(lines))
        assert {place} == {one for one, value in after.items() if before[one] != value}


@given(texts)
def test_line_of_a_table(text: str) -> None:
    """A key put below a table's header is in that table; without one, its first key's line is."""
    found = lines_of(text)
    read = dict(values(tomllib.loads(text)))
    for place, line in found.items():
        if not isinstance(read[place], dict):
            continue
        lines = text.split("\n")
        header = lines[line - 1].lstrip().startswith("[")
        try:
            after = tomllib.loads("\n".join([*lines[:line], "new = 1", *lines[line:]]))
        except tomllib.TOMLDecodeError:
            header = False  # the line of a list that goes on
        if not header or "new" not in dict(values(after)).get(place, {}):
            inside = [n for one, n in found.items() if one[: len(place)] == place != one]
            assert min(inside) == line


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", {}),
        ("a.b = 1\n\na.c = 2", {("a",): 1, ("a", "b"): 1, ("a", "c"): 3}),
        ("[a.b]\n[a]\nc = 1", {("a",): 2, ("a", "b"): 1, ("a", "c"): 3}),
        (
            "[[w]]\n[[w]]\nx = 1\n[w.t]\ny = 1",
            {
                ("w",): 1,
                ("w", 0): 1,
                ("w", 1): 2,
                ("w", 1, "x"): 3,
                ("w", 1, "t"): 4,
                ("w", 1, "t", "y"): 5,
            },
        ),
        (
            "w = [\n{x = 1},\n{x = 2, 'y z' = {a = 3}}]",
            {
                ("w",): 1,
                ("w", 0): 2,
                ("w", 0, "x"): 2,
                ("w", 1): 3,
                ("w", 1, "x"): 3,
                ("w", 1, "y z"): 3,
                ("w", 1, "y z", "a"): 3,
            },
        ),
        ('"a\\u001b\\"\\t\\U0001F600" = 1', {('a\x1b"\t\U0001f600',): 1}),
        ('a = """\n\nb = 1"""\nc = 2', {("a",): 1, ("c",): 4}),
        (
            "a = {b = ''''c'''', d = 1}\ne = 2",
            {("a",): 1, ("a", "b"): 1, ("a", "d"): 1, ("e",): 2},
        ),
        ("1.5 = 2", {("1",): 1, ("1", "5"): 1}),
    ],
)
def test_lines_of(text: str, lines: dict[Place, int]) -> None:
    """Lines as counted by hand."""
    assert lines == lines_of(text)
