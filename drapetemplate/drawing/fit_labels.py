"""Words of a picture in, fitted and kept apart out: no figure is cut, only names are.

What doesn't fit is left out whole; a list beside the picture has it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drapetemplate.drawing import lettering
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role

LABEL = 3.05  # mm, so that capitals are 2.2 mm high: read at a table, cloth in both hands
LINE = 1.25  # of the size, from line to line
APART = 1.5  # mm between labels of a row
LEAST_NAME = 4  # letters of a name that still say which it is

Form = tuple[str, ...]
Way = tuple[int, float, float]
"""An angle, the room along the words, and the room for their lines."""
Fitted = tuple[Form, int]
"""Lines of words that fit, and their angle."""


def fitted(
    typeface: Typeface,
    forms: Sequence[Form],
    ways: Sequence[Way],
    *,
    name: str = "",
    shorter: Sequence[Form] = (),
    bare: Sequence[Form] = (),
) -> Fitted | None:
    """Words that fit whole; None where none do.

    Each of `forms` begins with what follows `name` on its line, and so do the `shorter` ones that
    come next. The name alone is ever cut, and not for these, rather on a line of its own; where
    that doesn't help, the first of the `bare` goes without it.
    """
    name = typeface.drawable(name)
    alone = sorted(forms, key=lambda form: form[0] != "")
    stages = [
        (name, (*forms, *shorter), False),
        (name, alone, True),
        *(("", (form,), False) for form in bare),
    ]
    for start, some, short in stages:
        for first, *rest in some:
            for angle, along, height in ways:
                room = along - typeface.width(first, LABEL, bold=True)
                shown = start
                if short:
                    shown = lettering.name_cut_short(typeface, start, LABEL, room, bold=True)
                lines = (shown + first, *rest)
                longest = max(typeface.width(line, LABEL, bold=True) for line in lines)
                long = not short or len(shown) >= LEAST_NAME
                if long and longest <= along and len(lines) * LABEL * LINE <= height:
                    return lines, angle
    return None


def stacked(
    typeface: Typeface, label: Fitted | None, x: float, y: float, role: Role, *, bold: bool = False
) -> Iterator[Mark]:
    """What `fitted` gave, line by line about (x, y), the first heavier if `bold`."""
    lines, angle = label or ((), 0)
    for n, line in enumerate(lines):
        down = LABEL * (LINE * (n - len(lines) / 2) + 0.95)
        at = (x + down, y) if angle else (x, y - down)
        heavy = bold and n == 0
        yield lettering.text(
            typeface, *at, line, LABEL, role, anchor="middle", bold=heavy, angle=angle
        )


def spaced(
    typeface: Typeface,
    labels: Iterable[tuple[float, str]],
    levels: Sequence[float],
    end: float,
    role: Role,
    *,
    bold: bool = False,
) -> Iterator[Mark]:
    """Labels at their x, between 0 and `end`, each on the first level where no other is near.

    One that fits on none is left out.
    """
    reach = [-APART] * len(levels)
    for x, words in sorted(labels):
        width = typeface.width(words, LABEL, bold=bold)
        left = max(0.0, min(x - width / 2, end - width))
        for n, y in enumerate(levels):
            if reach[n] + APART <= left <= end - width:
                reach[n] = left + width
                yield lettering.text(
                    typeface, left + width / 2, y, words, LABEL, role, anchor="middle", bold=bold
                )
                break


def all_spaced(
    typeface: Typeface, labels: Sequence[tuple[float, str]], y: float, end: float, role: Role
) -> tuple[Mark, ...]:
    """Labels `spaced` on one level, or none where not all fit."""
    marks = tuple(spaced(typeface, labels, (y,), end, role))
    return marks if len(marks) == len(labels) else ()
