"""A window that gives its glass and no pole in, what its panels cover of a pole that clears it out.

A longer pole takes wider panels, which stack deeper and ask for a longer pole again: so it is
sought, from the glass alone upward.
"""

from __future__ import annotations

from dataclasses import replace

from drapetemplate.errors import Fault, JobError
from drapetemplate.job.defaults import HALF_THE_POLE, WHOLE_POLE
from drapetemplate.job.model import Assumption, Window
from drapetemplate.measures import LONGEST, Length, Units, format_length
from drapetemplate.planning.set_out import set_out

MOST_TRIED = 200
"""Poles tried: each has at least two eyelets more than the one before."""


def on_pole_for_glass(window: Window, units: Units) -> Window:
    """Return the window with `covers` as its share of the least pole that clears its glass.

    Any window whose width, covers or pole is given comes back as it is. JobError where the panels
    stack deeper the longer the pole, so that none clears.
    """
    settled = window.width or window.widths or window.covers or window.pole.length
    if settled is not None or window.glass is None or window.fullness is None:
        return window
    panels, words = (2, HALF_THE_POLE) if window.panels == "pair" else (1, WHOLE_POLE)
    length: Length = window.glass
    for _ in range(MOST_TRIED):
        share = replace(window, covers=length / panels)
        clearing = window.glass + panels * set_out(share, units).count * window.stack_each
        if clearing <= length:
            text = f"{format_length(length / panels, units)}, {words.words} that clears the glass"
            return replace(share, assumed=(*window.assumed, Assumption("covers", text)))
        length = clearing
        if length > LONGEST:
            break
    text = (
        f"no pole clears {format_length(window.glass, units)}, since these panels stack deeper "
        "the longer it is: give covers, or length in [pole]"
    )
    raise JobError([Fault(f"{window.key}.glass", text)])
