"""Objects of two small PDFs held against one another: each difference by its path and kind."""

from __future__ import annotations

from io import BytesIO

import pytest
from pikepdf import Array, Dictionary, Name, Object, Pdf, String
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, NameObject, NullObject

from drapetemplate.measure.compare_objects import MOST_DIFFERENCES, Difference, ObjectComparison
from drapetemplate.record.budget import Budget


def pdf_of(held: object, *, packed: bool = False) -> PdfReader:
    """A PDF of three pages whose catalogue has an entry "Held": any value, or what makes one."""
    pdf = Pdf.new()
    for _ in range(3):
        pdf.add_blank_page()
    pdf.Root.Held = held(pdf) if callable(held) else held
    out = BytesIO()
    pdf.save(out, compress_streams=packed)
    return PdfReader(BytesIO(out.getvalue()))


def compared(found: object, written: object) -> list[tuple[str, str]]:
    """Where they differ, paths without the entry's own name, and how."""
    return [("/".join(path[1:]), kind) for path, kind in differences(found, written)]


def differences(found: object, written: object) -> list[tuple[tuple[str, ...], str]]:
    """Where two catalogues with these entries differ."""
    a, b = pdf_of(found), pdf_of(written)
    comparison = ObjectComparison(a, b, 2, Budget(1000))
    told = comparison.differences(a.root_object, b.root_object, {"/Pages"})
    # What is the same twice over is so the second time too, and what differs still does.
    assert told == comparison.differences(a.root_object, b.root_object, {"/Pages"})
    assert all(isinstance(one, Difference) for one in told)
    return [(one.path, one.kind) for one in told]


def stream(data: bytes, **entries: object) -> object:
    """What makes a stream."""
    return lambda pdf: pdf.make_stream(data, **entries)


def page(number: int) -> object:
    """What makes a reference to a page."""
    return lambda pdf: pdf.pages[number].obj


def apart(held: Object) -> object:
    """What makes an object of its own, referred to."""
    return lambda pdf: pdf.make_indirect(held)


VALUES: list[object] = [
    True, False, 1, 0, 1.5, String("1"), String("one"), Name.one, Name.two, Array([1]), Array([]),
    Dictionary(A=1), Dictionary(), stream(b"1"), stream(b"2"), page(0), page(1),
]  # fmt: skip


@pytest.mark.parametrize("one", range(len(VALUES)))
def test_any_two_values(one: int) -> None:
    """A value is itself, written straight or referred to, and none of the others."""
    for other in range(one, len(VALUES)):
        for a, b in {(one, other), (other, one)}:
            assert bool(compared(VALUES[a], VALUES[b])) == (a != b), (a, b)


@pytest.mark.parametrize(
    ("found", "written", "told"),
    [
        (Dictionary(A=1, C=3), Dictionary(A=1, B=2), [("/C", "added"), ("/B", "gone")]),
        (Dictionary(A=1, B=2), Dictionary(A=2, B=2), [("/A", "changed")]),
        (Dictionary(A=1), Dictionary(A=1.0), []),
        (apart(Dictionary(A=1)), Dictionary(A=1), []),
        (apart(Dictionary(A=1)), apart(Dictionary(A=2)), [("/A", "changed")]),
        (Array([1, 2, 3]), Array([1, 5, 4]), [("3", "changed"), ("2", "changed")]),
        (Array([1, 2]), Array([1, 2, 3]), [("", "changed")]),
        (Array([1, Dictionary(A=1)]), Array([1, Dictionary()]), [("2//A", "added")]),
        (stream(b"x", A=1), stream(b"x", A=2), [("/A", "changed")]),
        (stream(b"x", A=1), stream(b"y"), [("/A", "added"), ("", "changed")]),
        (stream(b"xy"), stream(b"x"), [("", "changed")]),
        (stream(b"x"), Dictionary(), [("", "changed")]),
        (page(0), page(1), [("", "changed")]),
        (page(0), apart(Dictionary()), [("", "changed")]),
        (apart(Dictionary()), page(0), [("", "changed")]),
    ],
)
def test_differences(found: object, written: object, told: list[tuple[str, str]]) -> None:
    """Each is told by the keys and places that lead there, packing and numbers apart."""
    assert compared(found, written) == told


def test_a_page_is_but_its_place() -> None:
    """What is referred to on a page isn't looked into; past the pages read it is an object."""
    assert compared(page(2), page(2)) == []

    def marked(pdf: Pdf) -> Object:
        pdf.pages[1].obj.Mark = 1
        return pdf.pages[1].obj

    assert compared(marked, page(1)) == []


def test_null_is_nothing() -> None:
    """An entry that is null is as if it weren't there (ISO 32000-1, 7.3.7)."""
    comparison = ObjectComparison(pdf_of(1), pdf_of(1), 2, Budget(1000))
    null, none = DictionaryObject({NameObject("/A"): NullObject()}), DictionaryObject()
    assert comparison.differences(null, none) == comparison.differences(none, null) == []


def test_packed_or_not() -> None:
    """How a stream is packed says nothing of it."""
    words = stream(b"some words " * 90)
    a, b = pdf_of(words, packed=True), pdf_of(words)
    assert "/Filter" in str(a.root_object["/Held"])
    comparison = ObjectComparison(a, b, 2, Budget(1000))
    assert comparison.differences(a.root_object, b.root_object, {"/Pages"}) == []


def test_no_end_of_differences() -> None:
    """Of an array's many only so many are looked for, and what leads round in a ring ends."""
    many = [(Array([n] * 500)) for n in range(2)]
    assert len(compared(*many)) == MOST_DIFFERENCES

    def ring(pdf: Pdf) -> Object:
        held = pdf.make_indirect(Dictionary())
        held.Round = held
        return held

    assert compared(ring, ring) == []
