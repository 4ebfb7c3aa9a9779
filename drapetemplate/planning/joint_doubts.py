"""What is doubtful in an order for many jobs: the jobs in, a line for each doubt out.

A doubt names the jobs that it is about. `counted` decides which of a job's versions counts.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from drapetemplate.job.model import Eyelet
from drapetemplate.measures import Length, round_half_up
from drapetemplate.planning.cloth import ClothOrder, ClothUse, EyeletOrder
from drapetemplate.planning.codes import Level
from drapetemplate.planning.joint_order import (
    JointOrder,
    Line,
    PlannedJob,
    cloth_uses,
    one_name,
)
from drapetemplate.wording import Wording, all_of

MOST_NAMED = 6
"""Jobs that a doubt names before it counts the rest."""

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, slots=True)
class Doubt:
    """What whoever buys should look into, by `level` as a finding's; `code` is for programs."""

    level: Level
    code: str
    text: str


def counted(jobs: Iterable[PlannedJob]) -> tuple[tuple[PlannedJob, ...], tuple[Doubt, ...]]:
    """Return the jobs that count once versions of one job are told, and what is doubtful in that.

    Versions have one number and name, or without a number one name, client and room, but other
    bytes: of those in PDFs none counts where a job file has one, since that is where a job is
    changed. Of several job files, or PDFs alone, none can be known to be the latest: all count.
    """
    kept: list[PlannedJob] = []
    doubts: list[Doubt] = []
    groups = _grouped(sorted(jobs, key=lambda job: job.sources), _same_job)
    for versions in groups.values():
        files = [job for job in versions if job.in_job_file]
        counting = files or versions
        kept += counting
        if len(versions) == 1:
            continue
        name = versions[0].called
        if left_out := [job for job in versions if job not in counting]:
            text = (
                f"{name}: {_sources(left_out)} was made from another version than "
                f"{_sources(files)}, which counts: make the PDF anew"
            )
            doubts.append(Doubt("warn", "two-versions", text))
        if len(counting) > 1:
            text = (
                f"{name}: {_sources(counting)} differ, and each is counted: if they are versions "
                "of one job, leave out the old ones"
            )
            doubts.append(Doubt("warn", "two-versions", text))
    numbered = _grouped((job for job in kept if job.job.details.number), _number)
    for same in numbered.values():
        if len({one_name(job.job.details.name) for job in same}) > 1:
            text = (
                f"{_called(same)} have one number, and each is counted: if they are one job, "
                "leave out the old one"
            )
            doubts.append(Doubt("warn", "one-number", text))
    return tuple(kept), tuple(doubts)


def order_doubts(order: JointOrder) -> tuple[Doubt, ...]:
    """Return all that is doubtful in an order, what may ruin cloth first."""
    return (
        *_stopped(order.jobs),
        *_widths(order),
        *_differing_cloth(order),
        *_not_known(order),
        *_differing_eyelets(order),
        *_packs(order),
        *_differing_rolls(order),
        *_spelled(order),
        *_unnamed(order),
    )


def _same_job(job: PlannedJob) -> Hashable:
    details = job.job.details
    name = one_name(details.name)
    if details.number:
        return one_name(details.number), name
    return None, name, one_name(details.client or ""), one_name(details.room or "")


def _number(job: PlannedJob) -> str:
    return one_name(job.job.details.number or "")


Item = TypeVar("Item")


def _grouped(items: Iterable[Item], key: Callable[[Item], Key]) -> dict[Key, list[Item]]:
    groups: dict[Key, list[Item]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return groups


def _sources(jobs: Iterable[PlannedJob]) -> str:
    return all_of(_few([job.sources[0] for job in jobs]))


def _called(jobs: Iterable[PlannedJob]) -> str:
    return all_of(_few(list(dict.fromkeys(job.called for job in jobs))))


def _few(names: Sequence[str]) -> list[str]:
    """Names, the last of very many only counted."""
    if len(names) <= MOST_NAMED:
        return list(names)
    return [*names[:MOST_NAMED], f"{len(names) - MOST_NAMED} more"]


def _stopped(jobs: Sequence[PlannedJob]) -> Iterator[Doubt]:
    for job in jobs:
        if stops := dict.fromkeys(stop.code for stop in job.plan.stops):
            text = (
                f"{job.called}: no template is made of it yet ({', '.join(stops)}): settle "
                "that before its cloth is bought"
            )
            yield Doubt("warn", "stop", text)


def _widths(order: JointOrder) -> Iterator[Doubt]:
    """One name at several widths."""
    named = [line for line in order.cloth if line.order.fabric is not None]
    for lines in _grouped(named, _name_of).values():
        if len({line.order.width for line in lines}) > 1:
            each = "; ".join(
                f"{Wording(line.units).known(line.order.width)} for "
                f"{_called(order.jobs[number] for number, _ in line.takes)}"
                for line in lines
            )
            text = f"{lines[0].order.fabric} has several widths: {each}. Each is a line of its own"
            yield Doubt("warn", "cloth-widths", text)


def _name_of(line: Line[ClothOrder]) -> str:
    return one_name(line.order.fabric or "")


def _differing_cloth(order: JointOrder) -> Iterator[Doubt]:
    """One cloth that jobs say different things of."""
    for line in order.cloth:
        if line.order.fabric is None or len(line.takes) == 1:
            continue
        repeats = _said_of_cloth(order, line, _repeats)
        weights = _said_of_cloth(order, line, _weight)
        weights.pop(None, None)  # who says none contradicts nobody
        for each, count, what in (
            (_each(repeats, _repeat_words), len(repeats), "repeats"),
            (_each(weights), len(weights), "weights"),
        ):
            if count > 1:
                text = f"{line.order.fabric} has several {what}: {each}. Is it one cloth?"
                yield Doubt("warn", f"cloth-{what}", text)


def _said_of_cloth(
    order: JointOrder, line: Line[ClothOrder], of: Callable[[ClothUse], Key]
) -> dict[Key, list[PlannedJob]]:
    """What is said of a cloth, and by which jobs."""
    said: dict[Key, list[PlannedJob]] = {}
    for number, own in line.takes:
        job = order.jobs[number]
        for value in dict.fromkeys(map(of, cloth_uses(job, own))):
            said.setdefault(value, []).append(job)
    return said


def _each(
    said: Mapping[Key, Sequence[PlannedJob]],
    in_words: Callable[[Wording, Key], str] = lambda _, value: f"{value}",
) -> str:
    """Each thing that is said, and by which jobs, in the units of the first of them.

    In others' units two lengths that differ could read alike.
    """
    return "; ".join(
        f"{in_words(Wording(jobs[0].job.units), value)} for {_called(jobs)}"
        for value, jobs in said.items()
    )


def _repeats(use: ClothUse) -> tuple[Length | None, Length | None]:
    return use.cloth.repeat_down or None, use.cloth.repeat_across or None


def _repeat_words(say: Wording, repeats: tuple[Length | None, Length | None]) -> str:
    ways = zip(repeats, ("down", "across"), strict=True)
    return " and ".join(f"{say.exact(length)} {way}" for length, way in ways if length) or "none"


def _weight(use: ClothUse) -> str | None:
    weight = use.cloth.weight
    return None if weight is None else f"{round_half_up(weight)} gsm"


def _not_known(order: JointOrder) -> Iterator[Doubt]:
    """Cloth of which it isn't known how much some jobs take."""
    for line in order.cloth:
        if line.without:
            who = _called(order.jobs[number] for number in line.without)
            what = "lining" if line.order.part == "lining" else "fabric"
            name = line.order.fabric or f"{what} without a name"
            text = (
                f"{name}: how much {who} takes isn't known, and isn't in the order: give the "
                "cloth's width and the windows' length"
            )
            yield Doubt("warn", "amount-not-known", text)


def _differing_eyelets(order: JointOrder) -> Iterator[Doubt]:
    """Eyelets of one size that jobs say different things of: perhaps they are two."""
    for line in order.eyelets:
        if len(line.takes) == 1:
            continue
        size = _size(line, Wording(line.units))
        for key, what in (("eyelet.hole", "hole"), ("eyelet.thickness", "thickness")):
            said = _said_of_eyelet(order, line, key)
            if len(said) > 1:
                each = _each(said, Wording.exact)
                text = f"{size}: its {what} is {each}. Is it one eyelet?"
                yield Doubt("warn", f"eyelet-{what}", text)


def _said_of_eyelet(
    order: JointOrder, line: Line[EyeletOrder], key: str
) -> dict[Length, list[PlannedJob]]:
    """A measure of an eyelet as jobs say it, and which do; what was only assumed isn't among it."""
    said: dict[Length, list[PlannedJob]] = {}
    for number, own in line.takes:
        job = order.jobs[number]
        for planned in job.plan.windows:
            window = planned.window
            assumed = {assumption.key for assumption in window.assumed}
            turns = key != "eyelet.thickness" or window.eyelet.hung == "pole"
            same = _sizes(window.eyelet) == _sizes(own.eyelet)
            if same and key not in assumed and turns:
                hole, thickness = window.eyelet.hole, window.eyelet.thickness
                jobs = said.setdefault(hole if key == "eyelet.hole" else thickness, [])
                if not any(job is one for one in jobs):
                    jobs.append(job)
    return said


def _sizes(eyelet: Eyelet) -> tuple[Length, ...]:
    return eyelet.outside, eyelet.opening, eyelet.hole


def _size(line: Line[EyeletOrder], say: Wording) -> str:
    eyelet = line.order.eyelet
    return f"eyelet {say(eyelet.outside)} outside, {say(eyelet.opening)} opening"


def _packs(order: JointOrder) -> Iterator[Doubt]:
    """Eyelets that jobs have in packs of different sizes."""
    for line in order.eyelets:
        said: dict[int, list[PlannedJob]] = {}
        for number, own in line.takes:
            if own.eyelet.pack is not None:
                said.setdefault(own.eyelet.pack, []).append(order.jobs[number])
        if len(said) > 1:
            text = (
                f"{_size(line, Wording(line.units))}: packs of {_each(said)}. Packs of "
                f"{line.order.eyelet.pack} are counted"
            )
            yield Doubt("warn", "eyelet-packs", text)


def _differing_rolls(order: JointOrder) -> Iterator[Doubt]:
    """Band of one height on rolls of several lengths."""
    for height, lines in _grouped(order.bands, lambda line: line.order.height).items():
        if len({line.order.roll for line in lines}) > 1:
            say = Wording(lines[0].units)
            each = "; ".join(
                f"{say.known(line.order.roll)} for "
                f"{_called(order.jobs[number] for number, _ in line.takes)}"
                for line in lines
            )
            text = f"band {say(height)} high: a roll is {each}. Each is a line of its own"
            yield Doubt("warn", "band-rolls", text)


def _spelled(order: JointOrder) -> Iterator[Doubt]:
    """Names of one cloth that are spelled in several ways."""
    for line in order.cloth:
        names = list(dict.fromkeys(own.fabric for _, own in line.takes))
        if len(names) > 1:
            text = f"{all_of(str(name) for name in names)} are taken for one cloth"
            yield Doubt("note", "cloth-spelled", text)


def _unnamed(order: JointOrder) -> Iterator[Doubt]:
    """Cloths without a name that may be one: nobody knows, so they aren't added up."""
    lines = [line for line in order.cloth if line.order.fabric is None]
    for alike in _grouped(lines, lambda line: (line.order.part, line.order.width)).values():
        jobs = [order.jobs[number] for line in alike for number, _ in line.takes]
        if len({id(job) for job in jobs}) > 1:
            what = "lining" if alike[0].order.part == "lining" else "fabric"
            width = Wording(alike[0].units).known(alike[0].order.width)
            text = (
                f"{what} without a name, width {width}, is a line for each of {_called(jobs)}: a "
                "name makes it one"
            )
            yield Doubt("note", "cloth-unnamed", text)
