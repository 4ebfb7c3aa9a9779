"""Edits to a made PDF by another library, each of which measuring must tell."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO

import pikepdf

from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made

WINDOW = "width = 40\npanels = 'left'\nname = 'Pantry'"
JOB = job_toml(WINDOW)
PDF = made(JOB)[0]
Edit = Callable[[pikepdf.Pdf], None]


def sheet_of(pdf: pikepdf.Pdf, number: int = 1) -> int:
    """Where a strip's sheet stands among the pages."""
    labels = [page.label for page in pdf.pages]
    return labels.index(f"strip 1 sheet {number}")


def last_sheet_of(pdf: pikepdf.Pdf) -> int:
    """Where the last sheet of all stands among the pages."""
    labels = [page.label for page in pdf.pages]
    return max(n for n, label in enumerate(labels) if " sheet " in label)


def edited(edit: Edit, pdf: bytes = PDF) -> bytes:
    """A PDF after an edit by another library."""
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        edit(opened)
        opened.save(out)
    return out.getvalue()


def content(pdf: pikepdf.Pdf, number: int, change: Callable[[bytes], bytes]) -> None:
    """A page's content, changed."""
    page = pdf.pages[number]
    page.contents_coalesce()
    held = page.Contents.read_bytes()
    changed = change(held)
    assert changed != held
    page.Contents = pdf.make_stream(changed)


def through(matrix: str) -> Edit:
    """The first sheet drawn through a matrix."""

    def edit(pdf: pikepdf.Pdf) -> None:
        content(pdf, sheet_of(pdf), lambda held: f"q {matrix} cm\n".encode() + held + b"\nQ")

    return edit


# A hole of 1 in opening: eight Bezier arcs from 12.7 mm right of its centre, drawn at 0.7 mm.
_CURVE = re.compile(rb"([\d.]+) ([\d.]+) m(\s[\d.]+ [\d.]+ [\d.]+ [\d.]+ [\d.]+ [\d.]+ c){8} h\sS")


def hole_moved(by_mm: float) -> Edit:
    """The first sheet's largest circle shifted across."""

    def change(held: bytes) -> bytes:
        found = max(_CURVE.finditer(held), key=lambda one: _wide(one[0]))
        numbers = found[0].split()
        x = True
        for n, word in enumerate(numbers):
            if re.fullmatch(rb"[\d.]+", word):
                if x:
                    numbers[n] = b"%.4f" % (float(word) + by_mm / 25.4 * 72)
                x = not x
        return held[: found.start()] + b" ".join(numbers) + held[found.end() :]

    return lambda pdf: content(pdf, sheet_of(pdf), change)


def _wide(curve: bytes) -> float:
    xs = [float(word) for word in re.findall(rb"[\d.]+", curve)][::2]
    return max(xs) - min(xs)


def dropped(words: bytes) -> Edit:
    """The first sheet without one thing."""
    return lambda pdf: content(pdf, sheet_of(pdf), lambda held: held.replace(words, b"", 1))


def first_line(pdf: bytes) -> bytes:
    """The first sheet's first straight line, as written."""
    with pikepdf.open(BytesIO(pdf)) as opened:
        page = opened.pages[sheet_of(opened)]
        page.contents_coalesce()
        held = page.Contents.read_bytes()
    found = re.search(rb"[\d.]+ [\d.]+ m [\d.]+ [\d.]+ l S", held)
    assert found is not None
    return found[0]


def set_(key: str, value: object) -> Edit:
    """The second page with an entry of its own."""

    def edit(pdf: pikepdf.Pdf) -> None:
        pdf.pages[1].obj[key] = value

    return edit


def swapped(pdf: pikepdf.Pdf) -> None:
    """Two sheets change places."""
    a, b = sheet_of(pdf, 1), sheet_of(pdf, 2)
    first, second = pdf.pages[a], pdf.pages[b]
    pdf.pages[a], pdf.pages[b] = second, first


def foreign(pdf: pikepdf.Pdf) -> None:
    """A sheet of another job in place of the first."""
    other = made(job_toml("width = 57\npanels = 'right'\nname = 'Attic'"))[0]
    with pikepdf.open(BytesIO(other)) as opened:
        pdf.pages[sheet_of(pdf)] = opened.pages[sheet_of(opened)]


def neighbour(pdf: pikepdf.Pdf) -> None:
    """The same sheet of a job that differs in one measure alone."""
    other = made(job_toml(WINDOW.replace("40", '"40 1/16"')))[0]
    with pikepdf.open(BytesIO(other)) as opened:
        pdf.pages[sheet_of(pdf)] = opened.pages[sheet_of(opened)]


def hint_gone(pdf: pikepdf.Pdf) -> None:
    """Viewers may scale."""
    del pdf.Root.ViewerPreferences.PrintScaling


def stamped(pdf: pikepdf.Pdf) -> None:
    """Another page laid over a sheet, as a form."""
    stamp = pdf.pages[0].as_form_xobject()
    page = pdf.pages[sheet_of(pdf)]
    page.obj.Resources.XObject = pikepdf.Dictionary(Fx=stamp)
    content(pdf, sheet_of(pdf), lambda held: held + b"\nq /Fx Do Q")


def noted(pdf: pikepdf.Pdf) -> None:
    """A note laid over a page."""
    note = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.Square, Rect=[10, 10, 200, 200]
    )
    pdf.pages[1].obj.Annots = pikepdf.Array([pdf.make_indirect(note)])


def unreadable(pdf: pikepdf.Pdf) -> None:
    """A page without its content's first half."""
    content(pdf, sheet_of(pdf), lambda held: held[held.index(b"\n", len(held) // 2) :])


def added(pdf: pikepdf.Pdf, where: int = 1) -> None:
    """An empty page of the right size among the others."""
    box = [float(side) for side in pdf.pages[0].mediabox]
    page = pikepdf.Page(
        pdf.make_indirect(
            pikepdf.Dictionary(Type=pikepdf.Name.Page, MediaBox=box, Contents=pdf.make_stream(b" "))
        )
    )
    pdf.pages.insert(where, page)


def scrawled(line: bytes) -> Edit:
    """The first sheet with a line of content more."""

    def edit(pdf: pikepdf.Pdf) -> None:
        content(pdf, sheet_of(pdf), lambda held: held + b"\n" + line)

    return edit
