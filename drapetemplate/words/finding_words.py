"""What each finding is called where there is no room for its text: a code in, a few words out."""

from __future__ import annotations

from collections.abc import Mapping

SHORT: Mapping[str, str] = {
    "odd-count": "an odd count of eyelets",
    "back-fold-hits-wall": "back folds hit the wall",
    "wont-close": "the panel won't close",
    "tight-turn": "the rings bind on the pole",
    "short-return": "the return stops short of the wall",
    "short-pole": "the pole is too short",
    "panel-over-bracket": "the panel must pass a bracket",
    "stack-over-glass": "open panels cover some glass",
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
"""Every code of `planning/findings.py`, in words that stand by themselves or before a text."""
