"""A job file's bytes in, a `Job` out: every key read, every default filled in and remembered.

Lengths are exact millimetres (`measures.Length`). What a file leaves out is either None here
(unknown, to be worked out by planning) or a default listed in `assumed`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, TypeVar, cast

from drapetemplate.errors import JobError
from drapetemplate.job import defaults
from drapetemplate.job.contradictions import contradictions
from drapetemplate.job.defaults import Default
from drapetemplate.job.merge import Merged, merge
from drapetemplate.job.model import (
    Assumption,
    Band,
    Cloth,
    Details,
    Eyelet,
    Job,
    Paper,
    Pole,
    Window,
)
from drapetemplate.job.parse import located, read_file
from drapetemplate.job.tables import (
    BandTable,
    ClothTable,
    EyeletTable,
    FabricTable,
    JobFile,
    LiningTable,
    PoleTable,
)
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
    units = defaults.UNITS.unless_given(reading.file.units)
    windows = merge(reading.file, reading.unreadable)
    error = JobError([*reading.faults, *contradictions(windows, units)])
    if error.faults:
        raise JobError(located(error, data, source))
    return job_of(reading.file, windows)


class _Assumed:
    """Collects what is assumed, under the file's own keys, in the units of the file."""

    def __init__(self, units: Units) -> None:
        self.units = units
        self.all: list[Assumption] = []

    def value(self, default: Default[_T], given: _T | None) -> _T:
        """Return what the file gives, or the default, noted in its own words."""
        default = default.in_units(self.units)
        if given is None:
            self._note(default, default.words)
        return default.unless_given(given)

    def length(self, default: Default[Length], given: Length | None) -> Length:
        """Return the length that the file gives, or the default, noted in the file's units."""
        default = default.in_units(self.units)
        if given is None:
            self._note(default, format_length(default.value, self.units))
        return default.unless_given(given)

    def unlisted(self, default: Default[_T], given: _T | None) -> _T:
        """Return what the file gives, or the default, on which no figure rests."""
        return default.in_units(self.units).unless_given(given)

    def worked_out(self, default: Default[None], given: Length | None, length: Length) -> Length:
        """Return the length that the file gives, or the one worked out, noted with from what."""
        if given is not None:
            return given
        self._note(default, format_length(length, self.units))
        return length

    def _note(self, default: Default[Any], text: str) -> None:
        note = f", {default.note}" if default.note else ""
        self.all.append(Assumption(default.key, f"{text}{note}"))


def job_of(file: JobFile, windows: Iterable[Merged]) -> Job:
    """Return the job of a file's tables with these of its windows, which nothing speaks against.

    Whoever calls has seen to it that `contradictions` finds nothing in them.
    """
    units = defaults.UNITS.unless_given(file.units)
    assumed = _Assumed(units)
    assumed.value(defaults.UNITS, file.units)
    table = file.paper
    size = assumed.value(defaults.SIZE, table.size)
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
            orientation=defaults.ORIENTATION.unless_given(table.orientation),
            margin=assumed.length(defaults.MARGIN, table.margin),
            overlap=assumed.length(defaults.OVERLAP, table.overlap),
            joins=defaults.JOINS.unless_given(table.joins),
            view=defaults.VIEW.unless_given(table.view),
            strips=defaults.STRIPS.unless_given(table.strips),
            style=defaults.STYLE.unless_given(table.style),
            letters=defaults.LETTERS.unless_given(table.letters),
            printer=table.printer,
        ),
        windows=tuple(_window(merged, units) for merged in windows),
        assumed=tuple(assumed.all),
    )


def _window(merged: Merged, units: Units) -> Window:
    assumed = _Assumed(units)
    table = merged.window
    panels = assumed.value(defaults.PANELS, table.panels)
    covers = table.covers
    pole = merged.pole.length
    settled = table.width is not None or table.widths is not None
    # Beside a width a fullness says what is covered, so nothing is left to assume.
    if pole is not None and not (settled and table.fullness is not None):
        if panels == "pair":
            covers = assumed.worked_out(defaults.HALF_THE_POLE, covers, pole / 2)
        else:
            covers = assumed.worked_out(defaults.WHOLE_POLE, covers, pole)
    leading = table.leading
    if panels != "single":
        leading = assumed.length(defaults.LEADING, leading)
    eyelet = _eyelet(merged.eyelet, assumed)
    band = _band(merged.band, eyelet, assumed)
    return Window(
        key=merged.key,
        name=table.name or f"Window {merged.number}",
        quantity=defaults.QUANTITY.unless_given(table.quantity),
        panels=panels,
        width=table.width,
        covers=covers,
        glass=table.glass,
        fullness=table.fullness,
        widths=table.widths,
        length=table.length,
        leading=assumed.unlisted(defaults.LEADING, leading),
        return_=table.return_,
        count=table.count,
        gap=table.gap,
        stack_each=assumed.length(defaults.STACK_EACH, table.stack_each),
        extra_seams=defaults.EXTRA_SEAMS.unless_given(table.extra_seams),
        pattern=defaults.PATTERN.unless_given(table.pattern),
        motif_below=table.motif_below,
        eyelet=eyelet,
        band=band,
        pole=_pole(merged.pole, table.length, assumed),
        fabric=_face(merged.fabric, band, assumed),
        lining=_lining(merged.lining, assumed),
        assumed=tuple(assumed.all),
    )


def _eyelet(table: EyeletTable, assumed: _Assumed) -> Eyelet:
    """Fill in an eyelet; `contradictions` has made sure of its outside and opening."""
    outside, opening = cast("Length", table.outside), cast("Length", table.opening)
    hung = assumed.value(defaults.HUNG, table.hung)
    thickness = table.thickness
    if hung == "pole":
        thickness = assumed.value(defaults.THICKNESS, thickness)
    return Eyelet(
        outside=outside,
        opening=opening,
        hole=assumed.worked_out(defaults.HOLE, table.hole, opening),
        thickness=defaults.THICKNESS.unless_given(thickness),
        hung=hung,
        weight=table.weight,
        pack=table.pack,
        spares=defaults.SPARES.unless_given(table.spares),
    )


def _band(table: BandTable, eyelet: Eyelet, assumed: _Assumed) -> Band:
    height = assumed.worked_out(
        defaults.BAND_HEIGHT,
        table.height,
        eyelet.outside + defaults.BAND_OVER_EYELET.of(assumed.units),
    )
    centred = (height - eyelet.outside) / 2
    above = assumed.worked_out(defaults.BAND_ABOVE, table.above, centred)
    return Band(height, above, table.roll)


def _pole(table: PoleTable, length: Length | None, assumed: _Assumed) -> Pole:
    """Fill in a pole; its gaps are assumptions only where a figure rests on them."""
    clearance, off_floor = table.wall_clearance, table.off_floor
    if table.projection is not None:
        clearance = assumed.length(defaults.WALL_CLEARANCE, clearance)
    if table.top is not None and length is None:
        off_floor = assumed.length(defaults.OFF_FLOOR, off_floor)
    return Pole(
        diameter=table.diameter,
        projection=table.projection,
        wall_clearance=assumed.unlisted(defaults.WALL_CLEARANCE, clearance),
        top=table.top,
        off_floor=assumed.unlisted(defaults.OFF_FLOOR, off_floor),
        length=table.length,
        supports=table.supports,
        span=table.span,
    )


def _face(table: FabricTable | None, band: Band, assumed: _Assumed) -> Cloth | None:
    if table is None:
        return None
    heading = defaults.HEADING_IN_BANDS * band.height
    cloth = _cloth(
        "fabric",
        table,
        assumed,
        seam=assumed.length(defaults.SEAM, table.seam),
        side_hem=assumed.length(defaults.SIDE_HEM, table.side_hem),
        heading=assumed.worked_out(defaults.HEADING, table.heading, heading),
        bottom_hem=assumed.length(defaults.BOTTOM_HEM, table.bottom_hem),
    )
    mirrored = defaults.MIRRORED.unless_given(table.mirrored)
    return replace(cloth, motif=table.motif, mirrored=mirrored, motif_down=table.motif_down)


def _lining(table: LiningTable | None, assumed: _Assumed) -> Cloth | None:
    """Fill in a lining: what it leaves out rests on how it is joined to the face."""
    if table is None:
        return None
    joined = assumed.value(defaults.JOINED, table.joined)
    seam = assumed.length(defaults.SEAM.of("lining"), table.seam)
    heading = assumed.length(defaults.LINING_HEADING, table.heading)
    if joined == "bagged":
        side_hem = assumed.worked_out(defaults.BAGGED_SIDE_HEM, table.side_hem, seam)
        bottom_hem = assumed.worked_out(defaults.BAGGED_BOTTOM_HEM, table.bottom_hem, seam)
        set_in = assumed.length(defaults.BAGGED_SET_IN, table.set_in)
        short = assumed.length(defaults.BAGGED_SHORT, table.short)
    else:
        side_hem = assumed.length(defaults.LINING_SIDE_HEM, table.side_hem)
        bottom_hem = assumed.length(defaults.LINING_BOTTOM_HEM, table.bottom_hem)
        set_in = assumed.length(defaults.SET_IN, table.set_in)
        short = assumed.length(defaults.SHORT, table.short)
    cloth = _cloth(
        "lining",
        table,
        assumed,
        seam=seam,
        side_hem=side_hem,
        heading=heading,
        bottom_hem=bottom_hem,
    )
    return replace(cloth, joined=joined, set_in=set_in, short=short)


def _cloth(
    name: str,
    table: ClothTable,
    assumed: _Assumed,
    *,
    seam: Length,
    side_hem: Length,
    heading: Length,
    bottom_hem: Length,
) -> Cloth:
    """Fill in what face and lining leave out alike."""
    return Cloth(
        name=table.name,
        width=table.width,
        seam=seam,
        side_hem=side_hem,
        heading=heading,
        bottom_hem=bottom_hem,
        repeat_down=table.repeat_down,
        repeat_across=table.repeat_across,
        railroad=defaults.RAILROAD.unless_given(table.railroad),
        weight=table.weight,
        shrinkage=assumed.value(defaults.SHRINKAGE.of(name), table.shrinkage),
        allowance=assumed.length(defaults.ALLOWANCE.of(name), table.allowance),
    )
