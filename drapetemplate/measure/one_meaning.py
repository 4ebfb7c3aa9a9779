"""Whether a PDF means one thing to every reader: each mends in its own way what is damaged.

What is measured is what this tool's reader makes of the file. Where another may make something else
of it (two entries of one key, a page that is under another tree than the one that lists it, an
object in two versions, bytes before the beginning or after the end), it could print what nobody
has measured.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Iterator

from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

from drapetemplate.record.budget import MOST_AT_ONCE, Budget
from drapetemplate.record.counted_reader import CountedReader
from drapetemplate.record.objects import BadPdfError
from drapetemplate.record.quick_read import places
from drapetemplate.record.unpacking import entry_of, inflated, resolved

MOST_DEEP = 50
"""Trees of pages inside one another."""
OTHERWISE = "readers may differ in what it shows"
# Some readers look for the end in a file's last 1,024 bytes alone.
_END = re.compile(rb"startxref[\0\t\n\f\r ]+\d{1,12}[\0\t\n\f\r ]+%%EOF[\0\t\n\f\r ]{0,500}\Z")
_LONGEST_END = 1_000


class _TwoWaysError(Exception):
    """A tree of pages that can be read in two ways."""


def two_meanings(pdf: bytes, reader: CountedReader, budget: Budget) -> Iterator[str]:
    """A PDF's bytes and its reader in, after all has been read; a sentence for each doubt out."""
    if not pdf.startswith(b"%PDF-"):
        yield f"the file has something before its beginning: {OTHERWISE}"
    if not _END.search(pdf[-_LONGEST_END:]):
        yield f"the file has no end, or something after it: {OTHERWISE}"
    if not _is_where_it_says(pdf, reader, budget):
        yield f"the file says in two ways where its objects are: {OTHERWISE}"
    if _two_versions(reader):
        yield f"the file has an object in two versions: {OTHERWISE}"
    try:
        _pages_under(reader.root_object.raw_get("/Pages"), None, set())
    except (_TwoWaysError, KeyError):
        yield f"the file lists its pages in a way that is no tree: {OTHERWISE}"
    if reader.guessed:
        yield f"the file is damaged, or says two things in one place: {OTHERWISE}"


def _is_where_it_says(pdf: bytes, reader: CountedReader, budget: Budget) -> bool:
    """Whether each object was read from where a strict reader of cross references finds it.

    One that the last table calls free is gone; one in a stream is the only one of its number there.
    """
    try:
        strict = places(lambda at, count: pdf[at : at + count], len(pdf))
    except (BadPdfError, ValueError, OverflowError, zlib.error):
        return False
    plain = {number: (1, at) for rows in reader.xref.values() for number, at in rows.items()}
    packed = {number: (2, *place) for number, place in reader.xref_objStm.items()}
    if plain | packed != {n: place[:2] if place[0] == 1 else place for n, place in strict.items()}:
        return False
    inside: dict[int, list[int]] = {}
    for number, (_, stream, place) in packed.items():
        if stream not in inside:
            inside[stream] = _numbers_in(reader, stream, budget)
        if inside[stream][place : place + 1] != [number]:
            return False
    return all(len(set(numbers)) == len(numbers) for numbers in inside.values())


def _numbers_in(reader: CountedReader, stream: int, budget: Budget) -> list[int]:
    """The numbers of the objects in a stream of objects, in order (7.5.7)."""
    held = reader.get_object(stream)
    first = entry_of(held, "/First")
    data = inflated(held, MOST_AT_ONCE, budget) if isinstance(held, StreamObject) else None
    if data is None or not isinstance(first, int):
        return []
    return [int(number[:10]) for number in data[:first].split()[::2]]


def _two_versions(reader: CountedReader) -> bool:
    """Whether a number stands for two objects: some readers look at the number alone (7.3.10)."""
    later = [n for generation, places in reader.xref.items() if generation for n in places]
    first = {*reader.xref.get(0, ()), *reader.xref_objStm}
    return len(set(later)) != len(later) or not first.isdisjoint(later)


def _pages_under(held: object, above: int | None, seen: set[int], deep: int = 0) -> int:
    """How many pages a tree has, each part under the one that lists it (7.7.3); else an error.

    What a page inherits is looked up from the page by some readers, from the tree by others.
    """
    node = resolved(held)
    if not isinstance(held, IndirectObject) or not isinstance(node, DictionaryObject):
        raise _TwoWaysError
    parent = node.raw_get("/Parent") if "/Parent" in node else None
    under = parent.idnum if isinstance(parent, IndirectObject) else parent
    if under != above or held.idnum in seen or deep > MOST_DEEP:
        raise _TwoWaysError
    seen.add(held.idnum)
    if entry_of(node, "/Type") == "/Page":
        return 1
    kids = entry_of(node, "/Kids")
    if entry_of(node, "/Type") != "/Pages" or not isinstance(kids, ArrayObject):
        raise _TwoWaysError
    pages = sum(_pages_under(kid, held.idnum, seen, deep + 1) for kid in kids)
    if entry_of(node, "/Count") != pages:
        raise _TwoWaysError
    return pages
