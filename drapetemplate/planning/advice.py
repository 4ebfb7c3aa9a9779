"""What a finding would have changed, tried before it is named: the window planned whole with it.

A remedy that mends its finding may bring another. So none is named unless the window's plan with it
has no finding that the plan without it hasn't, at no higher level; or its text says what it brings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from fractions import Fraction

from drapetemplate.errors import JobError
from drapetemplate.job.model import Window
from drapetemplate.planning.model import LEVELS, Change, Finding, Remedy, WindowPlan


def count_of(eyelets: int) -> Remedy:
    """Return the remedy of so many eyelets a panel."""
    return (Change("count", eyelets),)


def changed(window: Window, remedy: Remedy) -> Window:
    """Return a window with a remedy's keys as it has them.

    ValueError for a key that no remedy changes.
    """
    for key, value in remedy:
        match key:
            case "count":
                window = replace(window, count=int(value))
            case "extra_seams":
                window = replace(window, extra_seams=int(value))
            case "leading":
                window = replace(window, leading=Fraction(value))
            case "return":
                window = replace(window, return_=Fraction(value))
            case "fullness":
                window = _with_fullness(window, Fraction(value))
            case "pole.projection":
                window = replace(window, pole=replace(window.pole, projection=Fraction(value)))
            case "pole.diameter":
                window = replace(window, pole=replace(window.pole, diameter=Fraction(value)))
            case _:
                raise ValueError(f"no remedy changes {key}")
    return window


def _with_fullness(window: Window, fullness: Fraction) -> Window:
    """Return a window with another fullness: a given width then covers what that comes to."""
    if window.width is None and window.widths is None:
        return replace(window, fullness=fullness)
    assumed = tuple(each for each in window.assumed if each.key != "covers")
    return replace(window, fullness=fullness, covers=None, assumed=assumed)


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
        """Return what to say after a remedy that brings something: ", which brings narrow-gap"."""
        codes = self.brings(remedy)
        return f", which brings {' and '.join(codes)}" if codes else ""


def _number(findings: Iterable[Finding], code: str) -> int:
    """Return how many findings of a code there are."""
    return sum(finding.code == code for finding in findings)
