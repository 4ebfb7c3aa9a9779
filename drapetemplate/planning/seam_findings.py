"""What is wrong with a window's seams, and the counts beside its own that would mend it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from drapetemplate.job.model import Window
from drapetemplate.measures import Units
from drapetemplate.planning.advice import Advice, count_of, worse
from drapetemplate.planning.cloth import ClothUse
from drapetemplate.planning.findings import finding
from drapetemplate.planning.model import Change, Finding, PanelPlan, Remedy
from drapetemplate.planning.seam_places import FLANGE_CLEARANCE
from drapetemplate.planning.seams import SeamPlan
from drapetemplate.wording import Wording, counted

DROP_CODES = frozenset({"extra-width", "extra-seam"})
"""What hiding seams costs: told with the counts that hide them, in drops."""
MOST_PLACES = 6
"""Seams whose places one finding gives."""


def seam_findings(
    window: Window,
    uses: Sequence[ClothUse],
    panel: PanelPlan,
    units: Units,
    advice: Advice | None = None,
) -> Iterator[Finding]:
    """Yield what is wrong with the seams of what a window takes of each cloth.

    `advice` plans what the window would take at other counts, where there is something to mend.
    Where the pattern on the folds settles the width none is tried: each count has another width.
    """
    planned: dict[int, Sequence[ClothUse]] | None = None
    on_folds = _on_folds(window, panel)
    if on_folds and advice is not None:
        planned = {}  # any other count is another width, so no count mends this one's seams
    for place, use in enumerate(uses):
        seams = use.seams
        if seams is None:
            continue
        mending = bool(seams.visible) or seams.drops > seams.least_drops
        if mending and planned is None and advice is not None:
            planned = dict(_uses_beside(panel, advice))
        hiding: dict[int, SeamPlan] = {}
        saving: list[int] = []
        for count, others in (planned or {}).items():
            other = others[place]
            if other.seams is None or other.failing:
                continue
            hiding[count] = other.seams
            if other.seams.drops <= seams.least_drops and not _takes_more(uses, others, but=place):
                saving.append(count)
        words = _SeamWords(
            window=window,
            use=use,
            seams=seams,
            count=panel.count,
            hiding=None if planned is None else hiding,
            on_folds=on_folds,
            saving=_nearest(saving, panel.count),
            say=Wording(units),
        )
        for found in words.findings():
            yield replace(found, part=use.part)


def _on_folds(window: Window, panel: PanelPlan) -> bool:
    """Return whether the pattern on its folds settles a panel's width."""
    repeat = None if window.fabric is None else window.fabric.repeat_across
    return window.pattern == "folds" and repeat is not None and 2 * panel.pitch % repeat == 0


def _uses_beside(panel: PanelPlan, advice: Advice) -> Iterator[tuple[int, Sequence[ClothUse]]]:
    """Yield the even counts beside the panel's own that make no other finding worse, with uses.

    What hiding costs in drops doesn't count here: it is told.
    """
    for count in panel.line.counts_beside(panel.count):
        other = advice.planned(count_of(count)) if count != panel.count else None
        # Where the glass settles the width another count has another pole, so other panels.
        if other is None or other.window.covers != advice.window.covers:
            continue
        if not worse(advice.findings, other.findings, but=DROP_CODES):
            yield count, other.cloth


def _takes_more(uses: Sequence[ClothUse], others: Sequence[ClothUse], *, but: int) -> bool:
    """True where another count takes more drops of a cloth, `but` one cloth's."""
    return any(
        use.seams is not None and other.seams is not None and other.seams.drops > use.seams.drops
        for place, (use, other) in enumerate(zip(uses, others, strict=True))
        if place != but
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _SeamWords:
    """One cloth's seams at a count, to be put in words.

    `hiding` holds the counts beside that hide every seam of this cloth, with their seams; None
    where no advice is wanted. `saving` are the nearest of those that take the fewest drops too. Of
    a panel whose pattern is `on_folds` no count was tried.
    """

    window: Window
    use: ClothUse
    seams: SeamPlan
    count: int
    hiding: Mapping[int, SeamPlan] | None
    saving: Sequence[int]
    on_folds: bool
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
            text = self._at_fault(in_sight, "fall", where)
            yield finding("seam-in-front", text, remedies=self._hiding_counts())
        if seams.struck:
            where = "an eyelet or a side hem: extra layers"
            text = self._at_fault(seams.struck, "meet", where)
            yield finding("seam-under-eyelet", text, remedies=self._hiding_counts())
        if seams.drops > seams.least_drops:
            yield finding("extra-width", self._extra(), remedies=map(count_of, self.saving))
        if seams.drops > seams.drops_with_one_more:
            allowed = (Change("extra_seams", self.window.extra_seams + 1),)
            yield finding("extra-seam", self._one_more(), remedies=[allowed])

    def _hiding_counts(self) -> list[Remedy]:
        """The counts that are named to hide every seam."""
        return [count_of(n) for n in _nearest(self.hiding or (), self.count)]

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
        whose = "the lining's" if self.lining else "the"
        return f"{named} at {', '.join(seams)}{more} from {whose} {edge} edge"

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
        need = self.say.at_least(2 * (self.use.cloth.seam + FLANGE_CLEARANCE.of(self.say.units)))
        any_gap = self.lining or self.window.eyelet.hung == "hooks"
        none = "no count beside this one hides every seam and brings nothing else: "
        return (
            f"{'' if self.on_folds else none}try another width of cloth or of panel; a "
            f"seam hides in a {'gap' if any_gap else 'back gap'} of "
            f"{need} or more"
        )

    def _extra(self) -> str:
        """What hiding the seams costs, and which count would save it."""
        seams = self.seams
        more = seams.drops - seams.least_drops
        gain = "keep every seam hidden"
        if seams.motif_off is not None:
            gain += " and place the motif"
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
        if self.saving:
            counts = " or ".join(map(str, self.saving))
            return f"{text}. {counts} eyelets a panel hide all with that many"
        none = "No count beside this one hides all with that many and brings nothing else: buy"
        buy = "Buy" if self.on_folds else none
        return f"{text}. {buy} them, or try another width of cloth or of panel"

    def _fewer(self, drops: int) -> str:
        """So many drops fewer, and how much cloth that is where their length is known."""
        cut = self.use.cut
        cost = "" if cut is None else f", {self.say.at_least(drops * cut)} of cloth"
        return f"{drops} fewer{cost}"

    def _one_more(self) -> str:
        """What another seam a panel would save."""
        now, then = self.seams.drops, self.seams.drops_with_one_more
        extra = self.window.extra_seams + 1
        noun, kept = ("lining seam", "clear of the eyelets") if self.lining else ("seam", "hidden")
        return (
            f"one more {noun} a panel, {kept} like the others, would take {then} drops in place of "
            f"{now} ({self._fewer(now - then)}). {counted(extra, 'extra seam')} a panel "
            f"(extra_seams = {extra}) would allow it"
        )


def _nearest(counts: Iterable[int], count: int) -> list[int]:
    """Of these counts the nearest below and the nearest above."""
    below = [n for n in counts if n < count]
    above = [n for n in counts if n > count]
    return [*([max(below)] if below else []), *([min(above)] if above else [])]
