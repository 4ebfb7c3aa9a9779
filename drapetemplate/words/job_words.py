"""What a job file says, in plain words: a `Job` or a `Window` in, names and values out.

A default that is listed as assumed isn't among the rows: it stands with what was assumed, under
the same words (`words_of`). Measures are in the units of the job.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from drapetemplate.job.defaults import OFF_FLOOR, WALL_CLEARANCE
from drapetemplate.job.model import Cloth, Job, Paper, Window
from drapetemplate.job.tables import TABLES, ClothTable, field_of, keys_of, path_in_file
from drapetemplate.measures import OUNCE, SQUARE_YARD, Length, Units
from drapetemplate.wording import Wording, number

Row = tuple[str, str]
_KeyAndValue = tuple[str, str | Length | None]
"""A key of the job file and its value: in words, or a length; None where the job says nothing."""


def _called(table: str, key: str) -> str:
    """Return what a key is called for people; a cloth's key goes with the cloth."""
    title = field_of(table, key).title or ""
    of_cloth = issubclass(TABLES[table], ClothTable)
    return f"{table.capitalize()} {title}".rstrip() if of_cloth else title


# Every key of a job file that has a value, under its path; a window's own have no table's name.
WORDS = {
    path_in_file(table, key): _called(table, key)
    for table in TABLES
    for key in keys_of(table)
    if key not in TABLES
}

CHOSEN = "chosen here"
TURNED = {"auto": "fewest sheets"}
_JOINS = {"clear": "clear of eyelets", "even": "in even steps"}
_STRIPS = {"each": "each panel", "one": "one a pair"}
_STYLES = {"whole": "whole strip", "stepping": "stepping piece"}


def words_of(key: str) -> str:
    """What a key of the job file is called for people: "Hole to cut" for "eyelet.hole"."""
    return WORDS.get(key, key)


def of_job(job: Job) -> tuple[Row, ...]:
    """Return what the job says for all its windows alike: units and paper."""
    values: list[_KeyAndValue] = [("units", job.units), *_paper(job.paper)]
    return _rows(values, {a.key for a in job.assumed}, Wording(job.units))


def of_window(window: Window, units: Units) -> tuple[Row, ...]:
    """Return what the job says of a window, the file's tables and its own, but for its name."""
    values: list[_KeyAndValue] = [*_window(window), *_hardware(window, units)]
    for name, cloth in (("fabric", window.fabric), ("lining", window.lining)):
        if cloth is not None:
            values += _cloth(name, cloth)
    return _rows(values, {a.key for a in window.assumed}, Wording(units))


def _rows(values: Iterable[_KeyAndValue], assumed: set[str], say: Wording) -> tuple[Row, ...]:
    """Keys and their values in, names and words out, but for what is only assumed."""
    return tuple(
        (WORDS[key], value if isinstance(value, str) else _length(value, say))
        for key, value in values
        if value is not None and key not in assumed
    )


def _length(length: Length, say: Wording) -> str:
    """A length in, words out; only what a panel ends off the floor may be negative."""
    return say.exact(length) if length >= 0 else f"none: {say.exact(-length)} on the floor"


def _paper(paper: Paper) -> Iterator[_KeyAndValue]:
    front, back = paper.letters
    yield "paper.size", paper.name
    yield "paper.orientation", TURNED.get(paper.orientation, paper.orientation)
    yield "paper.margin", paper.margin
    yield "paper.overlap", paper.overlap
    yield "paper.joins", _JOINS[paper.joins]
    yield "paper.view", f"the {paper.view}"
    yield "paper.strips", _STRIPS[paper.strips]
    yield "paper.style", _STYLES[paper.style]
    yield "paper.letters", f"{front} front, {back} back"
    yield "paper.printer", paper.printer


def _window(window: Window) -> Iterator[_KeyAndValue]:
    yield "quantity", str(window.quantity) if window.quantity > 1 else None
    yield "panels", window.panels
    yield "width", window.width
    yield "covers", window.covers
    yield "glass", window.glass
    yield "fullness", None if window.fullness is None else f"{number(window.fullness)} times"
    yield "widths", None if window.widths is None else number(window.widths)
    yield "length", window.length
    yield "leading", None if window.panels == "single" else window.leading
    yield "return", window.return_
    yield "count", CHOSEN if window.count is None else str(window.count)
    yield "gap", window.gap
    yield "stack_each", window.stack_each
    yield "pattern", "on the folds" if window.pattern == "folds" else None
    yield "motif_below", window.motif_below
    yield "extra_seams", str(window.extra_seams) if window.extra_seams else None


def _hardware(window: Window, units: Units) -> Iterator[_KeyAndValue]:
    """Eyelet, band and pole; a pole's clearances that nothing rests on only if unusual."""
    ring, band, pole = window.eyelet, window.band, window.pole
    yield "eyelet.outside", ring.outside
    yield "eyelet.opening", ring.opening
    yield "eyelet.hole", ring.hole
    turns = ring.hung == "pole" or ring.thickness
    yield "eyelet.thickness", ring.thickness if turns else None
    yield "eyelet.hung", ring.hung
    yield "eyelet.weight", None if ring.weight is None else _mass(ring.weight)
    yield "eyelet.pack", None if ring.pack is None else str(ring.pack)
    yield "eyelet.spares", str(ring.spares)
    yield "band.height", band.height
    yield "band.above", band.above
    yield "band.roll", band.roll
    yield "pole.diameter", pole.diameter
    yield "pole.projection", pole.projection
    used = (
        pole.projection is not None or pole.wall_clearance != WALL_CLEARANCE.in_units(units).value
    )
    yield "pole.wall_clearance", pole.wall_clearance if used else None
    yield "pole.top", pole.top
    used = pole.top is not None or pole.off_floor != OFF_FLOOR.in_units(units).value
    yield "pole.off_floor", pole.off_floor if used else None
    yield "pole.length", pole.length
    yield "pole.supports", None if pole.supports is None else str(pole.supports)
    yield "pole.span", pole.span


def _cloth(name: str, cloth: Cloth) -> Iterator[_KeyAndValue]:
    yield f"{name}.name", cloth.name
    for key in ("width", "seam", "side_hem", "heading", "bottom_hem"):
        yield f"{name}.{key}", getattr(cloth, key)
    yield f"{name}.repeat_down", cloth.repeat_down
    yield f"{name}.repeat_across", cloth.repeat_across
    yield f"{name}.railroad", "yes" if cloth.railroad else "no"
    yield f"{name}.weight", None if cloth.weight is None else _area_weight(cloth.weight)
    yield f"{name}.shrinkage", f"{number(cloth.shrinkage * 100)} %"
    yield f"{name}.allowance", cloth.allowance
    if cloth.motif is not None:
        yield f"{name}.motif", cloth.motif
        yield f"{name}.mirrored", "yes" if cloth.mirrored else "no"
    if name == "fabric":
        yield f"{name}.motif_down", cloth.motif_down
    if cloth.joined is not None:
        yield f"{name}.joined", cloth.joined
        yield f"{name}.set_in", cloth.set_in
        yield f"{name}.short", cloth.short


def _mass(grams: Fraction) -> str:
    """Grams in, words out; ounces where only they come out exact."""
    return _weighed(grams, "g", OUNCE, "oz")


def _area_weight(grams: Fraction) -> str:
    """Grams a square metre in, words out; ounces a square yard where only they come out exact."""
    return _weighed(grams, "gsm", OUNCE / SQUARE_YARD, "oz/yd²")


def _weighed(value: Fraction, unit: str, size: Fraction, other: str) -> str:
    if (value * 1000).denominator == 1:
        return f"{number(value)} {unit}"
    if (value / size * 1000).denominator == 1:
        return f"{number(value / size)} {other}"
    return f"≈ {float(value):.2f} {unit}"
