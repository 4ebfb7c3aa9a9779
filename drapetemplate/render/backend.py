"""A document in, bytes out, through a backend of a few methods that decide nothing."""

from __future__ import annotations

from typing import Protocol

from drapetemplate.document.cut_drawing import CutDrawing, Layer
from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Arc, Circle, Line, Mark, Polygon, Text


class MarkBackend(Protocol):
    """What any format must offer: all of it. Coordinates are the page's, in millimetres."""

    def start_page(self, width: float, height: float, scale: tuple[float, float]) -> None:
        """Begin a page; marks that follow belong to it, their x and y each times its `scale`."""

    def line(self, mark: Line) -> None:
        """Stroke a straight line, with square-cut ends."""

    def circle(self, mark: Circle) -> None:
        """Stroke a whole circle."""

    def arc(self, mark: Arc) -> None:
        """Stroke part of a circle."""

    def polygon(self, mark: Polygon) -> None:
        """Fill and stroke a closed outline."""

    def text(self, mark: Text) -> None:
        """Write one line of text as it stands: nothing in it is markup."""

    def finish(self) -> bytes:
        """End the last page and return the whole file."""


class Backend(MarkBackend, Protocol):
    """What a format of pages must offer besides."""

    def start_shared(self, marks: tuple[Mark, ...]) -> bool:
        """Begin the marks that a page ends with and other pages too; whether they are to be drawn.

        A format that can name what it has drawn needs the very same tuple only once.
        """


class LayeredBackend(MarkBackend, Protocol):
    """What a format for cutting machines must offer besides."""

    def start_layer(self, layer: Layer) -> None:
        """Begin a layer; marks that follow belong to it."""


def render(document: Document, backend: Backend) -> bytes:
    """The document's pages drawn in order; the file's bytes."""
    across, down = document.scale
    for page in document.pages:
        backend.start_page(
            float(document.width), float(document.height), (float(across), float(down))
        )
        for mark in page.marks[: len(page.marks) - len(page.shared)]:
            draw(mark, backend)
        if page.shared and backend.start_shared(page.shared):
            for mark in page.shared:
                draw(mark, backend)
    return backend.finish()


def render_cut(drawing: CutDrawing, backend: LayeredBackend) -> bytes:
    """A strip for a cutting machine, layer by layer; the file's bytes."""
    backend.start_page(float(drawing.width), float(drawing.height), (1.0, 1.0))
    for layer, marks in drawing.layers:
        backend.start_layer(layer)
        for mark in marks:
            draw(mark, backend)
    return backend.finish()


def draw(mark: Mark, backend: MarkBackend) -> None:
    """One mark, handed to the method for its kind."""
    match mark:
        case Line():
            backend.line(mark)
        case Circle():
            backend.circle(mark)
        case Arc():
            backend.arc(mark)
        case Polygon():
            backend.polygon(mark)
        case Text():
            backend.text(mark)
