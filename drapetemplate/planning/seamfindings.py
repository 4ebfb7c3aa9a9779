"""What is wrong or costs more in a window's seams, and which counts beside would mend it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from drapetemplate.job import Window
from drapetemplate.measures import Units, format_length, rounded_up
from drapetemplate.planning.cloth import Takes
from drapetemplate.planning.findings import Finding
from drapetemplate.planning.seams import CLEARANCE, Seams

SEAM_CODES = frozenset({"seam-in-front", "seam-under-eyelet"})

Others = Mapping[int, Sequence[Takes]]


def cloth_findings(
    window: Window,
    taken: Sequence[Takes],
    count: int,
    *,
    better: Callable[[], Others] | None,
    units: Units,
) -> Iterator[Finding]:
    """Findings of a window's seams; `better`, where advice is wanted, what other counts take."""
    others: Others | None = None
    for n, one in enumerate(taken):
        seams = one.seams
        if seams is None or (not seams.visible and seams.drops == seams.least_drops):
            continue
        if others is None and better is not None:
            others = better()
        beside = None
        if others is not None:
            beside = {c: o[n] for c, o in others.items() if not _worse(taken, o, but=n)}
        yield from _Said(window, one, seams, count, beside, units).findings()


def _worse(taken: Sequence[Takes], other: Sequence[Takes], *, but: int) -> bool:
    """True where another count brings trouble to a cloth, `but` for the one looked at."""
    return any(
        new.shown and not old.shown
        for n, (old, new) in enumerate(zip(taken, other, strict=True))
        if n != but
    )


class _Said:
    """One cloth's findings in words; `beside` is it at other counts, None without advice."""

    def __init__(
        self,
        window: Window,
        one: Takes,
        seams: Seams,
        count: int,
        beside: Mapping[int, Takes] | None,
        units: Units,
    ) -> None:
        self.one, self.seams, self.count, self.units = one, seams, count, units
        self.edge = "left" if window.panels == "single" else "leading"
        self.lining = one.part == "lining"
        self.any_gap = self.lining or window.eyelet.hung == "hooks"
        self.advised = beside is not None
        self.hiding = {
            n: other.seams
            for n, other in (beside or {}).items()
            if other.seams is not None and not other.shown
        }

    def findings(self) -> Iterator[Finding]:
        seams = self.seams
        # A lining's seams don't show: only those that meet an eyelet or a hem are told.
        shown = [p for p in seams.visible if p not in seams.struck and not self.lining]
        for places, code, verb, where in (
            (shown, "seam-in-front", "fall", "in sight, in a front gap or outside the eyelets"),
            (seams.struck, "seam-under-eyelet", "meet", "an eyelet or a side hem: extra layers"),
        ):
            if places:
                does = verb + ("s" if len(places) == 1 else "")
                text = f"{self._places(places)} {does} {where}; {self._mend()}"
                yield Finding("warn", code, text)
        if seams.drops > seams.least_drops:
            yield Finding("note", "extra-width", self._extra())

    def _places(self, places: Sequence[int]) -> str:
        """The seams meant, by where they are."""
        seams = [format_length(self.seams.seams[place], self.units) for place in places[:6]]
        more = f" and {len(places) - 6} more" if len(places) > 6 else ""
        whose = "lining seam" if self.lining else "seam"
        many = f"the {whose}" if len(places) == 1 else f"{len(places)} {whose}s,"
        return f"{many} at {', '.join(seams)}{more} from the {self.edge} edge"

    def _mend(self) -> str:
        """What would hide every seam: the counts beside that do, or else."""
        if not self.advised:
            return "look at the counts beside this one"
        if self.hiding:
            told = [
                f"{n} (in {self.hiding[n].drops} drops)"
                if self.hiding[n].drops != self.seams.drops
                else f"{n}"
                for n in _nearest(self.hiding, self.count)
            ]
            return f"{' or '.join(told)} eyelets a panel hide every seam"
        need = rounded_up(2 * (self.one.cloth.seam + CLEARANCE), self.units)
        return (
            "no count beside this one hides every seam: try another width of cloth or of panel; a "
            f"seam hides in a {'gap' if self.any_gap else 'back gap'} of "
            f"{format_length(need, self.units)} or more"
        )

    def _extra(self) -> str:
        """What hiding the seams costs, and which count would save it."""
        seams, cut = self.seams, self.one.cut
        more = seams.drops - seams.least_drops
        held = "keep every seam hidden"
        if self.lining:
            held = "keep the lining's seams clear of the eyelets"
            if self.one.shown:
                held += " as far as can be"
        elif seams.visible:
            held = "show as few seams as can be"
        cost = ""
        if cut is not None:
            cost = f", {format_length(rounded_up(more * cut, self.units), self.units)} of cloth"
        text = (
            f"{seams.drops} drops {held}; the bare minimum, with seams where they fall, is "
            f"{seams.least_drops} ({more} fewer{cost})"
        )
        saving = [n for n, found in self.hiding.items() if found.drops == seams.least_drops]
        if saving:
            told = " or ".join(map(str, _nearest(saving, self.count)))
            text += f". {told} eyelets a panel hide all with that many"
        elif self.advised:
            text += (
                ". No count beside this one hides all with that many: buy them, or try another "
                "width of cloth or of panel"
            )
        return text


def _nearest(counts: Iterable[int], count: int) -> list[int]:
    """Of these counts the nearest below and the nearest above."""
    below = [n for n in counts if n < count]
    above = [n for n in counts if n > count]
    return [*([max(below)] if below else []), *([min(above)] if above else [])]
