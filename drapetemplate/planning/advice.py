"""What a finding would have changed, tried before it is named: the window planned whole with it.

A remedy that mends its finding may bring another. So none is named unless the window's plan with it
has no finding that the plan without it hasn't, at no higher level; or its text says what it brings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import cast

from drapetemplate.errors import JobError
from drapetemplate.job.model import Panels, Pattern, Window
from drapetemplate.measures import Length
from drapetemplate.planning.codes import LEVELS
from drapetemplate.planning.finding_words import in_short
from drapetemplate.planning.model import Change, Finding, Remedy, WindowPlan


def count_of(eyelets: int) -> Remedy:
    """Return the remedy of so many eyelets a panel."""
    return (Change("count", eyelets),)


def changed(window: Window, remedy: Remedy) -> Window:
    """Return a window with a remedy's keys as it has them.

    ValueError for a key that no remedy changes.
    """
    for key, value in remedy:
        if key not in _CHANGES:
            raise ValueError(f"no remedy changes {key}")
        window = _CHANGES[key](window, value)
    return window


def _with_pole(window: Window, **keys: Length) -> Window:
    """Return a window on a pole that differs in these keys."""
    return _with_its_share(replace(window, pole=replace(window.pole, **keys)))  # type: ignore[arg-type]


def _with_panels(window: Window, panels: Panels) -> Window:
    """Return a window with other panels."""
    return _with_its_share(replace(window, panels=panels))


def _with_its_share(window: Window) -> Window:
    """Return a window whose panels cover anew their share of the pole, where that was assumed."""
    length = window.pole.length
    if length is None or not window.covers_assumed:
        return window
    return replace(window, covers=length / 2 if window.panels == "pair" else length)


def _with_fullness(window: Window, fullness: Fraction) -> Window:
    """Return a window with another fullness: a given width then covers what that comes to."""
    if window.width is None and window.widths is None:
        return replace(window, fullness=fullness)
    assumed = tuple(each for each in window.assumed if each.key != "covers")
    return replace(window, fullness=fullness, covers=None, assumed=assumed)


_CHANGES: Mapping[str, Callable[[Window, Length | int | str], Window]] = {
    "panels": lambda window, value: _with_panels(window, cast("Panels", value)),
    "width": lambda window, value: replace(window, width=Fraction(value)),
    "covers": lambda window, value: replace(window, covers=Fraction(value)),
    "fullness": lambda window, value: _with_fullness(window, Fraction(value)),
    "widths": lambda window, value: replace(window, widths=Fraction(value)),
    "length": lambda window, value: replace(window, length=Fraction(value)),
    "leading": lambda window, value: replace(window, leading=Fraction(value)),
    "return": lambda window, value: replace(window, return_=Fraction(value)),
    "count": lambda window, value: replace(window, count=int(value)),
    "pattern": lambda window, value: replace(window, pattern=cast("Pattern", value)),
    "extra_seams": lambda window, value: replace(window, extra_seams=int(value)),
    "pole.projection": lambda window, value: _with_pole(window, projection=Fraction(value)),
    "pole.diameter": lambda window, value: _with_pole(window, diameter=Fraction(value)),
    "pole.length": lambda window, value: _with_pole(window, length=Fraction(value)),
}
"""What each key of a remedy does to a window."""
MULTIPLIERS = frozenset({"fullness", "widths"})
"""Keys of a remedy whose fraction is a plain number; any other key's is a length."""


def worse(
    before: Iterable[Finding], after: Iterable[Finding], *, but: frozenset[str] = frozenset()
) -> tuple[str, ...]:
    """Return the codes of findings that come, or rise in level; those `but` don't count.

    What one cloth has no more makes no room for the same of another.

    >>> wall, note = Finding("warn", "back-fold-hits-wall", ""), Finding("note", "extra-width", "")
    >>> worse([wall], [Finding("stop", "back-fold-hits-wall", ""), note])
    ('back-fold-hits-wall', 'extra-width')
    >>> worse([wall, note], [note])
    ()
    """
    had, has = _levels(before), _levels(after)
    come = (
        about[0]
        for about, levels in has.items()
        if about[0] not in but
        and any(
            n >= len(had.get(about, [])) or level < had[about][n] for n, level in enumerate(levels)
        )
    )
    return tuple(dict.fromkeys(come))


def _levels(findings: Iterable[Finding]) -> dict[tuple[str, str], list[int]]:
    """Return the levels at which each code is found of each cloth, worst first: 0 is a stop."""
    levels: dict[tuple[str, str], list[int]] = {}
    for finding in findings:
        levels.setdefault((finding.code, finding.part), []).append(LEVELS.index(finding.level))
    return {about: sorted(each) for about, each in levels.items()}


@dataclass(frozen=True, slots=True)
class Advice:
    """What a window's remedies come to: `findings` are its own, and `plan` plans a changed one.

    Each remedy is planned once.
    """

    window: Window
    findings: tuple[Finding, ...]
    plan: Callable[[Window], WindowPlan]
    _planned: dict[Remedy, WindowPlan | None] = field(default_factory=dict)

    def planned(self, remedy: Remedy) -> WindowPlan | None:
        """Return the window's plan with a remedy; None where it can't be made so."""
        if remedy not in self._planned:
            try:
                self._planned[remedy] = self.plan(changed(self.window, remedy))
            except JobError:
                self._planned[remedy] = None
        return self._planned[remedy]

    def clears(self, remedy: Remedy, code: str) -> bool:
        """Return whether a remedy leaves fewer findings of a code than there are."""
        planned = self.planned(remedy)
        return planned is not None and _number(planned.findings, code) < _number(
            self.findings, code
        )

    def brings(self, remedy: Remedy) -> tuple[str, ...]:
        """Return the codes of findings that a remedy makes worse; none where there is no plan."""
        planned = self.planned(remedy)
        return () if planned is None else worse(self.findings, planned.findings)

    def mends(self, remedy: Remedy, code: str) -> bool:
        """Return whether a remedy clears a finding of a code, and makes no other worse."""
        return self.clears(remedy, code) and not self.brings(remedy)

    def first(self, remedies: Iterable[Remedy], code: str) -> Remedy | None:
        """Return the first of these that mends a finding of a code; None if none does."""
        return next((remedy for remedy in remedies if self.mends(remedy, code)), None)

    def price(self, remedy: Remedy) -> str:
        """Return what to say after a remedy that brings something: ", but then ..."."""
        codes = self.brings(remedy)
        return f", but then {in_short(codes)}" if codes else ""


def _number(findings: Iterable[Finding], code: str) -> int:
    """Return how many findings of a code there are."""
    return sum(finding.code == code for finding in findings)
