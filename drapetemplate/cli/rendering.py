"""Documents into bytes: the slow libraries are loaded once a command really draws."""

from __future__ import annotations

from drapetemplate.document.model import Document
from drapetemplate.drawing.lettering import Typeface


def typeface() -> Typeface:
    """Return the shipped typeface, which layout measures text with."""
    from drapetemplate.render.typeface import typeface

    return typeface()


def as_pdf(document: Document) -> bytes:
    """Return a document as a PDF's bytes, without a job file in it."""
    from drapetemplate.render.backend import render
    from drapetemplate.render.pdf import PdfBackend

    return render(document, PdfBackend(document.title, document.subject))


def as_lasting_pdf(document: Document) -> bytes:
    """Return a document as a PDF/A-3b's bytes, without a job file in it."""
    from drapetemplate.record.write import as_lasting

    return as_lasting(document)


def as_png(document: Document) -> bytes:
    """Return a document's page as a PNG's bytes."""
    from drapetemplate.render.png import png

    return png(as_pdf(document))


def as_svg(document: Document) -> bytes:
    """Return a document's page as an SVG's bytes."""
    from drapetemplate.render.backend import render
    from drapetemplate.render.svg import SvgBackend

    return render(document, SvgBackend(document.title))
