"""Every code that a finding may have, with its levels: what commands know before a job is read."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal, get_args

Level = Literal["stop", "warn", "note"]
LEVELS: tuple[Level, ...] = get_args(Level)
"""Worst first."""
CODES: Mapping[str, Mapping[Level, str]] = {
    "odd-count": {
        "stop": "an odd count turns one end of the panel to the room; the two even counts beside it"
    },
    "back-fold-hits-wall": {
        "stop": "closed, the back folds reach the wall; a count or a bracket that clears",
        "warn": "only stacked do they",
    },
    "wont-close": {"stop": "the rings can't turn flat enough for the panel to cover its pole"},
    "tight-turn": {
        "warn": "the panel binds, as its rings lift before they turn 45°; the pole that would do"
    },
    "short-return": {"warn": "the return stops short of the wall"},
    "short-pole": {"warn": "the panels, closed or stacked, take more pole than there is"},
    "panel-over-bracket": {
        "warn": "eyelets can't pass a bracket; a pair, or panels either side, and how many eyelets"
    },
    "stack-over-glass": {
        "note": "how much of the glass the open panels cover; the pole that would clear it"
    },
    "glass-bare": {
        "warn": "closed, the panels leave so much of the glass bare; what would close it"
    },
    "on-floor": {"warn": "the length lies on the floor by so much; the one that wouldn't"},
    "narrow-gap": {"warn": "under 1 in between eyelets; how many fit"},
    "eyelet-over-hem": {
        "warn": "an end eyelet stands over the side hem's extra layers",
        "note": "only over those of the lining's own side hem; from where to where they lie",
    },
    "seam-in-front": {
        "warn": "a seam can't be hidden; the counts beside that would hide every one"
    },
    "seam-under-eyelet": {"warn": "a seam's allowance meets an eyelet or a side hem"},
    "extra-width": {"note": "what hiding the seams costs in drops, and a count that would save it"},
    "extra-seam": {"note": "what one more seam a panel would save in drops and cloth"},
    "pattern-width": {
        "note": "how far the width moved so that every front fold shows the same place of the "
        "pattern, and what that does to fullness and drops"
    },
    "pattern-free": {
        "warn": "no count and width put the pattern alike on the front folds; why, what would do"
    },
    "pattern-off-centre": {
        "note": "hiding seams leaves the motif beside the middle of the front folds; by how much"
    },
    "die-not-measured": {
        "warn": "no hole is given and the opening is taken for it, though a barrel is wider"
    },
    "small-hole": {"warn": "the hole to cut is smaller than the ring's opening"},
    "assumed": {"note": "a default was taken; the ticket lists them all"},
    "missing-glyph": {"note": "the printed font lacks a character, and a stand-in is drawn"},
}
"""Every code with its levels, and what a finding of it says; sample_jobs/findings.md lists them."""
STOP_CODES = tuple(sorted(code for code, levels in CODES.items() if "stop" in levels))
"""What `--accept` takes."""
