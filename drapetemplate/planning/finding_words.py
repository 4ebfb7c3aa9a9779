"""Each code of a finding in few words, for where it stands inside a sentence or a small table."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from drapetemplate.planning.codes import Level

SHORT: Mapping[str, str] = {
    "odd-count": "an odd count of eyelets",
    "back-fold-hits-wall": "back folds hit the wall",
    "wont-close": "the panel won't close",
    "tight-turn": "the rings bind on the pole",
    "short-return": "the return stops short of the wall",
    "short-pole": "the pole is too short",
    "panel-over-bracket": "the panel must pass a bracket",
    "stack-over-glass": "open panels cover some glass",
    "glass-bare": "closed panels leave some glass bare",
    "on-floor": "the panel lies on the floor",
    "narrow-gap": "eyelets stand too close",
    "eyelet-over-hem": "an end eyelet goes through the side hem",
    "seam-in-front": "a seam shows in front",
    "seam-under-eyelet": "a seam meets an eyelet or a hem",
    "extra-width": "hiding seams takes more drops",
    "extra-seam": "one more seam would save cloth",
    "pattern-width": "the pattern moved the width",
    "pattern-free": "the pattern differs from fold to fold",
    "pattern-off-centre": "motifs stand off the folds' middle",
    "die-not-measured": "the hole to cut isn't given",
    "small-hole": "the hole is smaller than the ring",
    "assumed": "something is assumed",
    "missing-glyph": "a character can't be printed",
}
"""Every code of `codes.CODES`, in words that stand by themselves, or after "but then"."""
ONLY_STACKED = "stacked, back folds hit the wall"
"""What `back-fold-hits-wall` is called as a warning, which is of the stacked panel alone."""


def short(code: str, level: Level) -> str:
    """Return what a finding of this code and level is called.

    >>> short("back-fold-hits-wall", "warn")
    'stacked, back folds hit the wall'
    """
    stacked = (code, level) == ("back-fold-hits-wall", "warn")
    return ONLY_STACKED if stacked else SHORT[code]


def in_short(codes: Iterable[str]) -> str:
    """Return what these codes name, as a list in a sentence.

    >>> in_short(["narrow-gap", "seam-in-front"])
    'eyelets stand too close and a seam shows in front'
    """
    first, *others = [SHORT[code] for code in codes]
    if not others:
        return first
    return f"{', '.join([first, *others[:-1]])} and {others[-1]}"
