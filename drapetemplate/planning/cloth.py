"""What a panel takes of its cloth: cut lengths and weight, exact.

A drop is one width of cloth cut to length, hems and heading included.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from drapetemplate.job import Cloth
from drapetemplate.measures import METRE, Length


def cut_length(cloth: Cloth, length: Length) -> Length:
    """Length of one drop for a panel finishing at `length` (3.12).

    Finished length, heading and bottom hem, enlarged for shrinkage, then up to a whole number
    of pattern repeats.
    """
    cut = (length + cloth.heading + cloth.bottom_hem) * (1 + cloth.shrinkage)
    if cloth.repeat_down:
        cut = ceil(cut / cloth.repeat_down) * cloth.repeat_down
    return cut


def weight(cloth: Cloth, width: Length, length: Length) -> Fraction | None:
    """Grams of cloth in a panel of finished `width` and `length` (3.13); None if not known.

    Flat raw width, side hems included, times the cut length.
    """
    if cloth.weight is None:
        return None
    area = (width + 2 * cloth.side_hem) * cut_length(cloth, length) / METRE**2
    return area * cloth.weight
