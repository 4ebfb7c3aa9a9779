"""What is wrong with a window's seams, and the counts beside its own that would mend it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from drapetemplate.job.model import Window
from drapetemplate.measures import Units
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.findings import finding
from drapetemplate.planning.model import Finding
from drapetemplate.planning.seam_places import FLANGE_CLEARANCE
from drapetemplate.planning.seams import SeamPlan
from drapetemplate.wording import Wording

SEAM_CODES = frozenset({"seam-in-front", "seam-under-eyelet"})
MOST_PLACES = 6
"""Seams whose places one finding gives."""

UsesByCount = Mapping[int, Sequence[ClothUse]]


def seam_findings(
    window: Window,
    uses: Sequence[ClothUse],
    count: int,
    *,
    others: Callable[[], UsesByCount] | None,
    units: Units,
) -> Iterator[Finding]:
    """Yield what is wrong with the seams of what a window takes of each cloth.

    `others` plans what the window would take at other counts: asked only where there is
    something to mend, None where no advice is wanted.
    """
    planned: UsesByCount | None = None
    for place, use in enumerate(uses):
        seams = use.seams
        if seams is None:
            continue
        mending = bool(seams.visible) or seams.drops > seams.least_drops
        if mending and planned is None and others is not None:
            planned = others()
        hiding: dict[int, SeamPlan] = {}
        for other_count, other_uses in (planned or {}).items():
            other = other_uses[place]
            troubled = _brings_trouble(uses, other_uses, but=place)
            if other.seams is not None and not other.failing and not troubled:
                hiding[other_count] = other.seams
        advice = None if planned is None else hiding
        yield from _SeamWords(window, use, seams, count, advice, Wording(units)).findings()


def _brings_trouble(uses: Sequence[ClothUse], others: Sequence[ClothUse], *, but: int) -> bool:
    """True where another count shows seams of a cloth that had none to show, `but` one cloth's."""
    return any(
        other.failing and not use.failing
        for place, (use, other) in enumerate(zip(uses, others, strict=True))
        if place != but
    )


@dataclass(frozen=True, slots=True)
class _SeamWords:
    """One cloth's seams at a count, to be put in words.

    `hiding` holds the counts beside that hide every seam of this cloth, with their seams; None
    where no advice is wanted.
    """

    window: Window
    use: ClothUse
    seams: SeamPlan
    count: int
    hiding: Mapping[int, SeamPlan] | None
    say: Wording

    @property
    def lining(self) -> bool:
        """True of a lining, whose seams nobody sees."""
        return self.use.part == "lining"

    def findings(self) -> Iterator[Finding]:
        """Seams in sight, seams at eyelets, and what hiding them costs."""
        seams = self.seams
        # Of a lining only the seams that meet an eyelet or a hem matter.
        in_sight = [n for n in seams.visible if n not in seams.struck and not self.lining]
        if in_sight:
            where = "in sight, in a front gap or outside the eyelets"
            yield finding("seam-in-front", self._at_fault(in_sight, "fall", where))
        if seams.struck:
            where = "an eyelet or a side hem: extra layers"
            yield finding("seam-under-eyelet", self._at_fault(seams.struck, "meet", where))
        if seams.drops > seams.least_drops:
            yield finding("extra-width", self._extra())
        if seams.drops > seams.drops_with_one_more:
            yield finding("extra-seam", self._one_more())

    def _at_fault(self, places: Sequence[int], verb: str, where: str) -> str:
        """Which seams are where they should not be, and what would mend it."""
        does = f"{verb}s" if len(places) == 1 else verb
        return f"{self._named(places)} {does} {where}; {self._mend()}"

    def _named(self, places: Sequence[int]) -> str:
        """The seams meant, by where they are."""
        seams = [self.say(self.seams.seams[n]) for n in places[:MOST_PLACES]]
        more = f" and {len(places) - MOST_PLACES} more" if len(places) > MOST_PLACES else ""
        noun = "lining seam" if self.lining else "seam"
        named = f"the {noun}" if len(places) == 1 else f"{len(places)} {noun}s,"
        edge = "left" if self.window.panels == "single" else "leading"
        return f"{named} at {', '.join(seams)}{more} from the {edge} edge"

    def _mend(self) -> str:
        """What would hide every seam: the counts beside that do, or else."""
        if self.hiding is None:
            return "look at the counts beside this one"
        if self.hiding:
            counts = [
                f"{n} (in {self.hiding[n].drops} drops)"
                if self.hiding[n].drops != self.seams.drops
                else f"{n}"
                for n in _nearest(self.hiding, self.count)
            ]
            return f"{' or '.join(counts)} eyelets a panel hide every seam"
        need = self.say.at_least(2 * (self.use.cloth.seam + FLANGE_CLEARANCE))
        any_gap = self.lining or self.window.eyelet.hung == "hooks"
        return (
            "no count beside this one hides every seam: try another width of cloth or of panel; a "
            f"seam hides in a {'gap' if any_gap else 'back gap'} of "
            f"{need} or more"
        )

    def _extra(self) -> str:
        """What hiding the seams costs, and which count would save it."""
        seams = self.seams
        more = seams.drops - seams.least_drops
        gain = "keep every seam hidden"
        if self.lining:
            gain = "keep the lining's seams clear of the eyelets"
            if self.use.failing:
                gain += " as far as can be"
        elif seams.visible:
            gain = "show as few seams as can be"
        text = (
            f"{seams.drops} drops {gain}; the bare minimum, with seams where they fall, is "
            f"{seams.least_drops} ({self._fewer(more)})"
        )
        if self.hiding is None:
            return text
        saving = [n for n, other in self.hiding.items() if other.drops == seams.least_drops]
        if saving:
            counts = " or ".join(map(str, _nearest(saving, self.count)))
            return f"{text}. {counts} eyelets a panel hide all with that many"
        return (
            f"{text}. No count beside this one hides all with that many: buy them, or try another "
            "width of cloth or of panel"
        )

    def _fewer(self, drops: int) -> str:
        """So many drops fewer, and how much cloth that is where their length is known."""
        cut = self.use.cut
        cost = "" if cut is None else f", {self.say.at_least(drops * cut)} of cloth"
        return f"{drops} fewer{cost}"

    def _one_more(self) -> str:
        """What another seam a panel would save."""
        now, then = self.seams.drops, self.seams.drops_with_one_more
        noun, kept = ("lining seam", "clear of the eyelets") if self.lining else ("seam", "hidden")
        return (
            f"one more {noun} a panel, {kept} like the others, would take {then} drops in place of "
            f"{now} ({self._fewer(now - then)}): extra_seams = {self.window.extra_seams + 1} "
            "allows it"
        )


def _nearest(counts: Iterable[int], count: int) -> list[int]:
    """Of these counts the nearest below and the nearest above."""
    below = [n for n in counts if n < count]
    above = [n for n in counts if n > count]
    return [*([max(below)] if below else []), *([min(above)] if above else [])]
