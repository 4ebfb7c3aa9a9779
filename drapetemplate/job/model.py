"""A whole job as frozen values: what its user said, and every default that was taken.

Lengths are exact millimetres (`measures.Length`); None is unknown, to be worked out by planning.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal

from drapetemplate.errors import Fault, JobError
from drapetemplate.measures import Length, Units, shown

Orientation = Literal["auto", "portrait", "landscape"]
Joins = Literal["clear", "even"]
View = Literal["face", "back"]
StripSharing = Literal["each", "one"]
Style = Literal["whole", "stepping"]
Hung = Literal["pole", "hooks"]
Panels = Literal["pair", "left", "right", "single"]
Joined = Literal["loose", "bagged"]
Pattern = Literal["seams", "folds"]
"""Where a pattern must be alike: across the seams, or on every front fold too."""
MOST_LISTED = 12
MOST_SUPPORTS = 50
"""Brackets between a pole's ends, given or worked out."""

_NONE = Length(0)


@dataclass(frozen=True, slots=True)
class Assumption:
    """A default taken: the key it stands for ("eyelet.hole") and its value as text."""

    key: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Details:
    """The [job] table: who and what the job is for."""

    name: str
    number: str | None = None
    client: str | None = None
    room: str | None = None
    due: date | None = None
    notes: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """The [paper] table. `width` <= `height`: the page upright; None for a roll's length.

    `printer` is as the job names it.
    """

    name: str
    width: Length
    height: Length | None
    orientation: Orientation
    margin: Length
    overlap: Length
    joins: Joins
    view: View
    strips: StripSharing
    style: Style
    letters: tuple[str, str]
    printer: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Eyelet:
    """`weight` in grams each, `pack` eyelets a pack, `spares` eyelets to buy over."""

    outside: Length
    opening: Length
    hole: Length
    thickness: Length
    hung: Hung
    weight: Fraction | None = None
    pack: int | None = None
    spares: int = 0


@dataclass(frozen=True, slots=True)
class Band:
    """`above`: panel top to the eyelet's top edge; `roll`: how long a roll of it is."""

    height: Length
    above: Length
    roll: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pole:
    """`projection`: wall to pole centre; `top`: floor to top of pole; `length`: usable pole.

    `off_floor` is negative where the panel is to break on the floor. Of `supports`, how many
    brackets stand between the ends, and `span`, the most pole left without one, one at most is
    known.
    """

    diameter: Length | None
    projection: Length | None
    wall_clearance: Length
    top: Length | None
    off_floor: Length
    length: Length | None
    supports: int | None
    span: Length | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """[fabric] or [lining]. `weight` in g/m2, `shrinkage` a fraction of 1, lengths per edge.

    `allowance` is bought over, once for all that is cut of the cloth. A lining is `joined` to the
    face, None of the face itself; it stops `set_in` from each of the face's side edges and `short`
    above its foot. A face does neither. `motif` is from the left selvage to the centre of the first
    whole one, and from the right selvage too where the cloth is `mirrored`;
    `motif_down` is from where the cloth is cut first to that centre, along it.
    """

    name: str | None
    width: Length | None
    seam: Length
    side_hem: Length
    heading: Length
    bottom_hem: Length
    repeat_down: Length | None
    repeat_across: Length | None
    railroad: bool
    weight: Fraction | None
    shrinkage: Fraction
    allowance: Length
    joined: Joined | None = None
    set_in: Length = _NONE
    short: Length = _NONE
    motif: Length | None = None
    mirrored: bool = False
    motif_down: Length | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """One [[window]] with its overrides applied; `key` is its path, "window[1]" the first.

    Exactly one of `width`, `covers` with `fullness`, or `widths` settles the panel's width;
    `covers` or `fullness` may stand beside `width` or `widths` to say the other.
    `count` None means auto. `extra_seams` is how many seams more than needed to hide them a panel
    may have where each saves a drop. `glass` is the width to be seen through. With the `pattern` on
    its folds count and width follow the cloth's repeat across. `motif_below` is from the finished
    top down to a motif's centre.
    """

    key: str
    name: str
    quantity: int
    panels: Panels
    width: Length | None
    covers: Length | None
    glass: Length | None
    fullness: Fraction | None
    widths: Fraction | None
    length: Length | None
    leading: Length
    return_: Length | None
    count: int | None
    gap: Length | None
    stack_each: Length
    extra_seams: int
    pattern: Pattern
    motif_below: Length | None
    eyelet: Eyelet
    band: Band
    pole: Pole
    fabric: Cloth | None
    lining: Cloth | None
    assumed: tuple[Assumption, ...]

    @property
    def covers_assumed(self) -> bool:
        """True where `covers` is only what the pole's length comes to."""
        return any(assumption.key == "covers" for assumption in self.assumed)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job: `assumed` holds what was assumed for all of it (units, paper).

    `only`: the names of the windows kept where it was `narrowed`, else none.
    """

    units: Units
    details: Details
    paper: Paper
    windows: tuple[Window, ...]
    assumed: tuple[Assumption, ...]
    only: tuple[str, ...] = ()


def narrowed(job: Job, names: Sequence[str], where: str = "window") -> Job:
    """Return the job with only the windows of these names; JobError at `where` for another name."""
    known = [window.name for window in job.windows]
    unknown = [name for name in dict.fromkeys(names) if name not in known]
    if unknown:
        listed = ", ".join(map(shown, known[:MOST_LISTED]))
        more = "" if len(known) <= MOST_LISTED else f" and {len(known) - MOST_LISTED} more"
        text = f"the job has no window called that: it has {listed}{more}"
        raise JobError([Fault(where, f"{shown(name)}: {text}") for name in unknown])
    kept = tuple(window for window in job.windows if window.name in names)
    return replace(job, windows=kept, only=tuple(dict.fromkeys(names)))
