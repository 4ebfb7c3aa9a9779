"""Which page of its job each page of a PDF is, in whatever order; and what is wrong with one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Text
from drapetemplate.measure.compare_marks import PageComparison

MOST_EXTRA = 20


@dataclass(frozen=True, slots=True)
class Flaw:
    """One thing that isn't as made: on `page`, counted from 1, named `label`; None: in the file."""

    page: int | None
    label: str
    text: str

    def __str__(self) -> str:
        return self.text if self.page is None else f"page {self.page} ({self.label}): {self.text}"


class PageOrder:
    """Which page of a document each page of a PDF is, by its words; and what that leaves."""

    def __init__(self, document: Document) -> None:
        self._labels = [page.label for page in document.pages]
        self._texts = [
            "".join(mark.text for mark in page.marks if isinstance(mark, Text))
            for page in document.pages
        ]
        self._places: dict[int, int] = {}
        """Page of the PDF to page of the document."""
        self._foreign: list[int] = []

    def label(self, number: int) -> str:
        """What a page of the PDF should be, by its number alone."""
        return self._labels[number] if number < len(self._labels) else "one too many"

    def place(self, number: int, text: str) -> int | None:
        """The page it is; the one of its number where no page reads like it, None past the last."""
        count = len(self._texts)
        if number < count and self._texts[number] == text:
            place = number
        else:
            alike = [n for n in range(count) if self._texts[n] == text]
            free = [n for n in alike if n not in self._places.values()]
            if not alike and number >= count:
                self._foreign.append(number)
                return None
            place = (free or alike or [number])[0]
        self._places[number] = place
        return place

    def foreign(self, number: int, place: int, text: str, comparison: PageComparison) -> bool:
        """Whether a page is of another job: it doesn't read as its place does, nor look like it."""
        if self._texts[place] == text or comparison.matched * 2 >= comparison.marks:
            return False
        del self._places[number]
        self._foreign.append(number)
        return True

    def flaws(self, count: int) -> Iterator[Flaw]:
        """Pages missing, twice, out of order, or not of this job."""
        for number in self._foreign:
            yield Flaw(number + 1, self.label(number), "isn’t a page of this job")
        read = sorted(self._places)
        first: dict[int, int] = {}
        for number in read:
            first.setdefault(self._places[number], number)
        # A page that is there again moves none of the others.
        in_order = dict(zip(first.values(), sorted(first), strict=True))
        for number in read:
            place = self._places[number]
            if number not in in_order:
                yield Flaw(number + 1, self._labels[place], "is there twice")
            elif place != in_order[number]:
                text = f"is out of order: it belongs on page {place + 1}"
                yield Flaw(number + 1, self._labels[place], text)
        unread = {n for n in range(min(count, len(self._labels))) if n not in self._places}
        for place, label in enumerate(self._labels):
            if place not in first and place not in unread:
                yield Flaw(None, "", f"{label} is missing: it was page {place + 1}")
        if count > len(self._labels) + MOST_EXTRA:
            more = count - len(self._labels)
            yield Flaw(None, "", f"{more} pages more than the job makes: not read")
