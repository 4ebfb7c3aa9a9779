"""The job in a PDF found without reading the rest of it: a few short looks into the file.

Looking through a thousand PDFs takes their catalogues, not their pages. Read is what this tool
writes, also where another program has packed it anew or added to its end; each look is short, and
there are only so many of them, whatever the file says of itself. What is damaged or encrypted isn't
mended here: `read.job_in` takes its time with one PDF.
"""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from itertools import accumulate
from typing import TypeAlias

from drapetemplate.record.attachment import NAME, SETTINGS, checksum
from drapetemplate.record.objects import (
    BadPdfError,
    CutShortError,
    Objects,
    Reference,
    Value,
    as_text,
)

ReadAt = Callable[[int, int], bytes]
"""Bytes of a file, from an offset, at most so many."""

NO_PDF = "damaged, or no PDF"
ENCRYPTED = "encrypted"
NO_JOB = "no job in it"

_LOOKS = (2_000, 30_000, 500_000)
"""How many bytes are read for an object: more only where it doesn't end before."""
_END = 1_100
_MOST_UNPACKED = 1_000_000
_MOST_TABLES = 30
_MOST_SECTIONS = 200
_MOST_LOOKED_UP = 100
_MOST_ROWS = 100_000
_ENTRY = 20
_PRINTED = re.compile("strip .{1,20} sheet [0-9]{1,5}|roll page [0-9]{1,5}")


@dataclass(frozen=True, slots=True)
class Attached:
    """A job file's bytes, and how many pages of its PDF are printed for the strip itself.

    These are its sheets, or on a roll its pages; None where the PDF doesn't name its pages.
    `made_with` is the text of the settings it was made with, empty for none.
    """

    job: bytes
    sheets: int | None
    made_with: str = ""


Place: TypeAlias = tuple[int, int, int]
"""An object's kind, and where it is: 1 and its offset, or 2, a stream's number, its place there."""


class NoJobError(Exception):
    """Why a PDF gives no job, in a few words."""


def attached_job(read_at: ReadAt, size: int, most: int) -> Attached:
    """Return what a PDF of `size` bytes has attached, a job file of at most `most` bytes.

    NoJobError for all else.
    """
    if not read_at(0, 5).startswith(b"%PDF-"):
        raise NoJobError(NO_PDF)
    try:
        return _Pdf(read_at, size).attached(most)
    except (BadPdfError, zlib.error, ValueError, OverflowError) as error:
        raise NoJobError(NO_PDF) from error


def places(read_at: ReadAt, size: int) -> dict[int, Place]:
    """Return where each object of a PDF stands that is in use, by number.

    BadPdfError, ValueError or zlib's error where the cross references leave room for doubt: an
    object that one table has twice, a kind that isn't known, tables for old readers and for new.
    """
    return _Pdf(read_at, size).places()


@dataclass(frozen=True, slots=True)
class _Rows:
    """Cross references to objects from `first` on: a table's rows where they stand in the file."""

    first: int
    count: int
    at: int

    packed: bytes | None = None
    """Those of a stream, unpacked, and how many bytes each of a row's three numbers takes."""
    widths: tuple[int, int, int] = (0, 0, 0)


class _Pdf:
    """One PDF, as far as it has to be known."""

    def __init__(self, read_at: ReadAt, size: int) -> None:
        self._read_at = read_at
        self._size = size
        self._objects = Objects()
        self._rows: list[_Rows] = []
        self._ends: list[int] = []  # how many of these there are after each table
        self._hybrid = False
        self._looked_up = 0
        self._left = _MOST_UNPACKED
        # Object streams unpacked so far: one has many objects.
        self._streams: dict[int, tuple[dict[str, Value], bytes | None]] = {}
        self._trailer = self._trailers()

    def attached(self, most: int) -> Attached:
        if "Encrypt" in self._trailer:
            raise NoJobError(ENCRYPTED)
        root = self._entries(self._trailer.get("Root"))
        names = self._entries(self._entries(root.get("Names")).get("EmbeddedFiles"))
        listed = self._value(names.get("Names"))
        if not isinstance(listed, list) or len(listed) != 2 or as_text(listed[0]) != NAME:
            raise NoJobError(NO_JOB)
        held = self._entries(self._entries(listed[1]).get("EF")).get("F")
        entries, data = self._stream(held, most)
        # As `read.job_in` has it, which takes none that is packed in a second way.
        if data is None or len(data) > most or self._value(entries.get("DecodeParms")) is not None:
            raise NoJobError(NO_PDF)
        stated = self._value(self._entries(entries.get("Params")).get("CheckSum"))
        # What is packed has a checksum of its own.
        if stated != checksum(data) and not (stated is None and "Filter" in entries):
            raise NoJobError(NO_PDF)
        made_with = as_text(self._entries(self._trailer.get("Info")).get(SETTINGS)) or ""
        return Attached(data, self._sheets(root), made_with)

    def _sheets(self, root: dict[str, Value]) -> int | None:
        """How many pages are named as the strip's own."""
        named = self._value(self._entries(root.get("PageLabels")).get("Nums"))
        if not isinstance(named, list):
            return None
        labels = (as_text(label.get("P")) for label in named[1::2] if isinstance(label, dict))
        return sum(1 for label in labels if label and _PRINTED.fullmatch(label))

    def _entries(self, value: Value) -> dict[str, Value]:
        """A dictionary, wherever it stands; an empty one for what is none."""
        found = self._value(value)
        return found if isinstance(found, dict) else {}

    def _value(self, value: Value) -> Value:
        """What a reference leads to; anything else as it is."""
        if not isinstance(value, Reference):
            return value
        found, _ = self._object(value)
        return None if isinstance(found, Reference) else found

    def _object(self, reference: Reference) -> tuple[Value, int]:
        """An object, and where in the file its value ends; 0 for one in a stream."""
        self._looked_up += 1
        if self._looked_up > _MOST_LOOKED_UP:
            raise BadPdfError("too much of it")
        kind, at, index = self._place(reference.number)
        if kind == 1:
            return self._at(at, reference.number)
        if kind == 2:
            return self._packed(at, index), 0
        return None, 0

    def _at(self, at: int, number: int | None = None) -> tuple[Value, int]:
        """The value of the object that begins there, and where in the file that ends."""
        for look in _LOOKS:
            data = self._read_at(at, look)
            try:
                own, end = self._objects.read(data)
                _, end = self._objects.read(data, end)
                end = self._objects.words(data, end, b"obj")
                if number is not None and own != number:
                    raise BadPdfError("another object")
                value, end = self._objects.read(data, end)
            except CutShortError:
                if len(data) < look:
                    raise
            else:
                return value, at + end
        raise BadPdfError("too much of it")

    def _stream(self, value: Value, most: int) -> tuple[dict[str, Value], bytes | None]:
        """A stream's entries and its bytes, one more than `most` where there are more.

        None where it is none, or packed in another way than `zlib`'s.
        """
        if not isinstance(value, Reference):
            return {}, None
        return self._unpacked(*self._object(value), most)

    def _unpacked(
        self, entries: Value, at: int, most: int
    ) -> tuple[dict[str, Value], bytes | None]:
        begins = re.match(rb"[\0\t\n\f\r ]*stream(?:\r\n|\n)", self._read_at(at, 20))
        if not isinstance(entries, dict) or begins is None:
            return {}, None
        length = self._value(entries.get("Length"))
        if not isinstance(length, int) or not 0 <= length <= most + 1000:
            return entries, None
        data = self._read_at(at + begins.end(), length)
        packing = entries.get("Filter")
        if packing is None:
            return entries, data
        if packing not in ("FlateDecode", ["FlateDecode"]):
            return entries, None
        unpacking = zlib.decompressobj()
        data = unpacking.decompress(data, most + 1)
        parameters = self._entries(entries.get("DecodeParms"))
        if not unpacking.eof:
            return entries, None
        return entries, _unfiltered(data, parameters) if parameters else data

    def _table_bytes(self, entries: Value, at: int) -> tuple[dict[str, Value], bytes | None]:
        """The same of a stream of cross references or objects: only so much in all."""
        found, data = self._unpacked(entries, at, self._left)
        self._left -= len(data or b"")
        if data is not None and self._left < 0:
            raise BadPdfError("too much of it")
        return found, data

    # Cross references: where each object stands (ISO 32000-2:2020, 7.5.4 and 7.5.8).

    def _trailers(self) -> dict[str, Value]:
        """The last trailer's entries; the cross references of all are kept."""
        end = self._read_at(max(self._size - _END, 0), _END)
        found = re.findall(rb"startxref[\0\t\n\f\r ]+([0-9]{1,12})[\0\t\n\f\r ]", end)
        if not found:
            raise BadPdfError("no end")
        last: dict[str, Value] | None = None
        at: Value = int(found[-1])
        seen: set[int] = set()
        while isinstance(at, int) and at not in seen and len(seen) < _MOST_TABLES:
            seen.add(at)
            table = self._read_at(at, 5).startswith(b"xref")
            trailer = self._table(at) if table else self._table_in_stream(at)
            last = trailer if last is None else last
            self._ends.append(len(self._rows))
            self._hybrid = self._hybrid or "XRefStm" in trailer
            at = trailer.get("Prev")
        return last or {}

    def _table(self, start: int) -> dict[str, Value]:
        at = start + 4
        for _ in range(_MOST_SECTIONS):
            line = self._read_at(at, 60)
            section = re.match(
                rb"[\0\t\n\f\r ]*([0-9]{1,10}) ([0-9]{1,10})[ ]*(?:\r\n|\n|\r)", line
            )
            if section is None:
                break
            first, count = int(section[1]), int(section[2])
            at += section.end()
            self._rows.append(_Rows(first, count, at))
            at += count * _ENTRY
        for look in _LOOKS:
            data = self._read_at(at, look)
            try:
                end = self._objects.words(data, 0, b"trailer")
                trailer, _ = self._objects.read(data, end)
            except CutShortError:
                if len(data) < look:
                    raise
            else:
                return self._entries(trailer)
        raise BadPdfError("too much of it")

    def _table_in_stream(self, at: int) -> dict[str, Value]:
        entries, data = self._table_bytes(*self._at(at))
        widths = entries.get("W")
        sections = entries.get("Index", [0, entries.get("Size")])
        if data is None or not isinstance(widths, list) or not isinstance(sections, list):
            raise BadPdfError("no cross references")
        if len(widths) != 3 or not all(isinstance(w, int) and 0 <= w <= 8 for w in widths):
            raise BadPdfError("no cross references")
        kind, place, index = (w for w in widths if isinstance(w, int))
        row, begin = kind + place + index, 0
        for first, count in zip(sections[::2], sections[1::2], strict=True):
            if not isinstance(first, int) or not isinstance(count, int) or count < 0 or not row:
                raise BadPdfError("no cross references")
            packed = data[begin : begin + count * row]
            self._rows.append(_Rows(first, len(packed) // row, 0, packed, (kind, place, index)))
            begin += count * row
            if len(self._rows) > _MOST_SECTIONS:
                raise BadPdfError("too much of it")
        return entries

    def places(self) -> dict[int, Place]:
        """All that is in use, of each object what the last table says of it."""
        found: dict[int, Place] = {}
        begin, left = 0, _MOST_ROWS
        for end in self._ends:
            here: dict[int, Place] = {}
            for rows in self._rows[begin:end]:
                for place in range(rows.count):
                    number = rows.first + place
                    left -= 1
                    if left < 0 or number in here or self._hybrid:
                        raise BadPdfError("two meanings, or too much of it")
                    here[number] = self._row(rows, place)
                    if here[number][0] > 2:
                        raise BadPdfError("no known kind")
            found = here | found
            begin = end
        return {number: place for number, place in found.items() if place[0]}

    def _place(self, number: int) -> Place:
        """An object's place; (0, 0, 0) for one that isn't there."""
        for rows in self._rows:
            place = number - rows.first
            if 0 <= place < rows.count:
                return self._row(rows, place)
        return 0, 0, 0

    def _row(self, rows: _Rows, place: int) -> Place:
        """What one row says."""
        if rows.packed is None:
            row = self._read_at(rows.at + place * _ENTRY, _ENTRY)
            stated = re.fullmatch(rb"([0-9]{10}) [0-9]{5} ([nf])(?: \r| \n|\r\n)", row)
            if stated is None:
                raise BadPdfError("no cross references")
            return (1, int(stated[1]), 0) if stated[2] == b"n" else (0, 0, 0)
        kind, at, index = rows.widths
        begin = place * (kind + at + index)
        numbers = []
        for width in rows.widths:
            numbers.append(int.from_bytes(rows.packed[begin : begin + width], "big"))
            begin += width
        # A kind that takes no byte is 1.
        return (numbers[0] if kind else 1, numbers[1], numbers[2])

    def _packed(self, stream: int, index: int) -> Value:
        """The object at a place of an object stream (ISO 32000-2:2020, 7.5.7)."""
        if stream not in self._streams:
            kind, at, _ = self._place(stream)
            if kind != 1:
                raise BadPdfError("an object nowhere")
            self._streams[stream] = self._table_bytes(*self._at(at, stream))
        entries, data = self._streams[stream]
        count, first = entries.get("N"), entries.get("First")
        if data is None or not isinstance(count, int) or not isinstance(first, int):
            raise BadPdfError("no objects")
        heads = data[:first].split(maxsplit=2 * index + 2)
        if not 0 <= index < count or len(heads) < 2 * index + 2:
            raise BadPdfError("no such object")
        place = first + int(heads[2 * index + 1][:10])
        # A stream's last object ends with it, so that a space says so.
        found, _ = self._objects.read(data[place:] + b" ")
        return found


def _unfiltered(data: bytes, parameters: dict[str, Value]) -> bytes:
    """Rows whose bytes were each the difference to the row above, as cross references are packed.

    Of PNG's predictors (RFC 2083, 6) that is the one in use for them, beside none at all.
    """
    columns, predictor = parameters.get("Columns", 1), parameters.get("Predictor", 1)
    if predictor == 1:
        return data
    if not isinstance(columns, int) or not 1 <= columns <= 32:
        raise BadPdfError("an odd row")
    if not isinstance(predictor, int) or predictor < 10:
        raise BadPdfError("another predictor")
    row = columns + 1
    kinds = set(data[::row])
    if len(data) % row or not kinds <= {0, 2} or len(kinds) > 1:
        raise BadPdfError("another predictor")
    plain = bytearray(len(data) // row * columns)
    for column in range(columns):
        differences = data[column + 1 :: row]
        if kinds == {2}:
            differences = bytes(total % 256 for total in accumulate(differences))
        plain[column::columns] = differences
    return bytes(plain)
