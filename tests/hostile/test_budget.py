"""PDFs that ask for much more work than their size: each ends soon, in one line that says why."""

from __future__ import annotations

import re
import time
import zlib
from itertools import accumulate
from pathlib import Path

import pytest
from pikepdf import Array, Pdf, Stream

from drapetemplate import measure_pdf, recall_job
from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Line, Pen
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import FileError
from drapetemplate.measure import check_pdf
from drapetemplate.measure.compare_marks import compare
from drapetemplate.measure.drawn_marks import Path as DrawnPath
from drapetemplate.measure.strange_pdf import allow_for
from drapetemplate.record.budget import ANY, Budget, Kind
from tests.helpers.commands import run
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import with_job
from tests.hostile.strangers import JOB, PDF, PLAIN, appended, edited, root_of

SECONDS = 4.0
"""Of processor time: a tenth of it is taken."""


def shared(body: bytes, names: int) -> bytes:
    """A PDF in which one object has so many numbers, each for a row of 20 bytes."""
    rows = b"%010d 00000 n \n" % len(PLAIN) * names
    return appended(b"5000 0 obj\n" + body + b"\nendobj\n", _table(names, rows))


def _table(count: int, rows: bytes) -> bytes:
    """Cross references to so many objects from 5000 on, those of the PDF itself before them."""
    before = PLAIN.rindex(b"xref\n0 ")
    trailer = b"trailer\n<< /Size 99999 /Prev %d %s >>" % (before, root_of(PLAIN))
    return b"xref\n5000 %d\n" % count + rows + trailer


def many(objects: int) -> bytes:
    """A PDF with so many objects more, each a small one that is where it should be."""
    each = [b"%d 0 obj\n1\nendobj\n" % n for n in range(5000, 5000 + objects)]
    ends = accumulate(map(len, each), initial=len(PLAIN))
    rows = b"".join(b"%010d 00000 n \n" % at for at, _ in zip(ends, each, strict=False))
    return appended(b"".join(each), _table(objects, rows))


def stream(data: bytes, entries: bytes = b"") -> bytes:
    """A packed stream's own bytes."""
    packed = zlib.compress(data, 9)
    head = b"<< %s /Filter /FlateDecode /Length %d >>\nstream\n" % (entries, len(packed))
    return head + packed + b"\nendstream"


def drawn(data: bytes) -> bytes:
    """A PDF in which all pages are drawn with the same."""

    def edit(pdf: Pdf) -> None:
        held = pdf.make_indirect(Stream(pdf, data))
        for page in pdf.pages:
            page.obj.Contents = Array([held])

    return edited(edit)


def test_said_by_the_command(tmp_path: Path) -> None:
    """As JSON too, it is one line on standard error and exit 2."""
    held = tmp_path / "held.pdf"
    held.write_bytes(drawn(LETTERS))
    for words in (("measure", held), ("measure", held, "--json")):
        done = run(*words)
        assert (done.exit_code, done.stdout) == (2, "")
        [line] = done.stderr.splitlines()
        assert line.startswith(f"{held}: asks for more than ")


LETTERS = b"BT /R0 9 Tf " + b"(" + b"e" * 20_000 + b") Tj ET"


@pytest.mark.parametrize(
    ("pdf", "what"),
    [
        pytest.param(shared(stream(bytes(15_000_000)), 400), "unpacked bytes", id="unpacked"),
        pytest.param(shared(stream(bytes(6_000_000)), 2000), "bytes", id="held"),
        pytest.param(shared(b"[" + b"0 " * 40_000 + b"]", 400), "bytes of objects", id="parsed"),
        pytest.param(shared(b"<< >>", 6_000), "bytes searched for objects", id="searched"),
        pytest.param(many(8_000), "objects", id="objects"),
        pytest.param(drawn(LETTERS), "marks", id="letters"),
        pytest.param(drawn(b"0 0 m 9 9 l S\n" * 10_000), "marks", id="strokes"),
    ],
)
def test_asks_for_too_much(pdf: bytes, what: str) -> None:
    """What a file asks for is counted over all of it; the job in it is there as before."""
    assert len(pdf) < 500_000
    begun = time.process_time()
    with pytest.raises(FileError) as error:
        measure_pdf(pdf, "held.pdf")
    assert time.process_time() - begun < SECONDS
    [fault] = error.value.faults
    assert fault.where == "held.pdf"
    assert fault.text.startswith("asks for more than ")
    assert f" {what}" in fault.text
    assert fault.text.endswith(": it is not measured")
    assert recall_job(pdf) == JOB.encode()


def test_own_pdf_is_far_from_its_limit(monkeypatch: pytest.MonkeyPatch) -> None:
    """A job's own PDF asks for at most half of what that job lets it, however large the job is.

    What any PDF may ask for is left out: it would hide that a large job's is refused.
    """
    kept: list[tuple[Budget, dict[Kind, int], dict[Kind, int]]] = []

    def allowing(document: Document, written: bytes, seconds: float, budget: Budget) -> None:
        before, spent = {kind: budget.left(kind) for kind in ANY}, dict(budget.spent)
        allow_for(document, written, seconds, budget)
        kept.append((budget, {kind: budget.left(kind) - before[kind] for kind in ANY}, spent))

    monkeypatch.setattr(check_pdf, "allow_for", allowing)
    assert measure_pdf(PDF, "own.pdf").true
    [(budget, allowed, before)] = kept
    kinds: tuple[Kind, ...] = ("objects", "parsed", "unpacked", "marks")
    for kind in kinds:
        asked = budget.spent[kind] - before[kind]
        assert 0 < 2 * asked <= allowed[kind] < 10 * asked, kind


def test_large_job_in_a_small_file() -> None:
    """A job isn't laid out where the PDF is far too small to be of it."""
    windows = [f'width = "{n} mm"\npanels = "left"\ncount = 20' for n in range(13_000, 13_010)]
    small = 'outside = "20 mm"\nopening = "10 mm"'
    begun = time.process_time()
    with pytest.raises(FileError) as error:
        measure_pdf(with_job(job_toml(*windows, eyelet=small).encode()), "held.pdf")
    assert time.process_time() - begun < SECONDS
    said = r"has [0-9,]+ bytes, too few for its job’s [0-9]+ sheets: it is not measured"
    assert re.fullmatch(said, error.value.faults[0].text)


def test_what_moved_is_looked_for_only_so_long() -> None:
    """Beyond so many pairs of marks all are counted; none is looked for."""
    here = [Line(n, 0, n, 5, Pen(0.5), role=Role.OUTSIDE) for n in range(0, 90, 3)]
    moved = [
        DrawnPath((("m", ((n + 1.0, 0.0),)), ("l", ((n + 1.0, 5.0 + n / 9),))), Pen(0.5), None)
        for n in range(0, 90, 3)
    ]
    looked_for, counted = compare(here, moved), compare(here, moved, 899)
    assert (looked_for.pairs, counted.pairs) == (900, 0)
    assert "outside at 0.0, 2.5 mm is off by 1.00 mm" in looked_for.faults
    assert counted.faults == ("in all 30 marks not where they should be, 30 others drawn",)
