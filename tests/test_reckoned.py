"""Random jobs reckoned a second time, from the trade's rules alone: every figure agrees.

`tests/helpers/reckoner.py` shares nothing with the package. Where seams go, and so how many drops
they take, is searched elsewhere; here the drops are taken as planned.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import event, given, note, reject
from hypothesis import strategies as st

import drapetemplate
from drapetemplate.errors import DrapeError
from drapetemplate.report.plan_json import as_json
from tests.helpers.reckoner import Asked, Goods, Lining, Reckoned, Unit
from tests.helpers.searching import searched

MM = {"in": Fraction("25.4"), "mm": Fraction(1)}
ROUTES = ("width", "width+covers", "width+fullness", "widths", "covers", "pole")


def lengths(unit: Unit, low: float, high: float) -> st.SearchStrategy[Fraction]:
    """Inches in eighths, or whole millimetres, between two lengths in inches."""
    if unit == "in":
        return st.integers(round(low * 8), round(high * 8)).map(lambda n: Fraction(n, 8))
    return st.integers(round(low * 25.4), round(high * 25.4)).map(Fraction)


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """One of these, or nothing said."""
    return st.none() | strategy


@st.composite
def makes(draw: st.DrawFn, unit: Unit) -> dict[str, Any]:
    """What any cloth may be, wide enough to lie turned now and then."""
    railroad = draw(st.integers(0, 2)) == 0
    return {
        "width": draw(lengths(unit, 110, 126) if railroad else lengths(unit, 45, 60)),
        "seam": draw(lengths(unit, 0.25, 1)),
        "side_hem": draw(maybe(lengths(unit, 1, 4))),
        "bottom_hem": draw(maybe(lengths(unit, 2, 10))),
        "heading": draw(maybe(lengths(unit, 1, 12))),
        "repeat_down": draw(maybe(lengths(unit, 5, 30))),
        "repeat_across": draw(maybe(lengths(unit, 5, 15))) if railroad else None,
        "railroad": railroad,
        "allowance": draw(maybe(lengths(unit, 0, 20))),
        "shrinkage": Fraction(draw(st.integers(0, 6)), 200),
        "weight": draw(st.integers(80, 500)),
    }


def goods(unit: Unit) -> st.SearchStrategy[Goods]:
    """A face of any make."""
    return makes(unit).map(lambda said: Goods(**said))


@st.composite
def linings(draw: st.DrawFn, unit: Unit) -> Lining:
    """A lining of any make, loose or bagged."""
    return Lining(
        **draw(makes(unit)),
        bagged=draw(st.booleans()),
        set_in=draw(maybe(lengths(unit, 0, 3))),
        short=draw(maybe(lengths(unit, 0, 3))),
    )


@st.composite
def windows(draw: st.DrawFn) -> Asked:
    """One window by each of the ways in which a width is said."""
    unit: Unit = draw(st.sampled_from(["in", "mm"]))
    outside = draw(lengths(unit, 1, 4))
    opening = draw(lengths(unit, 0.6, 0.7).filter(lambda x: x < outside) | st.just(outside * 5 / 8))
    if unit == "mm":
        opening = Fraction(round(opening))
    fabric = draw(maybe(goods(unit)))
    route = draw(st.sampled_from(ROUTES))
    said: dict[str, Any] = dict.fromkeys(("width", "widths", "covers", "fullness", "pole"))
    if route == "widths" and fabric is not None and not fabric.railroad:
        said["widths"] = Fraction(draw(st.integers(1, 5)), 2)
    elif route.startswith("width"):
        said["width"] = draw(lengths(unit, 30, 110))
    if "covers" in route:
        said["covers"] = draw(lengths(unit, 15, 50))
    elif route == "pole" or draw(st.integers(0, 3)) == 0:
        said["pole"] = draw(lengths(unit, 25, 110))
    if route in {"width+fullness", "covers", "pole"}:
        said["fullness"] = Fraction(draw(st.integers(24, 60)), 20)
    hooks = draw(st.integers(0, 5)) == 0
    folds = fabric is not None and not (fabric.railroad or hooks) and draw(st.booleans())
    if folds and fabric is not None:
        fabric = replace(fabric, repeat_across=draw(lengths(unit, 2, 14)))
    return Asked(
        unit=unit,
        hooks=hooks,
        folds=folds,
        panels=draw(st.sampled_from(["pair", "left", "single"])),
        quantity=draw(st.integers(1, 3)),
        outside=outside,
        opening=opening,
        grams=draw(st.integers(5, 40)),
        band=draw(maybe(lengths(unit, 5, 8))),
        diameter=draw(maybe(st.just(opening * 3 / 4) | st.just(opening * 5 / 9))),
        projection=draw(maybe(lengths(unit, 2.5, 8))),
        top=draw(maybe(lengths(unit, 60, 140))),
        length=draw(maybe(lengths(unit, 30, 130))),
        leading=draw(maybe(lengths(unit, 1, 3))),
        return_=draw(maybe(lengths(unit, 1, 6))) if draw(st.booleans()) else None,
        count=draw(maybe(st.sampled_from([4, 6, 8, 10]))),
        gap=draw(maybe(lengths(unit, 2, 6))),
        fabric=fabric,
        lining=draw(maybe(linings(unit))),
        **said,
    )


@searched(1000)
@given(windows())
def test_every_figure(asked: Asked) -> None:
    """Widths, returns, counts, folds, angles, cuts, orders and weights; and what is found wrong."""
    note(asked.toml())
    try:
        planned = _planned(asked)
    except DrapeError as error:
        event(f"refused: {error.faults[0].where.split('.')[-1]}")
        reject()
    event("planned, its pattern on the folds" if asked.folds else "planned")
    mine = Reckoned(asked)
    if asked.folds and mine.fullness is not None and mine.fullness > 6:
        reject()  # folds near to touching each other, which is searched elsewhere
    mm = MM[asked.unit]
    window = planned["windows"][0]
    panel = window["panels"][0]
    exact = {
        "width_mm": mine.width,
        "leading_mm": mine.leading_with(mine.return_),
        "return_mm": mine.return_,
        "pitch_mm": mine.pitch,
        "gap_mm": mine.pitch - asked.outside,
    }
    assert {key: panel[key] for key in exact} == {key: float(x * mm) for key, x in exact.items()}
    assert panel["count"] == mine.count
    first = mine.leading_with(mine.return_) + asked.outside / 2
    assert panel["centers_mm"] == [float((first + n * mine.pitch) * mm) for n in range(mine.count)]
    assert window["length_mm"] == (None if mine.length is None else float(mine.length * mm))
    _folds(mine, panel["fold"])
    _cloths(mine, window["cloth"])
    weighs = mine.kilograms
    assert panel["weight_kg"] == (None if weighs is None else pytest.approx(weighs, rel=1e-9))
    _findings(mine, window["findings"])


def _planned(asked: Asked) -> dict[str, Any]:
    job = drapetemplate.read_job(asked.toml().encode(), "reckoned.toml")
    return as_json(job, drapetemplate.plan_job(job))


def _folds(mine: Reckoned, fold: dict[str, float | None]) -> None:
    if mine.asked.hooks:
        assert set(fold.values()) == {None}
        return
    mm = float(MM[mine.asked.unit])
    assert fold["fullness"] == pytest.approx(mine.fullness or 2.0, rel=1e-12)
    assert fold["ring_angle_deg"] == pytest.approx(mine.closed.angle * 57.29577951308232, abs=1e-5)
    assert fold["depth_closed_mm"] == pytest.approx(mine.closed.depth * mm, abs=1e-4)
    assert fold["pole_per_gap_mm"] == pytest.approx(mine.closed.pole * mm, abs=1e-4)
    assert fold["depth_stacked_mm"] == float(mine.pitch / 2 * MM[mine.asked.unit])
    turns = mine.turns
    if turns is None:
        assert (fold["free_turn_deg"], fold["turn_limit_deg"]) == (None, None)
    else:
        assert fold["free_turn_deg"] == pytest.approx(turns[0], abs=1e-9)
        assert fold["turn_limit_deg"] == pytest.approx(turns[1], abs=1e-9)


def _cloths(mine: Reckoned, cloths: list[dict[str, Any]]) -> None:
    mm = MM[mine.asked.unit]
    for part, goods_ in (("face", mine.asked.fabric), ("lining", mine.asked.lining)):
        uses = [use for use in cloths if use["part"] == part]
        assert len(uses) == (goods_ is not None)
        if goods_ is None:
            continue
        (use,) = uses
        if goods_.railroad:
            assert use["drops"] == mine.panels
        cut = mine.cut(goods_)
        assert use["cut_length_mm"] == (None if cut is None else float(cut * mm))
        sewn = mine.sewn(goods_)
        assert use["finished_width_mm"] == float(sewn.across * mm)
        assert use["finished_length_mm"] == (None if sewn.down is None else float(sewn.down * mm))
        if not goods_.railroad:
            overlaps = 2 * goods_.seam * (len(use["pieces_mm"]) - 1)
            raw = mine.raw_width(goods_) + overlaps
            assert sum(use["pieces_mm"]) == pytest.approx(float(raw * mm), rel=1e-12)
        order = mine.order(goods_, use["drops"])
        if order is not None:
            assert use["total_mm"] == float(order[0] * mm)
            assert use["order"]["amount"] == float(order[1])


def _findings(mine: Reckoned, findings: list[dict[str, str]]) -> None:
    """What is told of wall, return and rings is what there is to tell."""
    asked = mine.asked
    told = {(finding["code"], finding["level"]) for finding in findings}
    codes = {code for code, _ in told}
    assert ("short-return" in codes) is (mine.short_of_wall > 1e-9)
    if asked.projection is not None and not asked.hooks:
        room = float(asked.projection - mine.usual("1/2", 12))
        hits, can = mine.closed.depth > room, float(mine.pitch / 2) > room
        wall = {level for code, level in told if code == "back-fold-hits-wall"}
        assert wall == ({"stop"} if hits else {"warn"} if can else set())
    turns = mine.turns
    assert ("tight-turn" in codes) is (turns is not None and turns[0] < 45)
