"""A line typed in bash in, its words out; a word in, the same word quoted for bash out.

Nothing is expanded or run: what stands for something else, such as $HOME, stays as it was typed.
zsh and fish do both for themselves.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass

_BREAKS = frozenset(" \t\n<>|&;()")
"""What ends a word where it isn't quoted."""
_PLAIN_SIGNS = frozenset("_-.,/+@%:=")
"""Signs that mean nothing to bash inside a word."""
_ESCAPED_IN_DOUBLE = '$`"\\'


@dataclass(frozen=True, slots=True)
class Typed:
    """A line as far as the cursor: whole words, the one begun, and the quote open in it.

    `quote` is "", one of the two quotes, or a backslash where the next sign would be quoted.
    """

    words: tuple[str, ...]
    begun: str
    quote: str


def read_line(line: str) -> Typed:
    r"""Return the words of a line typed in bash, their quotes taken off.

    >>> read_line("make 'a b'.toml --window \"Ba")
    Typed(words=('make', 'a b.toml', '--window'), begun='Ba', quote='"')
    >>> read_line("a\\ b $(c")
    Typed(words=('a b', '$'), begun='c', quote='')
    """
    words: list[str] = []
    begun: str | None = None
    quote = ""
    signs = iter(line)
    for sign in signs:
        if sign == quote:
            quote = ""
        elif quote == "'":
            begun = (begun or "") + sign
        elif sign == "\\":
            after = next(signs, "")
            if not after:
                return Typed(tuple(words), begun or "", "\\")
            kept = "\\" if quote and after not in _ESCAPED_IN_DOUBLE else ""
            begun = (begun or "") + kept + after
        elif not quote and sign in "\"'":
            quote, begun = sign, begun or ""
        elif not quote and sign in _BREAKS:
            if begun is not None:
                words.append(begun)
            begun = None
        else:
            begun = (begun or "") + sign
    return Typed(tuple(words), begun or "", quote)


def completed_for_bash(values: list[str], line: str, replaced: str) -> list[str]:
    """Return what may stand for the end of a line in bash, so that its last word is a value.

    `replaced` is that end as bash has cut it off: a word may begin before it, with its quote or at
    a sign such as =. Values that don't begin as the word does, or that can't be quoted where they
    would stand, are left out.
    """
    at = len(line) - len(replaced)
    before, whole = read_line(line[:at]), read_line(line)
    if not line.endswith(replaced) or before.words != whole.words or "\\" in whole.quote:
        return []
    if before.quote != whole.quote or line[:at].endswith("$" + before.quote):
        return []
    ends = [
        value[len(before.begun) :]
        for value in values
        if value.startswith(whole.begun) and can_be_typed(value)
    ]
    plain = all(map(_is_plain, ends))
    # All alike, so that what they have in common is typed for them; none is cut off in a quote.
    quoted = [quoted_for_bash(end, before.quote, plain=plain) for end in ends if end]
    return [word for word in quoted if word is not None]


def quoted_for_bash(end: str, quote: str, *, plain: bool = False) -> str | None:
    r"""Return a word's end for bash where `quote` is open, and close it; None where none can.

    `plain` words need no quotes where none is open.

    >>> quoted_for_bash("it's $5", ""), quoted_for_bash("it's $5", '"')
    ("'it'\\''s $5'", 'it\'s \\$5"')
    >>> quoted_for_bash("wow!", '"')
    """
    if plain and not quote:
        return end
    if quote != '"':
        inside = end.replace("'", "'\\''")
        return f"{inside}'" if quote else f"'{inside}'"
    if "!" in end:  # bash looks for an earlier command there, and a backslash before it stays
        return None
    for sign in ("\\", *_ESCAPED_IN_DOUBLE[:-1]):
        end = end.replace(sign, f"\\{sign}")
    return f'{end}"'


def can_be_typed(value: str) -> bool:
    """Whether a value has no sign that ends a line or steers a terminal."""
    return not any(
        category.startswith("C") or category in {"Zl", "Zp"}
        for category in map(unicodedata.category, value)
    )


def _is_plain(end: str) -> bool:
    return all(sign.isalnum() or sign in _PLAIN_SIGNS for sign in end)
