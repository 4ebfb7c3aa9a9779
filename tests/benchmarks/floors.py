"""What the same work costs without the tool: bare library calls, in a process of their own or here.

python floors.py make PAGES LINES CIRCLES WORDS OUT     draws as many marks on as many pages
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from typing import Any

from pypdf import PdfReader, PdfWriter
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

Call = tuple[str, tuple[Any, ...], dict[str, Any]]


def drawn(pages: int, lines: int, circles: int, words: int, target: str) -> None:
    """A PDF of plain marks, through reportlab's own ways, kept by pypdf with a file inside."""
    for name in ("DejaVuSans", "DejaVuSans-Bold"):
        path = files("drapetemplate.render") / "fonts" / f"{name}.ttf"
        pdfmetrics.registerFont(TTFont(name, str(path)))
    held = BytesIO()
    canvas = Canvas(held, pagesize=(612, 792), pageCompression=1)
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
    writer = PdfWriter(clone_from=PdfReader(held))
    writer.add_attachment("job.toml", b"units = 'in'\n" * 30)
    with Path(target).open("wb") as file:
        writer.write(file)


class Recorder:
    """Stands before an object and keeps every call made of it, those of what it returns too."""

    def __init__(self, real: Any, calls: list[Call], name: str = "") -> None:  # noqa: ANN401
        self._real, self._calls, self._name = real, calls, name

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401  # whatever the canvas has
        found = getattr(self._real, name)
        if name.startswith("_") or not callable(found):
            return found

        def called(*args: Any, **options: Any) -> Any:  # noqa: ANN401  # likewise
            plain = tuple(one._real if isinstance(one, Recorder) else one for one in args)
            result = found(*plain, **options)
            self._calls.append((f"{self._name}{name}", plain, options))
            if name in {"beginPath", "beginText"}:
                return Recorder(result, self._calls, f"{name}.")
            return result

        return called

    def __setattr__(self, name: str, value: object) -> None:
        if name in {"_real", "_calls", "_name"}:
            object.__setattr__(self, name, value)
        else:
            setattr(self._real, name, value)


def replayed(calls: list[Call], canvas: Any) -> None:  # noqa: ANN401  # reportlab's
    """The calls again, on a canvas of its own, with nothing between them."""
    path: Any = None
    text: Any = None
    for name, args, options in calls:
        method: Callable[..., Any]
        if name == "beginPath":
            path = canvas.beginPath()
        elif name == "beginText":
            text = canvas.beginText()
        elif name.startswith("beginPath."):
            method = getattr(path, name.removeprefix("beginPath."))
            method(*args, **options)
        elif name.startswith("beginText."):
            method = getattr(text, name.removeprefix("beginText."))
            method(*args, **options)
        elif name == "drawPath":
            canvas.drawPath(path, *args[1:], **options)
        elif name == "drawText":
            canvas.drawText(text)
        else:
            getattr(canvas, name)(*args, **options)


if __name__ == "__main__":
    pages, lines, circles, words = map(int, sys.argv[1:5])
    drawn(pages, lines, circles, words, sys.argv[5])
