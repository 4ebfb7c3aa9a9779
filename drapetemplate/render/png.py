"""A PDF's first page as PNG, by a library that draws PDFs."""

from __future__ import annotations

from io import BytesIO

import pypdfium2

DOTS_PER_INCH = 200


def png(pdf: bytes) -> bytes:
    """The first page of a PDF at DOTS_PER_INCH, as the bytes of a PNG."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        page = document[0]
        image = page.render(scale=DOTS_PER_INCH / 72).to_pil()
    finally:
        document.close()
    file = BytesIO()
    image.convert("L").save(file, "PNG", dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
    return file.getvalue()
