"""What a process costs that draws as many plain marks through reportlab's canvas, and little else.

python bare_process.py PAGES LINES CIRCLES WORDS FONTS OUT [FILE]

With a FILE that is put into the PDF, by pypdf, as a record has one. It takes nothing of the tool's:
FONTS is the folder of the two faces. A test looks.
"""

from __future__ import annotations

import sys
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas


def drawn(pages: int, lines: int, circles: int, words: int, fonts: Path, target: str) -> None:
    """A PDF of so many marks on each page."""
    for name in ("DejaVuSans", "DejaVuSans-Bold"):
        pdfmetrics.registerFont(TTFont(name, str(fonts / f"{name}.ttf")))
    canvas = Canvas(target, pagesize=(612, 792), pageCompression=1)
    for page in range(pages):
        for n in range(lines):
            canvas.setLineWidth(0.3 + n % 3)
            canvas.line(36, 36 + n, 576, 40 + n)
        for n in range(circles):
            canvas.circle(100 + n % 300, 300, 40)
        for n in range(words):
            canvas.setFont("DejaVuSans-Bold" if n % 5 == 0 else "DejaVuSans", 8)
            canvas.drawString(40, 50 + n % 700, f"page {page}, word {n}")
        canvas.showPage()
    canvas.save()


def with_file(pdf: str, file: str) -> None:
    """Put a file into a PDF."""
    from pypdf import PdfReader, PdfWriter  # noqa: PLC0415  # not loaded where there is no file

    writer = PdfWriter(clone_from=PdfReader(pdf))
    writer.add_attachment("job.toml", Path(file).read_bytes())
    writer.write(pdf)


if __name__ == "__main__":
    pages, lines, circles, words = map(int, sys.argv[1:5])
    drawn(pages, lines, circles, words, Path(sys.argv[5]), sys.argv[6])
    if sys.argv[7:]:
        with_file(sys.argv[6], sys.argv[7])
