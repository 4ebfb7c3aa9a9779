"""Each code of a finding in few words, for where it stands inside a sentence or a small table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

SHORT: Mapping[str, str] = {
    "odd-count": "an odd count",
    "back-fold-hits-wall": "back folds at the wall",
    "wont-close": "a panel that won't close",
    "tight-turn": "rings that bind",
    "short-return": "a return short of the wall",
    "short-pole": "a pole too short",
    "panel-over-bracket": "a panel across a bracket",
    "stack-over-glass": "a stack over the glass",
    "on-floor": "cloth on the floor",
    "narrow-gap": "too narrow a gap between eyelets",
    "eyelet-over-hem": "an end eyelet over the side hem",
    "seam-in-front": "a seam in sight",
    "seam-under-eyelet": "a seam under an eyelet or at a side hem",
    "extra-width": "extra drops to hide the seams",
    "extra-seam": "a drop that one more seam would save",
    "pattern-width": "a width moved for the pattern",
    "pattern-free": "a pattern not alike on the folds",
    "pattern-off-centre": "a motif beside the folds' middle",
    "die-not-measured": "a hole not measured",
    "small-hole": "a hole smaller than the ring's opening",
    "assumed": "a default taken",
    "missing-glyph": "a character the font lacks",
}
"""What each code of `findings.CODES` names: words that fit after "brings" as after "Stop:"."""


def in_short(codes: Iterable[str]) -> str:
    """Return what these codes name, as a list in a sentence.

    >>> in_short(["narrow-gap", "seam-in-front"])
    'too narrow a gap between eyelets and a seam in sight'
    """
    first, *others = [SHORT[code] for code in codes]
    if not others:
        return first
    return f"{', '.join([first, *others[:-1]])} and {others[-1]}"
