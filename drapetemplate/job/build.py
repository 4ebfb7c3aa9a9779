"""A job file's bytes in, a `Job` out: every key read, every default filled in and remembered.

Lengths are exact millimetres (`measures.Length`). What a file leaves out is either None here
(unknown, to be worked out by planning) or a default listed in `assumed`.
"""

from __future__ import annotations

from fractions import Fraction
from typing import TypeVar, cast

from drapetemplate.errors import JobError
from drapetemplate.job.contradictions import contradictions
from drapetemplate.job.defaults import (
    BAND_OVER_EYELET,
    BOTTOM_HEM,
    LEADING,
    OFF_FLOOR,
    PAPER_EDGE,
    SEAM,
    SIDE_HEM,
    STACK_EACH,
    WALL_CLEARANCE,
)
from drapetemplate.job.merge import Merged, merge
from drapetemplate.job.model import (
    Assumption,
    Band,
    Cloth,
    Details,
    Eyelet,
    Hung,
    Job,
    Panels,
    Paper,
    Pole,
    Window,
)
from drapetemplate.job.paper import SHEETS
from drapetemplate.job.parse import located, read_file
from drapetemplate.job.tables import BandTable, ClothTable, EyeletTable, JobFile, PoleTable
from drapetemplate.measures import Length, Units, format_length

_T = TypeVar("_T")


def read_job(data: bytes, source: str) -> Job:
    """Read a job file's bytes into a job; `source` only names the file in messages.

    Exact: no length is rounded. Raises JobError with every fault found, each with its key path,
    or with the file and line where the bytes aren't TOML.
    """
    reading = read_file(data, source)
    if reading.file is None:
        raise JobError(reading.faults)
    units = reading.file.units or "in"
    windows = merge(reading.file, reading.unreadable)
    found = JobError([*reading.faults, *contradictions(windows, units)])
    if found.faults:
        raise JobError(located(found, data, source))
    return _job(reading.file, windows, units)


class _Assumed:
    """Collects what is assumed, under the file's own keys, in the units of the file."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self.found: list[Assumption] = []

    def length(self, key: str, given: Length | None, default: Length, why: str = "") -> Length:
        """Return `given`, or the default, noted with what it rests on."""
        return self.value(key, given, default, format_length(default, self.units) + why)

    def value(self, key: str, given: _T | None, default: _T, text: str) -> _T:
        """Return `given`, or the default, noted as `text`."""
        if given is not None:
            return given
        self.found.append(Assumption(key, text))
        return default


def _job(file: JobFile, windows: list[Merged], units: Units) -> Job:
    assumed = _Assumed(units)
    assumed.value("units", file.units, units, units)
    table = file.paper
    size = assumed.value("paper.size", table.size, SHEETS["letter"], "letter")
    details = file.job
    return Job(
        units=units,
        details=Details(
            name=details.name,
            number=details.number,
            client=details.client,
            room=details.room,
            due=details.due,
            notes=details.notes,
        ),
        paper=Paper(
            name=size.name,
            width=size.width,
            height=size.height,
            orientation=table.orientation or "auto",
            margin=assumed.length("paper.margin", table.margin, PAPER_EDGE),
            overlap=assumed.length("paper.overlap", table.overlap, PAPER_EDGE),
            joins=table.joins or "clear",
            view=table.view or "face",
            strips=table.strips or "each",
            style=table.style or "whole",
            letters=table.letters or ("F", "B"),
            printer=table.printer,
        ),
        windows=tuple(_window(merged, n, units) for n, merged in enumerate(windows, 1)),
        assumed=tuple(assumed.found),
    )


def _window(merged: Merged, number: int, units: Units) -> Window:
    assumed = _Assumed(units)
    table = merged.window
    panels: Panels = assumed.value("panels", table.panels, "pair", "pair")
    covers = table.covers
    length = merged.pole.length
    if table.width is None and table.widths is None and covers is None and length is not None:
        half = panels == "pair"
        whole = length / 2 if half else length
        why = ", half of pole.length" if half else ", all of pole.length"
        covers = assumed.length("covers", None, whole, why)
    leading = table.leading
    if panels != "single":
        leading = assumed.length("leading", leading, LEADING)
    eyelet = _eyelet(merged.eyelet, assumed)
    band = _band(merged.band, eyelet, assumed)
    return Window(
        key=merged.key,
        name=table.name or f"Window {number}",
        quantity=table.quantity or 1,
        panels=panels,
        width=table.width,
        covers=covers,
        fullness=table.fullness,
        widths=table.widths,
        length=table.length,
        leading=LEADING if leading is None else leading,
        return_=table.return_,
        count=table.count,
        gap=table.gap,
        stack_each=assumed.length("stack_each", table.stack_each, STACK_EACH),
        eyelet=eyelet,
        band=band,
        pole=_pole(merged.pole, table.length, assumed),
        fabric=_cloth("fabric", merged.fabric, band, assumed),
        lining=_cloth("lining", merged.lining, band, assumed),
        assumed=tuple(assumed.found),
    )


def _eyelet(table: EyeletTable, assumed: _Assumed) -> Eyelet:
    """Fill in an eyelet; `contradictions` has made sure of its outside and opening."""
    outside, opening = cast("Length", table.outside), cast("Length", table.opening)
    hung: Hung = assumed.value("eyelet.hung", table.hung, "pole", "pole")
    thickness = table.thickness
    if hung == "pole":
        missing = "0, not given: turning may be less"
        thickness = assumed.value("eyelet.thickness", thickness, Length(0), missing)
    return Eyelet(
        outside=outside,
        opening=opening,
        hole=assumed.length("eyelet.hole", table.hole, opening, ", the opening"),
        thickness=thickness or Length(0),
        hung=hung,
        weight=table.weight,
        pack=table.pack,
        spares=table.spares or 0,
    )


def _band(table: BandTable, eyelet: Eyelet, assumed: _Assumed) -> Band:
    height = assumed.length("band.height", table.height, eyelet.outside + BAND_OVER_EYELET)
    centred = (height - eyelet.outside) / 2
    return Band(height, assumed.length("band.above", table.above, centred, ", eyelet centred"))


def _pole(table: PoleTable, length: Length | None, assumed: _Assumed) -> Pole:
    """Fill in a pole; its gaps are assumptions only where a figure rests on them."""
    clearance, off_floor = table.wall_clearance, table.off_floor
    if table.projection is not None:
        clearance = assumed.length("pole.wall_clearance", clearance, WALL_CLEARANCE)
    if table.top is not None and length is None:
        off_floor = assumed.length("pole.off_floor", off_floor, OFF_FLOOR)
    return Pole(
        diameter=table.diameter,
        projection=table.projection,
        wall_clearance=WALL_CLEARANCE if clearance is None else clearance,
        top=table.top,
        off_floor=OFF_FLOOR if off_floor is None else off_floor,
        length=table.length,
    )


def _cloth(name: str, table: ClothTable | None, band: Band, assumed: _Assumed) -> Cloth | None:
    if table is None:
        return None
    heading = 2 * band.height
    return Cloth(
        name=table.name,
        width=table.width,
        seam=assumed.length(f"{name}.seam", table.seam, SEAM),
        side_hem=assumed.length(f"{name}.side_hem", table.side_hem, SIDE_HEM),
        heading=assumed.length(f"{name}.heading", table.heading, heading, ", twice the band"),
        bottom_hem=assumed.length(f"{name}.bottom_hem", table.bottom_hem, BOTTOM_HEM),
        repeat_down=table.repeat_down,
        repeat_across=table.repeat_across,
        railroad=table.railroad or False,
        weight=table.weight,
        shrinkage=assumed.value(f"{name}.shrinkage", table.shrinkage, Fraction(0), "0"),
    )
