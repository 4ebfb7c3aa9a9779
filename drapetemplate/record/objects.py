"""A PDF's objects in, plain Python values out: a small reader with a limit on its work.

It reads what stands in a well-formed file (ISO 32000-2:2020, 7.2 and 7.3) and mends nothing: a file
that is damaged is refused, so that looking through a folder of strangers' files stays quick.

| in a PDF              | here                         |
|-----------------------|------------------------------|
| dictionary, array     | dict by name, list           |
| name                  | `Name`, without its /        |
| string                | bytes                        |
| number, true, null    | int or float, bool, None     |
| 12 0 R                | `Reference`                  |
"""

from __future__ import annotations

import re
from typing import NamedTuple, TypeAlias

MOST_TOKENS = 30_000
"""What may be read of one PDF: a job of 2,000 sheets has its pages named in under 15,000."""
MOST_DEPTH = 30

_SPACE = re.compile(rb"[\0\t\n\f\r ]*")
_REST_OF_LINE = re.compile(rb"[^\r\n]*")
_REGULAR = rb"[^\0\t\n\f\r ()<>\[\]{}/%]"
_END = rb"(?=[\0\t\n\f\r ()<>\[\]{}/%])"
_TOKEN = re.compile(
    rb"(?P<reference>([0-9]{1,10})[\0\t\n\f\r ]{1,9}([0-9]{1,5})[\0\t\n\f\r ]{1,9}R" + _END + rb")"
    rb"|(?P<number>[+-]?(?:[0-9]{1,20}(?:\.[0-9]{0,20})?|\.[0-9]{1,20})" + _END + rb")"
    rb"|(?P<name>/" + _REGULAR + rb"{0,200}" + _END + rb")"
    rb"|(?P<open><<|\[)|(?P<close>>>|\])"
    rb"|<(?P<hex>[0-9A-Fa-f\0\t\n\f\r ]*)>"
    rb"|(?P<text>\()"
    rb"|(?P<word>" + _REGULAR + rb"{1,20}" + _END + rb")"
)
_NAME_CODE = re.compile(rb"#([0-9A-Fa-f]{2})")
_IN_TEXT = re.compile(rb"[^()\\]+|\\(?:[0-7]{1,3}|\r\n|.)|[()]", re.DOTALL)
_ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_WORDS = {b"true": True, b"false": False, b"null": None}


class Name(str):
    """A name, without the / before it."""

    __slots__ = ()


class Reference(NamedTuple):
    """Another object, by its number."""

    number: int
    generation: int


Value: TypeAlias = (
    "dict[str, Value] | list[Value] | Name | bytes | int | float | bool | Reference | None"
)


class BadPdfError(Exception):
    """What is no object, or too much of one."""


class CutShortError(BadPdfError):
    """The bytes end before the object does."""


class Objects:
    """Reads the objects of one PDF, no more than `MOST_TOKENS` in all."""

    def __init__(self) -> None:
        self._left = MOST_TOKENS

    def read(self, data: bytes, start: int = 0) -> tuple[Value, int]:
        """Return the value that begins at `start` of some bytes, and where it ends.

        BadPdfError where there is none; CutShortError where more bytes may help.
        """
        open_lists: list[tuple[bytes, list[Value]]] = []
        at = start
        while True:
            kind, token, at = self._token(data, at)
            value: Value
            if kind == "open":
                if len(open_lists) == MOST_DEPTH:
                    raise BadPdfError("nested too deep")
                open_lists.append((token, []))
                continue
            if kind == "close":
                if not open_lists or open_lists[-1][0] != (b"[" if token == b"]" else b"<<"):
                    raise BadPdfError("closes what isn't open")
                opened, inside = open_lists.pop()
                value = inside if opened == b"[" else _dictionary(inside)
            elif kind == "text":
                value, at = self._text(data, at)
            else:
                value = _simple(kind, token)
            if not open_lists:
                return value, at
            open_lists[-1][1].append(value)

    def words(self, data: bytes, start: int, *expected: bytes) -> int:
        """Return where these words end that must stand at `start`; BadPdfError for others."""
        at = start
        for word in expected:
            kind, token, at = self._token(data, at)
            if kind != "word" or token != word:
                raise BadPdfError(f"no {word.decode()}")
        return at

    def _token(self, data: bytes, start: int) -> tuple[str, bytes, int]:
        """The kind of the next token, its bytes, and where it ends."""
        at = start
        while True:
            self._left -= 1
            if self._left < 0:
                raise BadPdfError("too much of it")
            at = _past(_SPACE, data, at)
            if data[at : at + 1] != b"%":
                break
            at = _past(_REST_OF_LINE, data, at)
        found = _TOKEN.match(data, at)
        if found is None:
            # Whatever stands at the very end may go on beyond it.
            raise (CutShortError if len(data) - at < 300 else BadPdfError)("no token")
        kind = found.lastgroup or ""
        return kind, found[kind], found.end()

    def _text(self, data: bytes, start: int) -> tuple[bytes, int]:
        """A string whose ( has been read: brackets in pairs belong to it."""
        parts: list[bytes] = []
        depth, at = 1, start
        while True:
            self._left -= 1
            found = _IN_TEXT.match(data, at)
            if found is None:
                raise CutShortError("a string without an end")
            if self._left < 0:
                raise BadPdfError("too much of it")
            part, at = found[0], found.end()
            if part == b"(":
                depth += 1
            elif part == b")":
                depth -= 1
                if not depth:
                    return b"".join(parts), at
            elif part.startswith(b"\\"):
                part = _escaped(part[1:])
            parts.append(part)


def as_text(value: Value) -> str | None:
    r"""Return a string's text, in UTF-16, UTF-8 or Latin letters; None for what is no string.

    >>> as_text(b"job.toml"), as_text(b"\xfe\xff\0j"), as_text(3)
    ('job.toml', 'j', None)
    """
    if not isinstance(value, bytes):
        return None
    if value.startswith(b"\xfe\xff"):
        return value[2:].decode("utf-16-be", errors="replace")
    if value.startswith(b"\xef\xbb\xbf"):
        return value[3:].decode(errors="replace")
    return value.decode("latin-1")


def _past(pattern: re.Pattern[bytes], data: bytes, start: int) -> int:
    found = pattern.match(data, start)
    return start if found is None else found.end()


def _dictionary(inside: list[Value]) -> dict[str, Value]:
    keys = inside[::2]
    if len(inside) % 2 or not all(isinstance(key, Name) for key in keys):
        raise BadPdfError("a dictionary of odd entries")
    return {str(key): value for key, value in zip(keys, inside[1::2], strict=True)}


def _simple(kind: str, token: bytes) -> Value:
    if kind == "reference":
        number, generation, _ = token.split()
        return Reference(int(number), int(generation))
    if kind == "number":
        return float(token) if b"." in token else int(token)
    if kind == "name":
        plain = _NAME_CODE.sub(lambda code: bytes([int(code[1], 16)]), token[1:])
        return Name(plain.decode("latin-1"))
    if kind == "hex":
        digits = b"".join(token.split()).replace(b"\0", b"")
        return bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode())
    if token not in _WORDS:
        raise BadPdfError("a word that means nothing here")
    return _WORDS[token]


def _escaped(part: bytes) -> bytes:
    """What a backslash and this stand for in a string."""
    if part[:1].isdigit() and part[:1] < b"8":
        return bytes([int(part, 8) % 256])
    if part in {b"\n", b"\r", b"\r\n"}:
        return b""
    return _ESCAPES.get(part, part)
