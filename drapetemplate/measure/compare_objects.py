"""Objects of one PDF held against another's: what is there more, what is gone, what differs.

References are followed and streams unpacked, so that only what is said counts, not how it is
packed, numbered or put in order (ISO 32000-1, 7.3). What another program changes as it only writes
a file again is no difference.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    ByteStringObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NullObject,
    StreamObject,
    TextStringObject,
)

from drapetemplate.record.budget import Budget
from drapetemplate.record.unpacking import resolved, unpacked

MOST_DIFFERENCES = 20
"""So many are looked for, not more."""
PACKING = frozenset({"/Length", "/Filter", "/DecodeParms", "/DL"})
"""What a stream's dictionary says of its packing alone (ISO 32000-1, table 5)."""

Kind: TypeAlias = Literal["added", "gone", "changed"]
Numbers: TypeAlias = Mapping[int, int]
"""Pages' object numbers, and which page each is."""


@dataclass(frozen=True, slots=True)
class Difference:
    """Where two objects differ: `path` has the keys that lead there, an array's places counted."""

    path: tuple[str, ...]
    kind: Kind


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two objects still to be held against one another."""

    path: tuple[str, ...]
    found: object
    written: object


class ObjectComparison:
    """Compares objects of two PDFs, `found` and `written`; a page referred to is but its place.

    Two objects once found the same aren't looked at again.
    """

    def __init__(self, found: PdfReader, written: PdfReader, pages: int, budget: Budget) -> None:
        self._found_pages, self._written_pages = _places(found, pages), _places(written, pages)
        self._same: set[tuple[int, int]] = set()
        self._budget = budget

    def differences(
        self,
        found: DictionaryObject,
        written: DictionaryObject,
        leave_out: Collection[str] = (),
    ) -> list[Difference]:
        """Where two dictionaries differ, but for the entries left out; at most MOST_DIFFERENCES."""
        differences: list[Difference] = []
        seen: set[tuple[int, int]] = set()
        waiting = self._entries((), found, written, leave_out, differences)
        while waiting and len(differences) < MOST_DIFFERENCES:
            pair = waiting.pop()
            if isinstance(pair.found, IndirectObject) and isinstance(pair.written, IndirectObject):
                numbers = pair.found.idnum, pair.written.idnum
                if numbers in seen or numbers in self._same:
                    continue
                seen.add(numbers)
                page = self._found_pages.get(numbers[0])
                if page is not None or numbers[1] in self._written_pages:
                    if page != self._written_pages.get(numbers[1]):
                        differences.append(Difference(pair.path, "changed"))
                    continue
            waiting += self._opened(pair, differences)
        if not differences:
            self._same |= seen
        return differences

    def _opened(self, pair: _Pair, differences: list[Difference]) -> list[_Pair]:
        """What is inside both of a pair, still to be compared; what differs at once is told."""
        found, written = resolved(pair.found), resolved(pair.written)
        if isinstance(found, StreamObject) and isinstance(written, StreamObject):
            inside = self._entries(pair.path, found, written, PACKING, differences)
            usual = written.get_data()
            if unpacked(found, len(usual), self._budget) != usual:
                differences.append(Difference(pair.path, "changed"))
            return inside
        if isinstance(found, StreamObject) or isinstance(written, StreamObject):
            differences.append(Difference(pair.path, "changed"))
            return []
        if isinstance(found, DictionaryObject) and isinstance(written, DictionaryObject):
            return self._entries(pair.path, found, written, (), differences)
        if isinstance(found, ArrayObject) and isinstance(written, ArrayObject):
            if len(found) == len(written):
                both = enumerate(zip(found, written, strict=True), 1)
                return [_Pair((*pair.path, str(n)), a, b) for n, (a, b) in both]
        elif _alike(found, written):
            return []
        differences.append(Difference(pair.path, "changed"))
        return []

    def _entries(
        self,
        path: tuple[str, ...],
        found: DictionaryObject,
        written: DictionaryObject,
        leave_out: Collection[str],
        differences: list[Difference],
    ) -> list[_Pair]:
        """The entries that both have; those of one alone are told."""
        theirs, ours = (_keys(found).difference(leave_out), _keys(written).difference(leave_out))
        differences += [Difference((*path, key), "added") for key in sorted(theirs - ours)]
        differences += [Difference((*path, key), "gone") for key in sorted(ours - theirs)]
        return [
            _Pair((*path, key), found.raw_get(key), written.raw_get(key))
            for key in sorted(theirs & ours, reverse=True)
        ]


def _places(reader: PdfReader, most: int) -> dict[int, int]:
    """The object numbers of a PDF's first pages, with their places."""
    places = {}
    for place in range(min(len(reader.pages), most)):
        reference = reader.pages[place].indirect_reference
        if reference is not None:
            places[reference.idnum] = place
    return places


def _keys(held: DictionaryObject) -> set[str]:
    """A dictionary's keys but those whose value is null, which is as if they weren't there."""
    return {str(key) for key in held if not isinstance(resolved(held.raw_get(key)), NullObject)}


def _alike(found: object, written: object) -> bool:
    """Whether two objects that have nothing inside say the same: strings by their bytes."""
    if isinstance(found, TextStringObject | ByteStringObject):
        return (
            isinstance(written, TextStringObject | ByteStringObject)
            and found.original_bytes == written.original_bytes
        )
    if isinstance(found, BooleanObject) or isinstance(written, BooleanObject):
        return isinstance(found, BooleanObject) and found == written
    if isinstance(found, NameObject) or isinstance(written, NameObject):
        return isinstance(found, NameObject) and found == written
    if isinstance(found, int | float) and isinstance(written, int | float):
        return float(found) == float(written)
    return isinstance(found, NullObject | None) and isinstance(written, NullObject | None)
