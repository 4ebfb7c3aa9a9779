"""A flow on a small page of fixed letters, and what is on its pages."""

from __future__ import annotations

from drapetemplate import drawing
from drapetemplate.drawing.marks import Text
from drapetemplate.drawing.roles import Role
from drapetemplate.ticket.flow import BODY, LEADING, Flow
from tests.helpers.strips import FIXED

WIDTH, HEIGHT, MARGIN = 100.0, 120.0, 10.0
# From the top margin down to 6 mm over the bottom one, in lines of the body.
LINES = int((HEIGHT - 2 * MARGIN - 6) / (BODY * LEADING))


def flow() -> Flow:
    """An empty flow on a small page."""
    return Flow(FIXED, WIDTH, HEIGHT, MARGIN)


def texts(filled: Flow, *roles: Role) -> list[list[Text]]:
    """The text of each page, of some roles or of all."""
    return [
        [mark for mark in page if isinstance(mark, Text) and (not roles or mark.role in roles)]
        for page in filled.pages
    ]


def check_inside(filled: Flow) -> None:
    """Every mark lies within the margins, and no text on another."""
    for page in filled.pages:
        boxes = [drawing.box(mark) for mark in page]
        assert min(left for left, _, _, _ in boxes) >= MARGIN - 1e-6
        assert min(bottom for _, bottom, _, _ in boxes) >= MARGIN - 1e-6
        assert max(right for _, _, right, _ in boxes) <= WIDTH - MARGIN + 1e-6
        assert max(top for _, _, _, top in boxes) <= HEIGHT - MARGIN + 1e-6
        written = [drawing.box(mark) for mark in page if isinstance(mark, Text)]
        for i, (left, bottom, right, top) in enumerate(written):
            for other in written[i + 1 :]:
                apart = other[0] >= right or left >= other[2]
                assert apart or other[1] >= top or bottom >= other[3]
