"""What a PDF holds beside what its pages draw, held against what this tool writes of its job.

Fonts, resources, pages' sizes, the catalogue with its hints, bookmarks and attachment: each that is
there more, gone or changed is told in a sentence. How a file is packed says nothing of it.
"""

from __future__ import annotations

from collections.abc import Mapping

from pypdf import PageObject, PdfReader
from pypdf.generic import BooleanObject, DictionaryObject

from drapetemplate.measure.compare_objects import Difference, ObjectComparison
from drapetemplate.measure.drawn_marks import POINT
from drapetemplate.measures import shown

BOXES = ("/MediaBox", "/CropBox", "/BleedBox", "/TrimBox", "/ArtBox")
# What a page is drawn with is measured by itself; its parent is where it stands in the file.
NOT_OF_PAGE = frozenset({"/Contents", "/Parent"})
# The pages are each held by themselves. The description, which other programs write anew in their
# own way, says again what the information does.
NOT_OF_FILE = frozenset({"/Pages", "/Metadata"})
# Bookmarks and page names are of the pages as they should be.
OF_ORDER = frozenset({"/Outlines", "/PageLabels"})
# Who wrote the file and when says nothing of what is in it.
NOT_OF_INFORMATION = frozenset({"/Creator", "/Producer", "/CreationDate", "/ModDate"})

WHY_ON_PAGE = {
    "/Font": "its letters may differ",
    "/AA": "it acts as the page is opened",
    "/Group": "its inks may be mixed",
    "/ColorSpace": "its greys may print otherwise",
    "/ExtGState": "its ink may print otherwise",
    "/XObject": "it may print",
    "/Pattern": "it may print",
    "/Annots": "it may print",
}
WHY_IN_FILE = {
    "/OpenAction": "it acts as the file is opened",
    "/AA": "it acts as the file is opened or printed",
    "/AcroForm": "a form may print over a page",
    "/OCProperties": "layers may hide what is drawn",
    "/JavaScript": "it is a program that runs as the file is opened",
    "/JS": "it is a program",
    "/Outlines": "bookmarks may lead elsewhere",
    "/PageLabels": "viewers may give pages other names",
}


def page_otherwise(
    page: PageObject, written: PageObject, comparison: ObjectComparison
) -> list[str]:
    """How a page is otherwise than this tool writes it, but for what it is drawn with."""
    differences = comparison.differences(page, written, NOT_OF_PAGE)
    return list(dict.fromkeys(_page_words(page, written, one) for one in differences))


def _page_words(page: PageObject, written: PageObject, difference: Difference) -> str:
    match difference.path:
        case (box, *_) if box in BOXES:
            return _box_otherwise(page, written, box)
        case ("/Rotate", *_) if page.rotation % 360:
            return f"is turned by {page.rotation % 360}°"
        case ("/UserUnit", *_):
            return f"has a unit of {page.user_unit} points: a page’s is 1"
        case ("/Annots", *_):
            return "has something laid over it (annotations), which may print"
        case ("/Resources", "/Font", name, *inside) if inside or difference.kind == "changed":
            font = _held(_held(_held(written, "/Resources"), "/Font"), name)
            what = shown(str(font["/BaseFont"]).partition("+")[2])
            return f"has font {what} otherwise than this tool writes it: its letters may differ"
    return _entry_words(difference, "page", WHY_ON_PAGE)


def _box_otherwise(page: PageObject, written: PageObject, box: str) -> str:
    """A page's size and what it should be, in as many decimals as tell them apart."""
    found = _sides(page, box)
    if box not in written:
        name = "an ArtBox" if box == "/ArtBox" else f"a {box[1:]}"
        return f"has {name} of {_box_words(found, 2)}, which no page of this tool has"
    usual = _sides(written, box)
    sizes = ((_box_words(found, places), _box_words(usual, places)) for places in (2, 4, 6, 9))
    size, right = next((pair for pair in sizes if pair[0] != pair[1]), ("other numbers", "its own"))
    return f"has a {box[1:]} of {size}, not {right}"


def _sides(page: PageObject, box: str) -> list[float]:
    """A box's left, bottom, right and top in mm; ValueError or TypeError where it has none."""
    left, bottom, right, top = (float(side) * POINT for side in page[box])  # type: ignore[attr-defined]  # or an error
    return [left, bottom, right, top]


def _box_words(sides: list[float], places: int) -> str:
    left, bottom, right, top = sides
    at = (
        f" from {left:.{places}f}, {bottom:.{places}f}"
        if round(abs(left) + abs(bottom), places)
        else ""
    )
    return f"{right - left:.{places}f} × {top - bottom:.{places}f} mm{at}"


def file_otherwise(
    reader: PdfReader, written: PdfReader, comparison: ObjectComparison, *, in_order: bool
) -> list[str]:
    """How a file is otherwise than this tool writes it, but for its pages.

    Bookmarks and the pages' names are told of only where the pages are `in_order`.
    """
    leave_out = NOT_OF_FILE if in_order else NOT_OF_FILE | OF_ORDER
    root, usual = reader.root_object, written.root_object
    words = [
        _file_words(usual, difference)
        for difference in comparison.differences(root, usual, leave_out)
    ]
    information, usual = _information(reader), _information(written)
    words += [
        f"the file {_entry_words(difference, 'PDF', {})}"
        for difference in comparison.differences(information, usual, NOT_OF_INFORMATION)
    ]
    return list(dict.fromkeys(words))


def _file_words(written: DictionaryObject, difference: Difference) -> str:
    fits = ": viewers may fit pages to the paper"
    match difference.path:
        case ("/ViewerPreferences",):
            return f"the printing hints are gone{fits}"
        case ("/ViewerPreferences", hint, *_) if difference.kind != "added":
            value = _held(written, "/ViewerPreferences")[hint]
            usual = "true" if isinstance(value, BooleanObject) else value
            why = fits if hint == "/PrintScaling" else ""
            return f"the printing hint {hint[1:]} isn’t {usual} any more{why}"
    return f"the file {_entry_words(difference, 'PDF', WHY_IN_FILE)}"


def _entry_words(difference: Difference, whole: str, reasons: Mapping[str, str]) -> str:
    """An entry that is there more, gone or changed: what it is called, and why that counts."""
    keys = [key[1:] for key in difference.path if not key.isdecimal()]
    name = shown("/".join(keys))
    why = next((f": {reasons[key]}" for key in difference.path[::-1] if key in reasons), "")
    match difference.kind:
        case "added":
            return f"has {name}, which no {whole} of this tool has{why}"
        case "gone":
            return f"has lost {name}, which every {whole} of this tool has"
        case "changed":
            return f"has {name} otherwise than this tool writes it{why}"


def _information(reader: PdfReader) -> DictionaryObject:
    return _held(reader.trailer, "/Info")


def _held(above: DictionaryObject, key: str) -> DictionaryObject:
    """A dictionary in a dictionary; an empty one where there is none."""
    entry = above.get(key)
    held = None if entry is None else entry.get_object()
    return held if isinstance(held, DictionaryObject) else DictionaryObject()
