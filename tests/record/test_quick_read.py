"""The job in a PDF found by a few looks: the same as the thorough reader finds, or none."""

from __future__ import annotations

import re
from collections.abc import Callable
from contextlib import suppress
from io import BytesIO
from itertools import count

import pikepdf
import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.record.objects import BadPdfError, Name, Objects
from drapetemplate.record.quick_read import Attached, NoJobError, Place, attached_job, places
from drapetemplate.record.read import job_in
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import damaged, made, with_job
from tests.helpers.searching import searched
from tests.hostile.strangers import xref_stream

MOST = 1 << 20
JOB = job_toml("width = 40\nname = 'Linen, crème'")
PDF = made(JOB)[0]


def quick(pdf: bytes, looks: list[int] | None = None) -> Attached:
    """What the quick reader finds in these bytes; how much it looked at goes into `looks`."""

    def read_at(offset: int, count: int) -> bytes:
        assert count >= 0
        if looks is not None:
            looks.append(count)
        return pdf[offset : offset + count] if offset >= 0 else b""

    return attached_job(read_at, len(pdf), MOST)


def why_not(pdf: bytes) -> str:
    """Why the quick reader finds no job."""
    with pytest.raises(NoJobError) as error:
        quick(pdf)
    return str(error.value)


def again(*, packed: bool = False, **parts: object) -> bytes:
    """The PDF written again by another library."""
    out = BytesIO()
    mode = pikepdf.ObjectStreamMode
    with pikepdf.open(BytesIO(PDF)) as pdf:
        kind = mode.generate if packed else mode.disable
        pdf.save(out, object_stream_mode=kind, **parts)  # type: ignore[arg-type]
    return out.getvalue()


def added_to() -> bytes:
    """The PDF with an entry added at its end, as viewers add a note."""
    out = BytesIO()
    writer = pypdf.PdfWriter(BytesIO(PDF), incremental=True)
    writer.add_metadata({"/Seen": "yes"})
    writer.write(out)
    assert out.getvalue().startswith(PDF)
    return out.getvalue()


@pytest.mark.parametrize(
    "write",
    [
        lambda: PDF,
        added_to,
        again,
        lambda: again(packed=True),
        lambda: again(linearize=True),
        lambda: again(packed=True, linearize=True),
        lambda: again(compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.all),
    ],
)
def test_as_the_thorough_reader(write: Callable[[], bytes]) -> None:
    """The same bytes, as this tool writes them and as others pack them anew or add to them."""
    pdf = write()
    with pikepdf.open(BytesIO(PDF)) as read:
        labels = [str(label.P) for label in list(read.Root.PageLabels.Nums)[1::2]]
    sheets = sum(" sheet " in label for label in labels)
    assert sheets > 1
    assert quick(pdf) == Attached(JOB.encode(), sheets)
    assert job_in(pdf, "x", MOST) == JOB.encode()


def test_pages_of_a_roll() -> None:
    """On a roll the strips' PDF has the roll's pages, and the ticket's none."""
    windows = ["width = 100\npanels = 'right'", "width = 90\npanels = 'right'"]
    rolls = made(job_toml(*windows, tables='[paper]\nsize = "24 in roll"'))
    strips, ticket = (quick(pdf).sheets for pdf in rolls)
    with pikepdf.open(BytesIO(rolls[0])) as read:
        assert strips == len(read.pages)
    assert ticket == 0


def test_few_looks() -> None:
    """Little of a file is looked at, however many pages it has."""
    looks: list[int] = []
    quick(PDF, looks)
    assert sum(looks) < len(PDF)
    assert len(looks) < 40


@pytest.mark.parametrize(
    ("pdf", "why"),
    [
        (b"", "damaged, or no PDF"),
        (b"%PDF-1.7\n", "damaged, or no PDF"),
        (b"x" + PDF, "damaged, or no PDF"),
        (PDF[:-200], "damaged, or no PDF"),
        (again(encryption=pikepdf.Encryption(owner="a", user="")), "encrypted"),
        (made(JOB)[0].replace(b"EmbeddedFiles", b"EmbeddedFilms"), "no job in it"),
        (with_job(bytes(MOST + 1)), "damaged, or no PDF"),
        (with_job(bytes(50 * MOST)), "damaged, or no PDF"),
        (with_job(b"x = 1").replace(b"/CheckSum", b"/CheckSum <00> /X"), "damaged, or no PDF"),
    ],
    ids=count(1),  # their bytes are others in each process
)
def test_no_job(pdf: bytes, why: str) -> None:
    """What gives no job says why."""
    assert why_not(pdf) == why


@searched(150)
@given(data=st.data())
def test_damage_gives_the_job_or_none(data: st.DataObject) -> None:
    """A PDF cut short or with a byte changed gives the job file whole, or none."""
    job = b"units = 'in'\n" * 20
    for pdf in data.draw(damaged(with_job(job))):
        found: bytes | None = None
        with suppress(NoJobError):
            found = quick(pdf).job
        assert found in {None, job}


@pytest.mark.parametrize(
    ("text", "value"),
    [
        (b"<</A[1 -2 .5 true null]/B#20C 3 0 R>>", {"A": [1, -2, 0.5, True, None], "B C": (3, 0)}),
        (
            rb"(a (b) \) \053 \\ \n\
x) ",
            b"a (b) ) + \\ \nx",
        ),
        (b"<48 65 6> ", b"He`"),
        (b"% a remark\n/Name ", Name("Name")),
    ],
)
def test_objects(text: bytes, value: object) -> None:
    """Each kind of object is read as ISO 32000-2, 7.3 has it."""
    found, end = Objects().read(text)
    assert found == value
    assert text[end:].strip() == b""


@pytest.mark.parametrize(
    "text",
    [b"[" * 40, b"]", b"[>>", b"<< /A >>", b"<< 1 2 >>", b"nothing ", b"(" * 99, b"[1 " * 20_000],
)
def test_no_objects(text: bytes) -> None:
    """What is none, or too much of one, is refused."""
    with pytest.raises(BadPdfError):
        Objects().read(text)
    with pytest.raises(BadPdfError):
        Objects().read(b"[" + b"1 " * 40_000 + b"]")


def placed(pdf: bytes) -> dict[int, Place]:
    """Where the objects of these bytes stand."""
    return places(lambda at, count: pdf[at : at + count], len(pdf))


def test_places() -> None:
    """Each object that is in use, where its number stands in the file; none that is free."""
    found = placed(PDF)
    assert set(found) == {int(number) for number in re.findall(rb"\n(\d+) 0 obj\n", PDF)}
    assert all(PDF[at:].startswith(b"%d 0 obj\n" % n) for n, (_, at, _) in found.items())


ROW = b"\1\0\7\0"


@pytest.mark.parametrize(
    ("entries", "rows", "place"),
    [
        (b"", ROW, (1, 7, 0)),
        (b"/DecodeParms << /Predictor 1 /Columns 4 >>", ROW, (1, 7, 0)),
        (b"/DecodeParms << /Predictor 12 /Columns 4 >>", b"\2" + ROW, (1, 7, 0)),
        (b"/DecodeParms << /Predictor 2 /Columns 4 >>", ROW, None),
        (b"/Index [5000 -1]", ROW, None),
        (b"/Index [(a) 1]", ROW, None),
        (b"/Index [5000 (a)]", ROW, None),
        (b"/W [0 0 0]", ROW, None),
    ],
)
def test_packed_cross_references(entries: bytes, rows: bytes, place: Place | None) -> None:
    """Rows are read as ISO 32000-2, 7.5.8 has them, packed with a predictor or without one."""
    for entry in (b"/W [1 2 1]", b"/Index [5000 1]"):
        if entry.split()[0] not in entries:
            entries += b" " + entry
    pdf = xref_stream(b"/Size 9999 " + entries, rows)
    if place is None:
        with pytest.raises(BadPdfError):
            placed(pdf)
    else:
        assert placed(pdf) == {5000: place}


def test_words() -> None:
    """Only the very words that are expected are passed over."""
    assert Objects().words(b" xref\ntrailer ", 0, b"xref", b"trailer") == 13
    for text in (b"xref trailing ", b"xref /trailer ", b"xref (trailer) "):
        with pytest.raises(BadPdfError, match="no trailer"):
            Objects().words(text, 0, b"xref", b"trailer")
