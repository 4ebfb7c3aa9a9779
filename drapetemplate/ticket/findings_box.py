"""A plan's findings in, each put once on the ticket, where the eye needs it.

What must not go wrong (stop, warn) stands under the headline of its window; what is several
windows' stands at the ticket's top, and those windows point to it. Notes come at the end.
"""

from __future__ import annotations

from drapetemplate.drawing.roles import Role
from drapetemplate.planning.model import Finding, Plan, worst_first
from drapetemplate.ticket.flow import Flow
from drapetemplate.wording import counted
from drapetemplate.words.plan_words import windows_named

SETTLE = "Settle before anything is cut"
SETTLE_OTHERS = "Settle the rest before anything is cut"


class FindingsBox:
    """All findings, each said once: at its window, or at the top where it is several windows'."""

    def __init__(self, plan: Plan, more: tuple[Finding, ...], accepted: frozenset[str]) -> None:
        self.names = [window.name for window in plan.windows]
        self.accepted = accepted
        windows_of: dict[Finding, list[int]] = {finding: [] for finding in more}
        for n, window in enumerate(plan.windows):
            for finding in window.findings:
                windows_of.setdefault(finding, []).append(n)
        self.windows_of = {finding: windows_of[finding] for finding in worst_first(windows_of)}
        # What is some windows' and not all has a number, so that those can point to it.
        shared = (
            finding
            for finding, at in self.windows_of.items()
            if self._at_top(finding) and 0 < len(at) < self.window_count
        )
        self.numbers = {finding: number for number, finding in enumerate(shared, 1)}

    @property
    def window_count(self) -> int:
        """How many windows there are."""
        return len(self.names)

    def _at_top(self, finding: Finding) -> bool:
        return finding.level != "note" and len(self.windows_of[finding]) != 1

    def _taken_on(self, finding: Finding) -> bool:
        """Whether it is a stop that someone has taken on: there is nothing to settle any more."""
        return finding.level == "stop" and finding.code in self.accepted

    def _bullet(self, finding: Finding) -> str:
        number = self.numbers.get(finding)
        return finding.level.upper() + ("" if number is None else f" {number}")

    def summary(self) -> str:
        """How many there are of each level, at which windows, and what is to be settled."""
        counts = [
            counted(n, noun)
            for level, noun in (("stop", "stop"), ("warn", "warning"), ("note", "note"))
            if (n := sum(finding.level == level for finding in self.windows_of))
        ]
        windows = {
            n for finding, at in self.windows_of.items() if finding.level != "note" for n in at
        }
        at = ""
        if 0 < len(windows) < self.window_count:
            at = f": {windows_named([self.names[n] for n in sorted(windows)])}"
        found = (", ".join(counts) or "none") + at
        grave = [finding for finding in self.windows_of if finding.level != "note"]
        taken_on = sum(map(self._taken_on, grave))
        if taken_on:
            found += f". {counted(taken_on, 'stop')} taken on as signed below"
        if taken_on == len(grave):
            return found
        return f"{found}. {SETTLE_OTHERS if taken_on else SETTLE}"

    def top(self, flow: Flow) -> None:
        """What is of several windows, or of none."""
        for finding, at in self.windows_of.items():
            if self._at_top(finding):
                where = "" if not at else "Every window: "
                if finding in self.numbers:
                    where = f"{windows_named([self.names[n] for n in at])}: "
                self._warn(flow, finding, where)

    def at(self, flow: Flow, n: int) -> None:
        """What is window n's own; what it shares with some others is pointed to."""
        for finding, at in self.windows_of.items():
            if finding.level != "note" and at == [n]:
                self._warn(flow, finding, "")
            elif n in at and finding in self.numbers:
                flow.warning("as said at the top of the ticket.", self._bullet(finding))

    def _warn(self, flow: Flow, finding: Finding, where: str) -> None:
        stop = finding.level == "stop"
        flow.warning(where + finding.text, self._bullet(finding), framed=stop)
        if self._taken_on(finding):
            flow.sign_line(f"ACCEPTED all the same ({finding.code}) by:")

    def notes(self, flow: Flow) -> None:
        """What is for the record."""
        notes = [
            (finding, at) for finding, at in self.windows_of.items() if finding.level == "note"
        ]
        if notes:
            flow.heading("Worth knowing")
        for finding, at in notes:
            names = [self.names[n] for n in at] if 0 < len(at) < self.window_count else []
            text = f"{windows_named(names)}: {finding.text}" if names else finding.text
            flow.paragraph(text, bullet="NOTE", role=Role.FINDING)
