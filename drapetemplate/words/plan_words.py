"""What a plan takes, in words that terminal, ticket and spreadsheet share."""

from __future__ import annotations

from collections.abc import Sequence

from drapetemplate.job.model import Assumption, Cloth, Job, Joined
from drapetemplate.measures import Length, Units, format_length, format_order, rounded_up
from drapetemplate.planning.cloth import (
    ClothOrder,
    ClothUse,
    EyeletOrder,
    Part,
    order_unit,
    rounded_order,
)
from drapetemplate.planning.model import Finding, Plan, WindowPlan, worst_first
from drapetemplate.wording import Wording, counted, joined
from drapetemplate.words.band_words import band_to_buy, roll_rows, splice_rows

MOST_NAMED = 12
"""Windows or sheets that are named before the rest is counted."""
PARTS = {"face": "fabric", "lining": "lining"}


def order_rows(job: Job, plan: Plan) -> list[tuple[str, str]]:
    """Return what to buy for the whole job, thing by thing: its name and how much."""
    say = Wording(job.units)
    rows = []
    for cloth in plan.order.cloth:
        width = "width not known" if cloth.width is None else f"{say(cloth.width)} wide"
        name = f"{cloth_called(cloth)}, {width}"
        amount = "amount not known"
        if cloth.amount is not None:
            amount = f"{format_order(cloth.amount, cloth.unit)} ({cloth_taken(cloth, say)})"
        rows.append((PARTS[cloth.part], f"{name}: {amount}"))
    rows += [
        ("eyelets", f"{size}: {eyelets_to_buy(ring)}")
        for size, ring in zip(
            eyelet_sizes(plan.order.eyelets, say), plan.order.eyelets, strict=True
        )
    ]
    rows += [
        ("band", f"{say(band.height)} high: {band_to_buy(band, job.units)}, {BAND_TO_TEST}")
        for band in plan.order.bands
    ]
    rows += [(f"band {name}", words) for name, words in roll_rows(plan, job.units)]
    rows += [("band spliced", f"{name} {words}") for name, words in splice_rows(plan, job.units)]
    return rows


def cloth_called(order: ClothOrder) -> str:
    """Return a cloth's name, or that it has none, and whether it is a patterned one."""
    return order.fabric or ("not named, patterned" if order.patterned else "not named")


def drops_of_cloth(order: ClothOrder) -> str:
    """Return how many drops a cloth is cut into, or runs where all of it is railroaded."""
    return counted(order.drops or 0, "run" if order.turned else "drop")


def cloth_taken(order: ClothOrder, say: Wording) -> str:
    """Return what the drops of a cloth take and what is bought over; "" where it isn't known.

    "4 drops 400 in + 4 in allowance + 25 in repeat = 429 in".
    """
    if order.total is None:
        return ""
    return f"{drops_of_cloth(order)} {say(order.total)}{cloth_over(order, say)}"


def cloth_over(order: ClothOrder, say: Wording) -> str:
    """Return what is bought of a cloth over its drops, and the sum; "" where nothing is.

    " + 4 in allowance = 404 in".
    """
    extra = f" + {say(order.allowance)} allowance" if order.allowance else ""
    extra += f" + {say(order.repeat)} repeat" if order.repeat else ""
    extra += f" + {say(order.between)} between windows" if order.between else ""
    return f"{extra} = {say.known(order.to_buy)}" if extra else ""


def eyelet_sizes(orders: Sequence[EyeletOrder], say: Wording) -> list[str]:
    """Return which eyelet each is that is bought: "66 mm outside, 40 mm opening".

    Where another is as large, what to cut for it and how deep it is tell them apart.
    """
    rings = [order.eyelet for order in orders]
    sizes = [f"{say(ring.outside)} outside, {say(ring.opening)} opening" for ring in rings]
    names = []
    for ring, size in zip(rings, sizes, strict=True):
        name = size
        if sizes.count(size) > 1:
            name += f", {say(ring.hole)} hole"
            name += f", {say(ring.thickness)} thick" if ring.thickness else ""
        names.append(name)
    return names


def eyelets_to_buy(order: EyeletOrder, testers: int | None = None) -> str:
    """Return how many of an eyelet are used, and what to buy: "24 and 4 spares: 3 packs of 10".

    One is set in scrap first, to test; without spares that one is named. Of an order for several
    jobs `testers` are those without spares.
    """
    spares = f" and {counted(order.spares, 'spare')}" if order.spares else ""
    packs = f": {packs_of(order)}" if order.packs else ""
    if testers is None:
        testers = 0 if order.spares else 1
    # Those are among what is bought, or to be had beside it, or some of them are.
    among = min(_over(order), testers)
    test = f", with {to_test(among)}" if among else ""
    if beside := testers - among:
        test += f", and {beside} more to test" if among else f", and {to_test(beside)}"
    return f"{order.used}{spares}{packs}{test}"


def beside_packs(order: EyeletOrder, testers: int) -> str:
    """Return how many eyelets to test are to be had beside those bought: "" where none are.

    " and 2 to test".
    """
    beside = testers - _over(order)
    return f" and {to_test(beside)}" if beside > 0 else ""


def to_test(testers: int) -> str:
    """Return how many eyelets are set in scrap: "one to test"."""
    return f"{'one' if testers == 1 else testers} to test"


def _over(order: EyeletOrder) -> int:
    """How many eyelets are bought over those used and spare, since packs are whole."""
    return order.bought - order.used - order.spares


BAND_TO_TEST = "and a piece to test"
"""What is to be had of the band beside what the panels take."""


def packs_of(order: EyeletOrder) -> str:
    """Return how many packs to buy, and of how many eyelets: "3 packs of 10"."""
    return f"{counted(order.packs or 0, 'pack')} of {order.eyelet.pack}"


def panels_to_make(window: WindowPlan) -> str:
    """Return which panels a window has, and how many of it to make: "a pair, make 3"."""
    kind = "pair" if len(window.panels) == 2 else window.panels[0].side
    panels = {
        "pair": "a pair",
        "left": "a left panel",
        "right": "a right panel",
        "single": "a single panel, returns at both ends",
    }[kind]
    return panels if window.quantity == 1 else f"{panels}, make {window.quantity}"


def cut_line(job: Job, window: WindowPlan) -> str:
    """Return what to cut for a window in one line, without seams; "" where nothing is known."""
    say = Wording(job.units)
    cuts = []
    for use in window.cloth:
        if use.seams is not None and use.cut is not None:
            lining = "lining " if use.part == "lining" else ""
            drops = counted(use.seams.drops, "run" if use.cloth.railroad else "drop")
            cuts.append(f"{lining}{drops} of {say(use.cut)}")
    if not cuts:
        return ""
    what = f"ut {'; '.join(cuts)}"
    pair = len(window.panels) == 2
    if window.quantity > 1:
        return f"For all {window.quantity} {'pairs' if pair else 'panels'}: c{what}"
    return f"For the pair: c{what}" if pair else f"C{what}"


def finished_size(use: ClothUse, say: Wording) -> str:
    """Return what a cloth finishes at, its length where that is known: "72 in × 83 in"."""
    return say(use.width) if use.length is None else f"{say(use.width)} × {say(use.length)}"


def lining_joined(cloth: Cloth, say: Wording) -> str:
    """Return how a lining is joined to its face, and how far it stays within it.

    "loose (sewn to the face at the top alone), set in 1 1/2 in from each side edge of the face,
    1 in short of the face's foot".
    """
    words = [joined_how(cloth)]
    if cloth.set_in:
        words.append(f"set in {say(cloth.set_in)} from each side edge of the face")
    if cloth.short:
        words.append(f"{say(cloth.short)} short of the face's foot")
    if not (cloth.set_in or cloth.short):
        words.append("as wide and long as the face")
    return ", ".join(words)


def joined_how(cloth: Cloth) -> str:
    """Return how a lining is joined, and what that word means; "" of a face."""
    return "" if cloth.joined is None else f"{cloth.joined} ({JOINED[cloth.joined]})"


JOINED: dict[Joined, str] = {
    "loose": "sewn to the face at the top alone",
    "bagged": "sewn to the face's edges and turned out",
}


def edge_of(part: Part, edge: str) -> str:
    """Return which edge the seams of a cloth are measured from: of a lining its own.

    >>> edge_of("face", "left"), edge_of("lining", "leading")
    ('the left edge', "the lining's leading edge")
    """
    return f"the lining's {edge} edge" if part == "lining" else f"the {edge} edge"


def measured_from(job: Job, window: WindowPlan) -> str:
    """Return where a panel's hole centres are measured from, and on which line they stand."""
    panel = window.panels[0]
    line = Wording(job.units)(panel.above + panel.outside / 2)
    return f"each from the {panel.edge} edge, on the line {line} below the panel's top"


def assumed_where(plan: Plan) -> dict[Assumption, list[str]]:
    """Return all that was assumed, each with its windows' names; none where it is all of them."""
    names: dict[Assumption, list[str]] = {assumption: [] for assumption in plan.assumed}
    for window in plan.windows:
        for assumption in window.assumed:
            names.setdefault(assumption, []).append(window.name)
    every = len(plan.windows)
    return {key: at if len(at) < every else [] for key, at in names.items()}


def amount_to_order(units: Units, total: Length | None) -> str:
    """Return what to order for an exact total, or a dash where that isn't known.

    >>> amount_to_order("mm", Length(2010)), amount_to_order("in", None)
    ('2.1 m', '-')
    """
    unit = order_unit(units)
    return "-" if total is None else format_order(rounded_order(total, unit), unit)


def findings_told(plan: Plan) -> list[tuple[Finding, str]]:
    """Return every finding of the windows once, worst first, and its text, with whose it is.

    Its windows are named where the plan has several.
    """
    names: dict[Finding, list[str]] = {}
    for window in plan.windows:
        for finding in dict.fromkeys(window.findings):
            names.setdefault(finding, []).append(window.name)
    several = len(plan.windows) > 1
    return [
        (
            finding,
            f"{_whose(names[finding], len(plan.windows))}: {finding.text}"
            if several
            else finding.text,
        )
        for finding in worst_first(names)
    ]


def _whose(names: Sequence[str], windows: int) -> str:
    """Names of some of so many windows, in words."""
    return "every window" if len(names) == windows else windows_named(names)


def roll_taken(pages: int, length: Length, units: Units) -> str:
    """Return what strips take of a roll, its length rounded up to what is printed.

    >>> roll_taken(2, Length(5135), "mm"), roll_taken(1, Length(2565), "in")
    ('2 pages, 5135 mm of the roll', '1 page, 101 in of the roll')
    """
    taken = format_length(rounded_up(length, units), units)
    return f"{counted(pages, 'page')}, {taken} of the roll"


def pages_named(numbers: list[int]) -> str:
    """Return which pages, given in order; of three and more in a row the first and the last.

    >>> pages_named([2]), pages_named([1, 2]), pages_named([3, 4, 5])
    ('page 2', 'pages 1 and 2', 'pages 3 to 5')
    """
    first, last = numbers[0], numbers[-1]
    if first == last:
        return f"page {first}"
    if numbers == list(range(first, last + 1)) and last > first + 1:
        return f"pages {first} to {last}"
    return f"pages {', '.join(map(str, numbers[:-1]))} and {last}"


def windows_named(names: Sequence[str]) -> str:
    """Return names of windows in a row, the last of very many only counted.

    >>> windows_named(["North", "South"])
    'North + South'
    """
    return joined(names[:MOST_NAMED]) + _more(names)


def listed(names: Sequence[str]) -> str:
    """Return names of sheets in a row, the last of very many only counted.

    >>> listed(["A1", "A2"])
    'A1, A2'
    """
    return ", ".join(names[:MOST_NAMED]) + _more(names)


def _more(names: Sequence[str]) -> str:
    return f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
