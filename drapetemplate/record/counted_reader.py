"""pypdf's reader on a budget: what it reads is counted where all of it comes through.

These are the file's bytes and its objects, so that the library's own loops end as well: those over
pages and cross references, and those by which it puts a damaged file in order.
"""

from __future__ import annotations

import logging
from contextvars import ContextVar
from io import DEFAULT_BUFFER_SIZE, BytesIO

from pypdf import PdfReader
from pypdf.generic import IndirectObject, PdfObject, StreamObject

from drapetemplate.record.budget import Budget
from drapetemplate.record.unpacking import inflated

MOST_TABLE_ROWS = 200_000
"""Rows of packed cross references, in all."""
MOST_ROOTS = 1_000
"""Objects that are tried for a catalogue where none is named."""
MOST_PUT_IN_ORDER = 300_000
"""Objects that a file without order is searched for."""
# Before each object it is searched backwards, one byte at a time, through what is white or a digit.
_WHITE_OR_DIGIT = b"\0\t\n\f\r 0123456789"
_LONG_RUN = 300_000
_SMALL = 4_096
"""Objects are read in small bits, streams each at once."""


_GUESSED: ContextVar[list[str]] = ContextVar("_GUESSED")
"""What was said of the PDF that is read here and now: the first of it."""


class _Guesses(logging.Handler):
    """Notes that pypdf says something: it had to guess what a file means.

    Its words repeat a stranger's bytes, and are for no user's eyes.
    """

    def emit(self, record: logging.LogRecord) -> None:
        noted = _GUESSED.get(None)
        if noted is not None and not noted:
            noted.append(record.msg)


for _handler in (logging.NullHandler(), _Guesses(logging.WARNING)):
    logging.getLogger("pypdf").addHandler(_handler)


class CountedReader(PdfReader):
    """Reads one PDF, one at a time; SpentError where that asks for more than the budget has."""

    def __init__(self, pdf: bytes, budget: Budget) -> None:
        self._budget = budget
        self._guesses: list[str] = []
        _GUESSED.set(self._guesses)
        super().__init__(
            _CountedBytes(pdf, budget),
            strict=False,
            root_object_recovery_limit=MOST_ROOTS,
            xref_stream_maximum_entries=MOST_TABLE_ROWS,
        )

    @property
    def guessed(self) -> bool:
        """Whether anything that was read so far had to be guessed: others may guess otherwise."""
        return bool(self._guesses)

    def get_object(self, indirect_reference: int | IndirectObject) -> PdfObject | None:
        """Return an object; one that is new is counted."""
        known = len(self.resolved_objects)
        found = super().get_object(indirect_reference)
        new = len(self.resolved_objects) - known
        if new:
            self._budget.spend("objects", new)
        if new and isinstance(found, StreamObject) and found.get("/Type") == "/ObjStm":
            # What objects are packed in is unpacked and read next.
            data = inflated(found, self._budget.left("parsed"), self._budget)
            if data is None:
                self._budget.refuse("has objects packed in no usual way, or too many")
            else:
                self._budget.spend("parsed", len(data))
        return found


class _CountedBytes(BytesIO):
    """A PDF's bytes, counted as often as they are read."""

    def __init__(self, pdf: bytes, budget: Budget) -> None:
        super().__init__(pdf)
        self._budget = budget

    def read(self, size: int | None = -1, /) -> bytes:
        data = super().read(size)
        if size is None or size < 0:
            self._check_order(data)
        elif size == DEFAULT_BUFFER_SIZE:  # the end is looked for, line by line
            self._budget.look()
        else:
            self._budget.spend("parsed" if len(data) <= _SMALL else "held", len(data))
        return data

    def getbuffer(self) -> memoryview:
        # Asked for where an object isn't at its place: then all of the file is searched for it.
        found = super().getbuffer()
        self._budget.spend("searched", found.nbytes)
        return found

    def _check_order(self, data: bytes) -> None:
        """A file is read whole only to put it in order."""
        self._budget.look()
        if data.count(b" obj") > MOST_PUT_IN_ORDER or _has_long_run(data):
            self._budget.refuse("is damaged, and too large to be put in order")


def _has_long_run(data: bytes) -> bool:
    """Whether so much in one piece is white or a digit; each byte is looked at twice at most."""
    begin = 0
    while begin + _LONG_RUN <= len(data):
        other = len(data[begin : begin + _LONG_RUN].rstrip(_WHITE_OR_DIGIT))
        if not other:
            return True
        begin += other
    return False
