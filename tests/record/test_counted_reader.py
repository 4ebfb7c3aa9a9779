"""A PDF's reader on a budget: what the library says of a file, and of no file of this tool's."""

from __future__ import annotations

import logging
import time
from contextvars import Context

import pytest

from drapetemplate.errors import FileError
from drapetemplate.record.budget import Budget
from drapetemplate.record.counted_reader import CountedReader
from drapetemplate.record.read import job_in
from tests.helpers.made import with_job
from tests.hostile.strangers import JOB, PLAIN, xref_stream

LIBRARY = logging.getLogger("pypdf")


def test_guessed() -> None:
    """A word of the library's says that it guessed, however many there are of them."""
    reader = CountedReader(with_job(b"x = 1"), Budget(10_000))
    assert not reader.guessed
    LIBRARY.info("all is well")
    assert not reader.guessed
    for _ in range(3):
        LIBRARY.warning("an odd object")
    assert reader.guessed


def test_said_where_nothing_is_read() -> None:
    """Where no PDF is read on a budget, the library may say what it likes."""
    Context().run(LIBRARY.warning, "an odd object")


SECONDS = 3.0
"""Of processor time: a tenth of it is taken."""
END = b"\nstartxref\n0\n%%EOF\n"


@pytest.mark.parametrize(
    ("body", "too_large"),
    [
        (b" " * 300_000, True),
        (b"x" * 299_999 + b"1" * 300_000 + b"x", True),
        ((b"x" + b"0" * 299_990) * 2, False),
        (b" obj" * 300_001, True),
        (b" obj" * 300_000, False),
    ],
    ids=["white", "digits", "apart", "objects", "as-many-objects"],
)
def test_put_in_order(body: bytes, *, too_large: bool) -> None:
    """A file without order is searched for its objects, but not for very many or very slowly.

    Nor is it slow to see that: long pieces of white took a minute.
    """
    begun = time.process_time()
    with pytest.raises(FileError) as error:
        job_in(b"%PDF-1.7\n" + body + END, "found.pdf", 100)
    [fault] = error.value.faults
    assert time.process_time() - begun < SECONDS
    assert (fault.text == "is damaged, and too large to be put in order: it is not read") is (
        too_large
    )


@pytest.mark.parametrize(("rows", "read"), [(199_000, True), (200_001, False)])
def test_packed_cross_references(rows: int, *, read: bool) -> None:
    """So many rows of packed cross references are read, here of numbers not in use, and no more."""
    before = PLAIN.rindex(b"xref\n0 ")
    entries = b"/Size 999999 /W [1 1 0] /Index [5000 %d] /Prev %d" % (rows, before)
    pdf = xref_stream(entries, bytes(2 * rows))
    if read:
        assert job_in(pdf, "found.pdf", 10_000) == JOB.encode()
    else:
        with pytest.raises(FileError, match="can't be read as a PDF"):
            job_in(pdf, "found.pdf", 10_000)
