"""What a page's content says, word by word: what this tool never says, and how it is drawn.

`page_reader` tells where marks are and in which ink. What else decides how they print (ends and
joins of lines, where dashes begin, the order of all) stands here in the content's own words
(ISO 32000-1, 7.8.2 and annex A), and is held against what this tool writes for the page.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from typing import TypeAlias

from pypdf import PageObject
from pypdf.generic import StreamObject

from drapetemplate.measure.compare_marks import TOLERANCE
from drapetemplate.measure.compare_objects import PACKING
from drapetemplate.measure.drawn_marks import POINT
from drapetemplate.record.budget import Budget
from drapetemplate.record.unpacking import resolved, unpacked

# Their operands are places, which are measured as marks.
PLACED = {"m", "l", "c", "Tm", "Td"}
APART = 2 * TOLERANCE / POINT
SET = {
    "w": "the width of lines",
    "d": "the dashes of lines",
    "J": "the ends of lines",
    "j": "the joins of lines",
    "M": "the joins of lines",
    "G": "the grey of lines",
    "g": "the grey of areas and letters",
    "Tf": "fonts, or their size",
    "cm": "a matrix",
}
WHITE = b"\0\t\n\f\r "
# One word of a content after what is white. None can be read in two ways: a string with brackets
# inside it, or a comment, isn't of this tool's. Of a number with hundreds of digits some readers
# take the first 255 alone.
_WORD = re.compile(
    rb"""
    [\0\t\n\f\r\x20]*
    (?:
        (?P<string> \( (?: [^()\\] | \\. )* \) | < [0-9A-Fa-f\0\t\n\f\r\x20]* > )
        | (?P<bracket> [\[\]] )
        | (?:
            (?P<name> /[^\0-\x20/<>()\[\]{}%\x7f-\xff]+ )
            | (?P<number> [+-]? (?: \d{1,40}\.?\d{0,40} | \.\d{1,40} ) )
            | (?P<operator> [A-Za-z][A-Za-z0-9*]* )
        )
        (?= [\0\t\n\f\r\x20/<(\[\]] | \Z )
    )
    """,
    re.DOTALL | re.VERBOSE,
)

_CODE_IN_NAME = re.compile(rb"#([0-9A-Fa-f]{2})")
_IN_STRING = re.compile(
    rb"\\(?: (?P<octal> [0-7]{1,3} ) | (?P<split> \r\n? | \n ) | (?P<escaped> . ) ) | \r\n?",
    re.DOTALL | re.VERBOSE,
)
_ESCAPES = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}

Operands: TypeAlias = tuple[bytes | float, ...]
Instruction: TypeAlias = tuple[str, Operands]
"""An operator and its operands."""


class OddContentError(Exception):
    """A content that no page of this tool has; its text says what with, after "is drawn with"."""


def streams_of(page: PageObject, most: int, budget: Budget) -> list[bytes]:
    """The streams a page is drawn with, of at most so many bytes; OddContentError for any other."""
    entry = page.get("/Contents")
    contents = [] if entry is None else entry.get_object()
    parts: list[bytes] = []
    for part in contents if isinstance(contents, list) else [contents]:
        stream = part.get_object()
        data = unpacked(stream, most, budget) if isinstance(stream, StreamObject) else None
        most -= len(data or b"") + 1
        if data is None or most < 0 or not PACKING.issuperset(stream):
            text = "more than there is on any of this job’s, or packed in no usual way"
            raise OddContentError(text)
        parts.append(data)
    return parts


def instructions(content: bytes, operands: list[bytes | float]) -> Iterator[Instruction]:
    """A content's instructions in their order; OddContentError for words this tool never writes.

    `operands` are those that stand before it; those left at its end are there then.

    >>> list(instructions(b"[2 1] 0 d 10 .5 m", []))
    [('d', (b'[', 2.0, 1.0, b']', 0.0)), ('m', (10.0, 0.5))]
    """
    content = content.rstrip(WHITE)
    place = 0
    while place < len(content):
        word = _WORD.match(content, place)
        if word is None:
            raise OddContentError("words that can’t be read")
        place = word.end()
        match word.lastgroup:
            case "operator":
                yield word["operator"].decode("ascii"), tuple(operands)
                operands.clear()
            case "number":
                operands.append(float(word["number"]))
            case kind:
                operands.append(word[kind or 0])


def _said(operand: bytes | float) -> bytes | float:
    """A string's own bytes, however it is written; anything else as it is."""
    if isinstance(operand, bytes) and operand[:1] in (b"(", b"<"):
        return text_bytes(operand)
    return operand


def named(word: bytes) -> str:
    """What a name says (7.3.5); the word itself for what is none.

    >>> named(b"/F1#2B0")
    '/F1+0'
    """
    return _CODE_IN_NAME.sub(lambda code: bytes([int(code[1], 16)]), word).decode("latin-1")


def text_bytes(word: bytes) -> bytes:
    r"""What a string says (7.3.4); OddContentError for what is none.

    >>> text_bytes(rb"(a\051\t)"), text_bytes(b"<4142 4>")
    (b'a)\t', b'AB@')
    """
    if word[:1] == b"<":
        digits = word[1:-1].translate(None, WHITE).decode("ascii")
        return bytes.fromhex(digits + "0" * (len(digits) % 2))
    if word[:1] != b"(":
        raise OddContentError("words where a string belongs")
    return _IN_STRING.sub(_meant, word[1:-1])


def _meant(found: re.Match[bytes]) -> bytes:
    """What stands for another byte in a string: an end of line, or what follows a backslash."""
    if found["octal"]:
        return bytes([int(found["octal"], 8) & 0xFF])
    if found["escaped"]:
        return _ESCAPES.get(found["escaped"], found["escaped"])
    return b"" if found["split"] else b"\n"


def written_streams(page: PageObject) -> list[bytes]:
    """The streams a page is drawn with that this tool itself wrote."""
    contents = resolved(page["/Contents"])
    parts = contents if isinstance(contents, list) else [contents]
    streams = map(resolved, parts)
    return [part.get_data() for part in streams if isinstance(part, StreamObject)]


def drawn_otherwise(found: list[bytes], written: list[bytes]) -> list[str]:
    """How a page is drawn otherwise than this tool does, wherever its marks are: none, or a few.

    Each is one content, in whatever streams.
    """
    if found == written:
        return []
    theirs, ours = (list(instructions(b"\n".join(streams), [])) for streams in (found, written))
    settings = _settings(theirs), _settings(ours)
    words = [
        words for operator, words in SET.items() if settings[0][operator] != settings[1][operator]
    ]
    if words:
        return [f"sets {one} otherwise than this tool does" for one in dict.fromkeys(words)]
    if len(theirs) != len(ours) or not all(map(_alike, theirs, ours)):
        return ["is drawn in another order than this tool draws it, which may print otherwise"]
    return []


def _settings(drawn: list[Instruction]) -> defaultdict[str, list[Operands]]:
    """What each operator that sets something is given, in order."""
    by_operator: defaultdict[str, list[Operands]] = defaultdict(list)
    for operator, operands in drawn:
        if operator in SET:
            by_operator[operator].append(operands)
    return by_operator


def _alike(found: Instruction, written: Instruction) -> bool:
    """Whether two instructions do the same, places apart by little more than a mark may be off.

    Places too: of two marks that have changed places in the order, another is the one on top.
    """
    (operator, operands), (usual, wanted) = found, written
    if operator != usual or len(operands) != len(wanted):
        return False
    if operator not in PLACED:
        return [_said(one) for one in operands] == [_said(one) for one in wanted]
    return all(abs(float(a) - float(b)) <= APART for a, b in zip(operands, wanted, strict=True))
