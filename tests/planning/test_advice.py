"""What findings name to do, done: written into the job file, read and planned whole again."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from fractions import Fraction

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from drapetemplate.errors import JobError
from drapetemplate.measures import INCH
from drapetemplate.planning.advice import changed
from drapetemplate.planning.model import Change, Finding, WindowPlan
from tests.helpers.jobfiles import RING, window_of
from tests.helpers.searching import searched

Keys = Mapping[str, str]
"""A job's keys, by path: those without a table are the window's."""
COSTS = ("extra-width", "extra-seam")
"""Notes that a count which hides seams may bring: its drops are told."""


def planned(keys: Keys) -> WindowPlan | None:
    """The plan of a job file with these keys; None where there is none."""
    tables: dict[str, list[str]] = {"eyelet": [], "": []}
    for path, text in keys.items():
        table, _, key = path.rpartition(".")
        tables.setdefault(table, []).append(f"{key} = {text}")
    window, eyelet = "\n".join(tables.pop("")), "\n".join(tables.pop("eyelet"))
    rest = "\n".join(f"[{name}]\n" + "\n".join(lines) for name, lines in tables.items())
    try:
        return window_of(window, eyelet=eyelet, tables=rest)
    except JobError:
        return None


def text_of(change: Change) -> str:
    """A change's value as a job file has it."""
    if change.key in {"count", "extra_seams"}:
        return str(change.value)
    if isinstance(change.value, str):
        return f'"{change.value}"'
    if change.key == "widths":
        return f"{float(change.value)}"
    if change.key == "fullness":
        return f'"{float(change.value):.2f}"'
    sixteenths = Fraction(change.value) / INCH * 16
    assert sixteenths.denominator == 1, change
    return f'"{float(sixteenths / 16)} in"'


def done(keys: Keys, remedy: Sequence[Change]) -> dict[str, str]:
    """The job's keys with a remedy's. A fullness beside a width says anew what is covered."""
    new = {**keys, **{change.key: text_of(change) for change in remedy}}
    if any(change.key == "fullness" for change in remedy) and "width" in new:
        new.pop("covers", None)
    return new


def by_code(findings: Sequence[Finding]) -> Counter[tuple[str, int]]:
    """How many findings of each code are as bad as a note, a warning and a stop."""
    levels = {"note": 1, "warn": 2, "stop": 3}
    return Counter((f.code, bad) for f in findings for bad in range(1, levels[f.level] + 1))


def drops(window: WindowPlan) -> int:
    """The drops of all its cloths."""
    return sum(use.seams.drops for use in window.cloth if use.seams is not None)


def sixteenths(low: int, high: int) -> st.SearchStrategy[str]:
    """Inches from `low` to `high`, in sixteenths."""
    return st.integers(16 * low, 16 * high).map(lambda n: f'"{n / 16} in"')


def maybe(keys: dict[str, st.SearchStrategy[str]]) -> st.SearchStrategy[dict[str, str]]:
    """Some of these keys."""
    return st.fixed_dictionaries({}, optional=keys)


fullnesses = st.integers(105, 350).map(lambda n: f'"{n / 100}"')
WIDTHS = st.one_of(
    st.fixed_dictionaries({"width": sixteenths(20, 130)}),
    st.fixed_dictionaries({"width": sixteenths(20, 130), "covers": sixteenths(10, 60)}),
    st.fixed_dictionaries({"width": sixteenths(20, 130), "fullness": fullnesses}),
    st.fixed_dictionaries({"covers": sixteenths(12, 60), "fullness": fullnesses}),
    st.fixed_dictionaries({"pole.length": sixteenths(20, 120), "fullness": fullnesses}),
    st.fixed_dictionaries({"glass": sixteenths(10, 60), "fullness": fullnesses}),
)
JOBS = st.tuples(
    WIDTHS,
    maybe(
        {
            "count": st.integers(2, 22).map(str),
            "return": sixteenths(0, 6),
            "leading": sixteenths(0, 3),
            "panels": st.sampled_from(['"pair"', '"left"', '"single"']),
            "quantity": st.integers(1, 3).map(str),
            "pole.projection": sixteenths(1, 7),
            "pole.diameter": st.integers(2, 32).map(lambda n: f'"{n / 16} in"'),
            "pole.length": sixteenths(20, 120),
            "pole.supports": st.integers(0, 3).map(str),
            "pole.top": sixteenths(80, 90),
            "pole.off_floor": st.sampled_from(["0.5", "0", "-1"]),
            "glass": sixteenths(10, 60),
            "fabric.width": sixteenths(24, 60),
            "fabric.side_hem": sixteenths(0, 6),
            "fabric.seam": sixteenths(0, 1),
            "lining.width": sixteenths(24, 60),
        }
    ),
    st.fixed_dictionaries(
        {
            "length": st.just("84"),
            "eyelet.outside": sixteenths(2, 4),
            "eyelet.opening": st.sampled_from(["1", '"1 9/16"', '"1 3/4"']),
        }
    ),
).map(lambda parts: {key: text for part in parts for key, text in part.items()})


@searched(1000)
@given(JOBS)
def test_what_is_advised_mends_and_brings_nothing(keys: Keys) -> None:
    """Each remedy, written into the job file, clears its finding and makes no other one worse."""
    before = planned(keys)
    if before is None:  # too few jobs are left to assume it
        return
    had = by_code(before.findings)
    for finding in before.findings:
        for remedy in finding.remedies:
            event(f"{finding.code}: {remedy[0].key}")
            after = planned(done(keys, remedy))
            assert after is not None, (keys, remedy)
            has = by_code(after.findings)
            if finding.code == "extra-seam":  # it may be told again, of a seam more
                assert drops(after) < drops(before), (keys, remedy, finding.text)
            else:
                assert has[finding.code, 1] < had[finding.code, 1], (keys, remedy, finding.text)
            named_in_drops = finding.code.startswith("seam-")
            worse = {
                code
                for (code, bad), number in has.items()
                if number > had[code, bad]
                and not (named_in_drops and code in COSTS)
                and not (finding.code.startswith("extra-") and code in COSTS)
            }
            assert not worse, (keys, remedy, finding.text, worse)


def test_a_count_that_would_only_move_the_trouble() -> None:
    """Where a count clears the closed panel alone it is named as that, and the bracket for both.

    60 in, 3 in return, 8 eyelets of 2 in: P/2 = 3.82 in stacked. At 1 5/8 in from the wall 1 1/8 in
    are free, and even 18 eyelets, 1 1/4 in apart, reach (19.5/17 + 2)/2 = 1.57 in stacked.
    """
    keys = {"width": "60", "return": "3", "count": "8", "fullness": "1.2", **ring()}
    window = planned({**keys, "pole.projection": '"1 5/8"'})
    assert window is not None
    (wall,) = (f for f in window.findings if f.code == "back-fold-hits-wall")
    assert "eyelets would clear closed; stacked the folds would still reach. " in wall.text
    assert "To clear both takes a bracket of 4 3/8 in, wall to pole centre" in wall.text


def ring() -> dict[str, str]:
    """The usual ring, by path."""
    lines = (line.split(" = ") for line in RING.splitlines())
    return {f"eyelet.{key}": text for key, text in lines}


def test_odd_count_that_leaves_one_way() -> None:
    """Of the even counts beside an odd one only that is named which brings nothing.

    31 in, 1 1/2 in leading, 3 in return, 9 eyelets of 2 in: gaps of 8 1/2 / 8 = 1 1/16 in. Ten
    would leave 6 1/2 / 9 in.
    """
    window = planned({"width": "31", "return": "3", "count": "9", **ring()})
    assert window is not None
    (odd,) = (f for f in window.findings if f.code == "odd-count")
    assert odd.text.endswith("use an even count, 8")
    assert odd.remedies == ((Change("count", 8),),)


def test_a_return_that_would_bring_something() -> None:
    """The return that a hem asks for is named with what it brings.

    8 eyelets of 2 in on 27 1/2 in with 1 1/2 in leading and 1 in return: gaps of 9/7 in. A hem of
    3 in, 1 1/2 in finished, asks for 1/2 in more of return, and leaves 8 1/2 / 7 in. One of 8 in,
    4 in finished, would leave 6/7 in.
    """
    keys = {"width": '"27 1/2"', "return": "1", "count": "8", **ring()}
    window = planned({**keys, "fabric.side_hem": "3"})
    assert window is not None
    (hem,) = (f for f in window.findings if f.code == "eyelet-over-hem")
    assert hem.text.endswith("give the return 1 1/2 in, or a narrower hem")
    assert hem.remedies == ((Change("return", 3 * INCH / 2),),)
    tight = planned({**keys, "fabric.side_hem": "8"})
    assert tight is not None
    hem = next(f for f in tight.findings if "at the return edge" in f.text)
    assert hem.text.endswith(
        "a narrower hem, or 4 in at the return, but then eyelets stand too close"
    )
    assert hem.remedies == ()


def test_no_remedy_changes_another_key() -> None:
    """A key that no remedy knows is refused."""
    window = planned({"width": "60", **ring()})
    assert window is not None
    with pytest.raises(ValueError, match="no remedy changes band"):
        changed(window.window, (Change("band.height", 3),))
