"""What can be drawn: frozen marks in one frame, moves that make new ones, and text measured."""

from drapetemplate.drawing.lettering import Typeface, clipped_to, text
from drapetemplate.drawing.marks import (
    Anchor,
    Arc,
    Circle,
    Line,
    Mark,
    Number,
    Pen,
    Polygon,
    Text,
    box,
    lozenge,
    moved,
    turned,
)
from drapetemplate.drawing.roles import LETTERS, Role

__all__ = [
    "LETTERS",
    "Anchor",
    "Arc",
    "Circle",
    "Line",
    "Mark",
    "Number",
    "Pen",
    "Polygon",
    "Role",
    "Text",
    "Typeface",
    "box",
    "clipped_to",
    "lozenge",
    "moved",
    "text",
    "turned",
]
