"""A template and paper in, the sheets that carry it out: one scale, 1:1, whatever the paper.

A strip falls into parts (`tiling`). Neighbours show the same overlap, centred on their join, with
registration marks at the same points of the strip. The page is always upright; a strip that runs
along the paper's long side is drawn turned a quarter, since print pipelines scale what is mixed
or rotated.

Frames: the strip's (`template`), the sheet's as it is read (`furniture`), and the page's:
millimetres from the upright page's lower left corner. All are exact until a backend draws. A roll's
sheet is drawn where it lies on its page, as it is read there.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from drapetemplate import drawing
from drapetemplate.drawing import lettering
from drapetemplate.drawing.clip import Area, clipped, in_floats, nudged, within
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Anchor, Line, Mark, Polygon, Text
from drapetemplate.drawing.roles import LETTERS, Role
from drapetemplate.job.model import Job
from drapetemplate.measures import Length
from drapetemplate.sheets import furniture
from drapetemplate.sheets.furniture import Frame
from drapetemplate.sheets.join_words import crossed_words, join_name, name_room
from drapetemplate.sheets.joins import Clear, clearances, shown_by_sheets
from drapetemplate.sheets.laid_paper import LaidPaper
from drapetemplate.sheets.tiling import LANE_GAP, RollPlace, Tiling
from drapetemplate.template.strip import EDGE_ZONE, Strip, Template
from drapetemplate.wording import Wording

# A part narrower than this between its laps has no room for a join's name.
LEAST_WORDS = 6
LANE_SIZE, OWNER_SIZE, JOIN_SIZE = 5.0, 3.1, 3.1
TOP_SIZE = 3.6
TOP_FORMS = ("↑ TOP", "↑")  # of the band, as much as there is room for
LAP_SIZE = 3.1  # mm of the letters of what to do at a join; on the least paper alone smaller


@dataclass(frozen=True, slots=True)
class StripPart:
    """What one sheet, or one lane of it, shows of the strip.

    `label` is its name, `column` and `row` count from 0, `shown` is in the strip's frame; `marks`
    are its own, on the page.
    """

    label: str
    column: int
    row: int
    shown: Area
    marks: tuple[Mark, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet: its number, the parts it carries, one a lane, and all its marks.

    On cut paper they are its whole page; a roll's page has several sheets, and the bars beside.
    `shared` are the last of its marks, where all sheets of the strip end with the same.
    """

    number: int
    parts: tuple[StripPart, ...]
    marks: tuple[Mark, ...]
    shared: tuple[Mark, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetSet:
    """The sheets of one strip."""

    template: Template
    paper: LaidPaper
    tiling: Tiling
    sheets: tuple[Sheet, ...]


def sheet_set(
    template: Template, job: Job, paper: LaidPaper, tiling: Tiling, typeface: Typeface
) -> SheetSet:
    """Every sheet of a job's template, each with its page as it will be drawn, by its `tiling`."""
    sheets = tuple(_Sheets(template, job, paper, tiling, typeface))
    return SheetSet(template, paper, tiling, sheets)


def clear_laps(strip: Strip, tiling: Tiling, paper: LaidPaper) -> tuple[Clear, ...]:
    """What the lap of each join along a strip is clear of, in order."""
    rings = sorted((ring.x, ring.outside, ring.hole) for ring in strip.rings)
    return clearances(tiling.joins, paper.overlap, rings)


def clear_row_laps(strip: Strip, tiling: Tiling, paper: LaidPaper) -> tuple[Clear, ...]:
    """What the laps between rows are clear of, from the top: the first is of rows 1 and 2."""
    ring = strip.rings[0]
    places = [(ring.y, ring.outside, ring.hole)]
    return clearances(tiling.row_joins, paper.overlap, places)[::-1]


class _Sheets:
    """The drawing of all sheets of one strip."""

    def __init__(
        self, template: Template, job: Job, paper: LaidPaper, tiling: Tiling, typeface: Typeface
    ) -> None:
        self.template, self.job, self.paper = template, job, paper
        self.tiling, self.typeface = tiling, typeface
        self.columns = shown_by_sheets(tiling.columns, tiling.joins)
        self.lefts = [left for left, _ in self.columns]
        self.ring_centers = sorted(ring.x for ring in template.strip.rings)
        self.holes_named = any(mark.role == Role.HOLE_WORDS for mark in template.marks)
        self.clear = clear_laps(template.strip, tiling, paper)
        self.row_clear = clear_row_laps(template.strip, tiling, paper)
        # Rows are numbered from the top, as they lie on the table.
        self.rows = shown_by_sheets(tiling.levels, tiling.row_joins)[::-1]

    def __iter__(self) -> Iterator[Sheet]:
        by_cell = self._marks_by_cell()
        furnished = self._furnished()
        shared = furnished if self.tiling.count > 1 else ()
        lanes, across = self.tiling.lanes, self.tiling.across
        for row in range(len(self.rows)):
            for first in range(0, across, lanes):
                columns = range(first, min(first + lanes, across))
                parts = [self._part(row, column, by_cell[row, column]) for column in columns]
                number = row * -(-across // lanes) + first // lanes + 1
                frame = self._frame(row, first)
                marks = [*self._heading(number, row, columns)]
                shown = [part.shown for part in parts]
                marks += furniture.map_parts(frame, self.template.strip, shown)
                if not furnished:
                    marks += self._map(frame)
                if len(parts) > 1:
                    lanes_apart = [self._lane(row, first + n) for n, _ in enumerate(parts)]
                    marks += furniture.lane_cuts(frame, lanes_apart)
                own = [mark for part in parts for mark in part.marks]
                placed = (self._on_page(mark, row, first) for mark in marks)
                yield Sheet(number, tuple(parts), (*own, *placed, *furnished), shared)

    def _furnished(self) -> tuple[Mark, ...]:
        """What every sheet of cut paper has at the same place: the bars and the strip's map.

        Sheets of a roll lie at many places on its pages, which have the bars once, where none is.
        """
        if self.tiling.places:
            return ()
        frame = self.tiling.frame
        marks = (*furniture.bars(frame, self.typeface), *self._map(frame))
        return tuple(self._on_page(mark, 0, 0) for mark in marks)

    def _map(self, frame: Frame) -> Iterator[Mark]:
        return furniture.strip_map(frame, self.template.strip, self.tiling.joins)

    def _place(self, row: int, column: int) -> RollPlace | None:
        """Where the sheet with a part is cut from a roll; None on cut paper."""
        places = self.tiling.places
        return places[row * self.tiling.across + column] if places else None

    def _frame(self, row: int, column: int) -> Frame:
        """The zones of the sheet with a part."""
        place = self._place(row, column)
        return self.tiling.frame if place is None else place.frame

    def _on_page(
        self,
        mark: Mark,
        row: int,
        column: int,
        dx: Length = Fraction(0),
        dy: Length = Fraction(0),
    ) -> Mark:
        """A mark of the sheet with a part, as it is read, `dx` and `dy` on, on the upright page."""
        place = self._place(row, column)
        if place is not None:
            dx, dy = dx + place.left, dy + place.low
        if self.tiling.orientation == "landscape":
            return drawing.turned(mark, self.tiling.frame.across - dy, dx)
        return drawing.moved(mark, dx, dy)

    def _area(self, row: int, column: int) -> Area:
        """What a part shows, in the strip's frame."""
        (left, right), (bottom, top) = self.columns[column], self.rows[row]
        return left, bottom, right, top

    def _part(self, row: int, column: int, own: Sequence[Mark]) -> StripPart:
        """One part with its `own` marks, its lap lines and words, where it lies on its sheet."""
        shown = self._area(row, column)
        dx = self._frame(row, column).margin - shown[0]
        dy = self._lane(row, column)[0] - shown[1]
        marks = [*self._covered(column, shown), *own, *self._lap(row, column, shown)]
        marks += self._top(row, column, shown)
        if self.tiling.lanes > 1:
            marks += self._lane_name(row, column, shown)
        placed = (self._on_page(mark, row, column, dx, dy) for mark in marks)
        return StripPart(self.tiling.label(row, column), column, row, shown, tuple(placed))

    def _lane(self, row: int, column: int) -> tuple[Length, Length]:
        """Lower and upper end of a part's lane on its sheet: all together stand in the middle."""
        bottom, top = self.rows[row]
        height, lanes = top - bottom, self.tiling.lanes
        frame, spare = self._frame(row, column), Fraction(0)
        if len(self.rows) == 1:
            spare = self._free(row, frame) - self._heading_more(row, frame)
        under = lanes - 1 - column % lanes
        low = frame.strip_bottom + spare / 2 + under * (height + LANE_GAP)
        return low, low + height

    def _free(self, row: int, frame: Frame) -> Length:
        """The height of a sheet that its part of the strip, or its lanes, leave free."""
        (bottom, top), lanes = self.rows[row], self.tiling.lanes
        return frame.strip_height - lanes * (top - bottom) - (lanes - 1) * LANE_GAP

    def _heading_more(self, row: int, frame: Frame) -> Length:
        """How much of that the heading takes."""
        return min(self._free(row, frame), furniture.HEADING_MORE)

    def _marks_by_cell(self) -> dict[tuple[int, int], list[Mark]]:
        """For each (row, column) the parts of the strip's marks on it; text is whole somewhere."""
        cells: dict[tuple[int, int], list[Mark]] = {
            (r, c): [] for r in range(len(self.rows)) for c in range(len(self.columns))
        }
        # Nearly every mark lies whole on a sheet or two, which floats tell; where one is cut is
        # found exactly.
        areas = {(row, column): self._area(row, column) for row, column in cells}
        boxes = {cell: in_floats(area) for cell, area in areas.items()}
        lefts, rights = ([boxes[0, c][side] for c in range(len(self.columns))] for side in (0, 2))
        for mark in (*map(self._off_landing, self.template.marks), *self._registration()):
            left, bottom, right, top = box = drawing.box(mark)
            first = min(bisect_left(rights, left), len(rights) - 1)
            last = max(bisect_right(lefts, right) - 1, first)
            near = [
                (row, column)
                for row in range(len(self.rows))
                if boxes[row, 0][1] <= top and bottom <= boxes[row, 0][3]
                for column in range(first, last + 1)
            ]
            drawn = False
            for cell in near:
                parts = [mark] if within(box, boxes[cell]) else list(clipped(mark, areas[cell]))
                cells[cell] += parts
                drawn = drawn or bool(parts)
            # Words in a hole that no sheet shows whole would say of another place that it is cut.
            if not drawn and isinstance(mark, Text) and mark.role != Role.HOLE_WORDS:
                cell, moved = nudged(mark, {cell: boxes[cell] for cell in near})
                cells[cell].append(moved)
        return cells

    def _off_landing(self, mark: Mark) -> Mark:
        """A letter that a landing line would cross, moved into the lap, which holds no flange.

        The next sheet is taped over up to that line, and would hide the letter's other half.
        """
        if self.tiling.clear != "outside" or mark.role not in LETTERS.values():
            return mark
        left, _, right, _ = drawing.box(mark)
        at = bisect_right(self.lefts, left)
        if at == len(self.lefts) or right <= self.lefts[at]:
            return mark
        return drawing.moved(mark, self.lefts[at] + Fraction(1, 2) - Fraction(left), Fraction(0))

    def _registration(self) -> Iterator[Mark]:
        """Marks on each join's centre line, above and below the band, and where rows join."""
        tiling = self.tiling
        above, below = tiling.levels.end - EDGE_ZONE / 2, tiling.levels.start + EDGE_ZONE / 2
        for x in tiling.joins:
            for y in (above, below, *tiling.row_joins):
                yield from furniture.registration(x, y)
        inset = Fraction(10)
        for y in tiling.row_joins:
            for x in (tiling.columns.start + inset, tiling.columns.end - inset):
                yield from furniture.registration(x, y)

    def _heading(self, number: int, row: int, columns: range) -> Iterator[Mark]:
        template, details, factors = self.template, self.job.details, self.paper.factors
        facts = []
        if template.quantity > 1:
            strip_words = "tape 1 strip" if self.tiling.count > 1 else "1 strip"
            facts.append(f"{strip_words}, mark {template.panels} panels")
        if self.tiling.lanes > 1:
            facts.append(self._lanes(row, columns))
        else:
            neighbours = self._neighbours(row, columns[0])
            noun = "sheet" if len(neighbours) == 1 else "sheets"
            facts += [f"{noun} {', '.join(neighbours)}"] if neighbours else []
        facts += self._crossed(row, columns)
        if len(template.sides) == 2 and self.tiling.count == 1:
            # A strip of several sheets has an assembly page, which says it at length.
            first, second = (side.upper() for side in template.sides)
            facts.append(f"{first} above the eyelets, {second} below them from the other end")
            facts.append("never turned over")
        if number == self.tiling.count:
            facts.append(f"check the taped strip: {template.closing}")
        job = details.name
        if details.number is not None:
            job = f"{details.number}{furniture.BETWEEN}{job}"
        name = template.sheet_name(str(number))
        title = [f"Sheet {name} of {self.tiling.count}", template.panel_large]
        title.append(template.seen.upper())
        if not all(self._top_form(row, column) for column in columns):
            title.append(TOP_FORMS[0])
        words = furniture.HeadingWords(
            title=tuple(title),
            printer="" if factors is None else f"printer {factors.words}",
            job=job,
            window=template.window,
            facts=tuple(facts),
            spare=tuple(self._circles(row, columns)),
        )
        frame = self._frame(row, columns[0])
        height = furniture.HEADING + self._heading_more(row, frame)
        return furniture.heading(frame, self.typeface, words, height)

    def _crossed(self, row: int, columns: range) -> Iterator[str]:
        """What this sheet's laps cut of its eyelets, and what they cross that no join's name says.

        Names stand above the band alone, so that those of lower rows' laps are said here.
        """
        ring = self.template.strip.rings[0]
        if not self._shows(ring.outside, row, columns):
            return
        hole = self._shows(ring.hole, row, columns)
        crossed: dict[str, list[str]] = {}
        beside = {join for column in columns for join in (column - 1, column)}
        for join in sorted(join for join in beside if 0 <= join < len(self.clear)):
            words = crossed_words(self.clear[join], hole=hole)
            named = row == 0 and all(
                self._names_joins(row, column) for column in (join, join + 1) if column in columns
            )
            if "cut" in words or (words and not named):
                crossed.setdefault(words, []).append(self.template.join_name(join + 1))
        for upper in (upper for upper in (row - 1, row) if 0 <= upper < len(self.row_clear)):
            words = crossed_words(self.row_clear[upper], hole=hole)
            if words:
                crossed.setdefault(words, []).append(f"rows {upper + 1} and {upper + 2}")
        for words, where in crossed.items():
            yield f"{', '.join(where)}:{words}"

    def _shows(self, across: Length, row: int, columns: range) -> bool:
        """True where some of the eyelets' circles, so far across, lie on this sheet."""
        low, high = self.rows[row]
        left, right = self.columns[columns[0]][0], self.columns[columns[-1]][1]
        y, centers, r = self.template.strip.rings[0].y, self.ring_centers, across / 2
        # All circles are alike: the first that reaches past the sheet's left end tells of all.
        next_one = bisect_right(centers, left - r)
        beside = next_one < len(centers) and centers[next_one] < right + r
        return beside and low < y + r and y - r < high

    def _circles(self, row: int, columns: range) -> Iterator[str]:
        """What an eyelet's circles are, of which only the hole has room for words of its own."""
        ring, say = self.template.strip.rings[0], Wording(self.job.units)
        if not self._shows(ring.outside, row, columns):
            return
        if not self.holes_named:
            yield f"heavy circle: the hole, {say(ring.hole)}"
        yield f"thin circle: the ring's edge, {say(ring.outside)}"

    def _lanes(self, row: int, columns: range) -> str:
        """The lanes that a sheet is cut apart into; its only one by its name."""
        first, last = (self._name(row, columns[n]) for n in (0, -1))
        if len(columns) == 1:
            return first
        return f"cut apart into {first} {'and' if len(columns) == 2 else 'to'} {last}"

    def _name(self, row: int, column: int) -> str:
        return self.template.sheet_name(self.tiling.label(row, column))

    def _top_form(self, row: int, column: int) -> str:
        """What is said of the band's top above it: "" where that isn't on the sheet or has no room.

        The heading says it then.
        """
        if row > 0:
            return ""
        (left, right), (bottom, top) = self.columns[column], self.rows[row]
        start, end, beside = self._lane_room(row, column, (left, bottom, right, top))
        room = float(end - start)
        if self.tiling.lanes > 1:
            room -= self.typeface.width(self._name(row, column), LANE_SIZE, bold=True) + 3
        elif not beside:
            return ""
        return next(
            (f for f in TOP_FORMS if self.typeface.width(f, TOP_SIZE, bold=True) <= room), ""
        )

    def _top(self, row: int, column: int, shown: Area) -> Iterator[Mark]:
        """Which side of the band is its top, above it, between the joins' names."""
        form = self._top_form(row, column)
        if not form:
            return
        left, right, _ = self._lane_room(row, column, shown)
        width = Fraction(self.typeface.width(form, TOP_SIZE, bold=True))
        x = left if self.tiling.lanes > 1 else (left + right - width) / 2
        y = shown[3] - Fraction(9, 2)
        yield drawing.text(self.typeface, x, y, form, TOP_SIZE, Role.BAND_TOP, bold=True)

    def _lane_name(self, row: int, column: int, shown: Area) -> Iterator[Mark]:
        """A lane's label, large, between the joins' names above its band, and whose strip it is.

        Lanes that are cut apart leave the sheet's heading behind.
        """
        left, right, _ = self._lane_room(row, column, shown)
        top = self._top_form(row, column)
        if top:
            left += Fraction(self.typeface.width(top, TOP_SIZE, bold=True)) + 3
        x, y = (left + right) / 2, shown[3] - Fraction(9, 2)
        label = self._name(row, column)
        name = drawing.text(
            self.typeface,
            x,
            y,
            label,
            LANE_SIZE,
            Role.LANE_NAME,
            anchor="middle",
            bold=True,
            most=float(right - left),
        )
        if name.text != label:
            return
        yield name
        after = float(x) + name.width / 2 + 2
        words = self._owner(float(right) - after)
        if words:
            yield drawing.text(self.typeface, after, y, words, OWNER_SIZE, Role.LANE_OWNER)

    def _lane_room(self, row: int, column: int, shown: Area) -> tuple[Length, Length, bool]:
        """From where to where a lane's label may stand, and whether joins' names stand beside it.

        On a narrow part they give way to it.
        """
        first, last = column == 0, column == self.tiling.across - 1
        overlap = self.paper.overlap
        left = shown[0] + (0 if first else overlap / 2 + 4)
        right = shown[2] - (0 if last else overlap + 2)
        names = (
            0 if first else name_room(self.clear[column - 1]),
            0 if last else name_room(self.clear[column]),
        )
        label = self._name(row, column)
        if self.typeface.width(label, LANE_SIZE, bold=True) < right - left - sum(names):
            return left + names[0], right - names[1], True
        return left, right, False

    def _names_joins(self, row: int, column: int) -> bool:
        """Whether a part has its joins' names above its band: only a narrow lane hasn't."""
        (left, right), (bottom, top) = self.columns[column], self.rows[row]
        return self.tiling.lanes == 1 or self._lane_room(row, column, (left, bottom, right, top))[2]

    def _owner(self, room: float) -> str:
        """The panel, and its window as far as `room` mm go; nothing where the panel has none."""
        face, panel = self.typeface, self.template.panel
        window = furniture.measured_name(face, self.template.window)
        rest = room - face.width(f", {panel}", OWNER_SIZE)
        shown = lettering.name_cut_short(face, window, OWNER_SIZE, rest)
        if len(shown) >= min(len(window), furniture.LEAST_OF_NAME):
            return f"{shown}, {panel}"
        return panel if face.width(panel, OWNER_SIZE) <= room else ""

    def _neighbours(self, row: int, column: int) -> list[str]:
        across, down = len(self.columns), len(self.rows)
        number = row * across + column + 1
        neighbours = []
        if column > 0:
            neighbours.append((number - 1, "left"))
        if column < across - 1:
            neighbours.append((number + 1, "right"))
        if row > 0:
            neighbours.append((number - across, "above"))
        if row < down - 1:
            neighbours.append((number + across, "below"))
        return [f"{self.template.sheet_name(str(n))} ({where})" for n, where in neighbours]

    def _covered(self, column: int, shown: Area) -> Iterator[Mark]:
        """Grey beside the band where the next sheet will lie on top; a wedge at the cut line.

        A wedge also shows where the cut edge lands. Both only where registration marks leave room.
        """
        left, bottom, right, top = shown
        overlap, height = self.paper.overlap, self.template.strip.height
        zones = [(bottom, Fraction(0))] if bottom < 0 else []
        zones += [(height, top)] if top > height else []
        room = furniture.has_wedges(overlap)
        for low, high in zones:
            if column < len(self.columns) - 1:
                x = right - overlap
                box = ((x, low), (right, low), (right, high), (x, high))
                yield Polygon(box, None, furniture.COVERED_GREY, Role.COVERED)
                if room:
                    yield furniture.wedge(x, (low + high) / 2, Role.LAND_WEDGE)
            if column > 0 and room:
                yield furniture.wedge(left, (low + high) / 2, Role.CUT_WEDGE)

    def _lap(self, row: int, column: int, shown: Area) -> Iterator[Mark]:
        """In the strip's frame: where to cut, where the next sheet lands, and the joins' names."""
        left, bottom, right, top = shown
        overlap = self.paper.overlap
        noun = "sheet" if self.tiling.lanes == 1 else "part"
        cut: tuple[str, ...] = ()
        land: tuple[str, ...] = ()
        if column > 0:
            before = self._name(row, column - 1)
            cut = (
                f"cut on the solid line, lay over {noun} {before}",
                f"lay over {noun} {before}",
                f"over {before}",
            )
        if column < len(self.columns) - 1:
            after = self._name(row, column + 1)
            land = (
                f"{noun} {after} goes on top, up to the long-dashed line",
                f"{noun} {after} goes on top",
                f"{after} on top",
            )
        if cut:
            yield Line(left, bottom, left, top, furniture.CUT_PEN, Role.CUT_LINE)
            x = left + overlap / 2 + 4
            yield from self._join_words(row, shown, x, column, cut, land, "start")
        if land:
            x = right - overlap
            yield Line(x, bottom, x, top, furniture.LAND_PEN, Role.LANDING_LINE)
            x -= Fraction(3, 2)
            yield from self._join_words(row, shown, x, column + 1, land, cut, "end")
        if row > 0:
            yield Line(left, top, right, top, furniture.CUT_PEN, Role.CUT_LINE)
        if row < len(self.rows) - 1:
            y = bottom + overlap
            yield Line(left, y, right, y, furniture.LAND_PEN, Role.LANDING_LINE)

    def _join_words(
        self,
        row: int,
        shown: Area,
        x: Length,
        join: int,
        forms: Sequence[str],
        others: Sequence[str],
        anchor: Anchor,
    ) -> Iterator[Mark]:
        """A join's name above the band and what to do below it, beside the registration marks.

        What to do has `forms`, of which the first that can be read takes the place; at the other
        end of the part stands one of `others`, where it has any.
        """
        left, bottom, right, top = shown
        overlap, edge = self.paper.overlap, Fraction(1, 2)
        before, after = left > self.columns[0][0], right < self.columns[-1][1]
        taken = (overlap / 2 + 4 if before else edge) + (overlap + 3 * edge if after else edge)
        room = float(right - left - taken - 1)
        most = room / (before + after)
        if most < LEAST_WORDS:
            return
        if row == 0 and self._names_joins(row, join if anchor == "start" else join - 1):
            yield drawing.text(
                self.typeface,
                x,
                top - 4,
                join_name(
                    self.template.join_name(join), self.clear[join - 1], at_left=anchor == "start"
                ),
                JOIN_SIZE,
                Role.JOIN_NAME,
                anchor=anchor,
                bold=True,
                most=most,
            )
        if row == len(self.rows) - 1:
            own, rest = (self.typeface.width(f[-1], LAP_SIZE) if f else 0 for f in (forms, others))
            if others and max(own, rest) > most:
                # Too little for the shortest of one end in its half: that of the other has less.
                forms, most = forms[-1:], max(most, room - rest)
            fitting = (f for f in forms if self.typeface.width(f, LAP_SIZE) <= most)
            words = next(fitting, forms[-1])
            yield drawing.text(
                self.typeface,
                x,
                bottom + 2,
                words,
                LAP_SIZE,
                Role.LAP_WORDS,
                anchor=anchor,
                most=most,
            )
