"""Pictures of a panel as a page in a browser takes them in: SVG in the page's own colours."""

from __future__ import annotations

from drapetemplate.render.backend import draw
from drapetemplate.render.svg import ScreenSvgBackend
from drapetemplate.ticket.picture import Picture, moved

EDGE = 0.5  # mm round a picture, so that no stroke at its edge is cut


def as_svg(picture: Picture, words: str) -> str:
    """Return a picture as SVG; `words` say what it shows, to whoever can't see it."""
    backend = ScreenSvgBackend(words)
    backend.start_page(picture.width + 2 * EDGE, picture.height + 2 * EDGE)
    for mark in moved(picture, EDGE, EDGE):
        draw(mark, backend)
    return backend.finish().decode()
