"""Pictures of a panel as a page in a browser takes them in: SVG in the page's own colours."""

from __future__ import annotations

from drapetemplate.render.backend import draw
from drapetemplate.render.svg import ScreenSvgBackend
from drapetemplate.ticket.picture import Picture


def as_svg(picture: Picture, words: str) -> str:
    """Return a picture as SVG; `words` say what it shows, to whoever can't see it."""
    backend = ScreenSvgBackend(words)
    backend.start_page(picture.width, picture.height)
    for mark in picture.marks:
        draw(mark, backend)
    return backend.finish().decode()
