"""A TOML text in, the line of every key and table out: the TOML reader itself keeps no lines.

Made for text the TOML reader has taken: what isn't TOML gives places that mean nothing.
"""

from __future__ import annotations

import re

Place = tuple[int | str, ...]
"""Where a value stands in a file: ("window", 1, "width") is the second window's width."""

# The same strings and comments the TOML reader sees. Closing quotes are optional, so that an
# open string is read once and is a fault, not tried again from every quote in it. What goes on is
# looked ahead for before it is taken: Python 3.11.2, for one, loses its place where one of several
# ways through a possessive group fails halfway.
TOKEN = re.compile(
    r'''
      (?P<newline>\n)
    | (?P<comment>\#[^\n]*+)
    | (?P<text>
          """ (?:[^"\\] | (?=\\[\s\S])\\[\s\S] | (?="[^"])" | (?=""[^"])" | (?=""\Z)" | (?="\Z)")*+
              (?P<end1>"{3,5})?
        | \'\'\' (?:[^'] | (?='[^'])' | (?=''[^'])' | (?=''\Z)' | (?='\Z)')*+ (?P<end2>'{3,5})?
        | " (?:[^"\\\n] | (?=\\.)\\.)*+ (?P<end3>")?
        | ' [^'\n]*+ (?P<end4>')?
      )
    | (?P<word>[A-Za-z0-9_+-]++)
    | (?P<dot>\.)
    | (?P<open>[\[{])
    | (?P<close>[\]}])
    | (?P<space>[ \t]++)
    | (?P<other>.)
    ''',
    re.VERBOSE,
)


def lines_of(text: str) -> dict[Place, int]:
    r"""Return the line, from 1, that gives each key and opens each table of a TOML text.

    A table that only dotted keys or headers below it bring about has the line of the first. A
    bare value in a list has no place of its own. Lines end in a line feed. Takes linear time, and
    a call a bracket that is open.

    >>> lines_of('units = "in"\n[[window]]\nwidth = 88\npole.top = 96')
    ... # doctest: +NORMALIZE_WHITESPACE
    {('units',): 1, ('window',): 2, ('window', 0): 2, ('window', 0, 'width'): 3,
     ('window', 0, 'pole'): 4, ('window', 0, 'pole', 'top'): 4}
    """
    lines: dict[Place, int] = {}
    counts: dict[Place, int] = {}  # how many [[tables]] there are so far
    tokens = _Tokens(text)
    table: Place = ()
    while tokens.kind:
        if tokens.kind == "newline":
            tokens.step()
        elif tokens.kind == "open":
            table = _header(tokens, lines, counts)
        else:
            _pair(tokens, lines, table)
    return lines


class _Tokens:
    """The tokens of a text but for spaces and comments, one at a time; `kind` is "" at the end."""

    def __init__(self, text: str) -> None:
        self._rest = TOKEN.finditer(text)
        self._next_line = 1
        self.step()

    def step(self) -> None:
        """Go to the next token."""
        for token in self._rest:
            kind = token.lastgroup
            if kind in {"space", "comment"}:
                continue
            self.kind, self.text, self.line = str(kind), token[0], self._next_line
            if kind == "newline":
                self._next_line += 1
            elif kind == "text":
                self._next_line += self.text.count("\n")
            return
        self.kind, self.text, self.line = "", "", self._next_line


def _header(tokens: _Tokens, lines: dict[Place, int], counts: dict[Place, int]) -> Place:
    """Read [table] or [[table]]; return its place."""
    line = tokens.line
    tokens.step()
    many = tokens.kind == "open"
    if many:
        tokens.step()
    *outer, last = _key(tokens)
    place: Place = ()
    for part in outer:
        place = (*place, part)
        lines.setdefault(place, line)
        if place in counts:
            place = (*place, counts[place] - 1)
    place = (*place, last)
    if many:
        lines.setdefault(place, line)
        number = counts.get(place, 0)
        counts[place] = number + 1
        place = (*place, number)
    lines[place] = line
    while tokens.kind not in {"newline", ""}:
        tokens.step()
    return place


def _pair(tokens: _Tokens, lines: dict[Place, int], table: Place) -> None:
    """Read key = value in a table, and all that is in the value."""
    line = tokens.line
    place = table
    for part in _key(tokens):
        place = (*place, part)
        lines.setdefault(place, line)
    if tokens.text != "=":  # no pair after all: a line that was passed over
        while tokens.kind not in {"newline", "close", ""}:
            tokens.step()
        return
    tokens.step()
    _value(tokens, lines, place)


def _key(tokens: _Tokens) -> list[str]:
    """Read a key's parts, without their dots and quotes."""
    parts = [_plain(tokens.text)]
    tokens.step()
    while tokens.kind == "dot":
        tokens.step()
        parts.append(_plain(tokens.text))
        tokens.step()
    return parts


def _value(tokens: _Tokens, lines: dict[Place, int], place: Place) -> None:
    """Read a value, a list or an inline table with all it holds."""
    if tokens.kind != "open":
        while tokens.kind not in {"newline", "close", ""} and tokens.text != ",":
            tokens.step()
        return
    in_list = tokens.text == "["
    number = 0
    tokens.step()
    while tokens.kind and tokens.kind != "close":
        if tokens.kind == "newline" or tokens.text == ",":
            tokens.step()
        elif in_list:
            if tokens.kind == "open":
                lines[(*place, number)] = tokens.line
            _value(tokens, lines, (*place, number))
            number += 1
        else:
            _pair(tokens, lines, place)
    tokens.step()


_ESCAPE = re.compile(r'\\(?:u([0-9A-Fa-f]{4})|U([0-9A-Fa-f]{8})|(["\\bfnrt]))')
_ESCAPED = {"b": "\b", "f": "\f", "n": "\n", "r": "\r", "t": "\t"}


def _plain(part: str) -> str:
    r"""Return one part of a key without its quotes, its escapes read.

    >>> [_plain(part) for part in ("width", "'width'", '"wid\\u0074h"')]
    ['width', 'width', 'width']
    """
    if part.startswith("'"):
        return part[1:-1]
    if not part.startswith('"'):
        return part
    return _ESCAPE.sub(
        lambda escape: (
            _ESCAPED.get(escape[3], escape[3])
            if escape[3]
            else chr(int(escape[1] or escape[2], 16))
        ),
        part[1:-1],
    )
