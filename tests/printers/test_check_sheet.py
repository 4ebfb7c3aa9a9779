"""The check sheet's figure, and the factors from its readings."""

from __future__ import annotations

from fractions import Fraction
from io import BytesIO
from itertools import combinations

import pdfplumber
import pytest

from drapetemplate import drawing
from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Line, Polygon, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import FileError
from drapetemplate.job.factors import Factors
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.measures import INCH
from drapetemplate.printers import check_sheet
from drapetemplate.printers.measured_factors import long_bar, measured_factors
from drapetemplate.render.backend import render
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface

MARGIN = 12.7
SIZES = ["letter", "legal", "a4", "tabloid", "a3", "13 x 19 in", "148 x 210 mm", "150 x 150 mm"]


def sheet(size: str) -> Document:
    """The check sheet for a paper."""
    return check_sheet.check_sheet(check_sheet.read_size(size), typeface())


def lines(made: Document, role: Role) -> list[Line]:
    """The lines of a role on its first page."""
    return [m for m in made.pages[0].marks if isinstance(m, Line) and m.role == role]


def texts(made: Document, role: Role) -> list[str]:
    """The texts of a role, on all its pages."""
    return [m.text for p in made.pages for m in p.marks if isinstance(m, Text) and m.role == role]


@pytest.mark.parametrize("size", SIZES)
def test_bars(size: str) -> None:
    """A long bar and a 4 in bar run each way, with long ticks on both ends of each."""
    made = sheet(size)
    long = 100 if "mm" in size else 150
    for way, length, bar_role, tick_role in (
        ("across", Fraction(long), Role.BAR_ACROSS_LONG, Role.TICK_ACROSS_LONG),
        ("across", 4 * INCH, Role.BAR_ACROSS_IN, Role.TICK_ACROSS_IN),
        ("down", Fraction(long), Role.BAR_DOWN_LONG, Role.TICK_DOWN_LONG),
        ("down", 4 * INCH, Role.BAR_DOWN_IN, Role.TICK_DOWN_IN),
    ):
        [bar] = lines(made, bar_role)
        run = (bar.x2 - bar.x1, bar.y2 - bar.y1)
        assert run == ((length, 0) if way == "across" else (0, length))
        ticks = lines(made, tick_role)
        # Each from the bar's beginning along it, and how far it stands out.
        found = [
            (t.x1 - bar.x1, t.y2 - t.y1) if way == "across" else (t.y1 - bar.y1, t.x2 - t.x1)
            for t in ticks
        ]
        step = Fraction(10) if length == long else INCH / 2
        assert found == [
            (n * step, 4 if n * step in (0, length) else 2) for n in range(int(length / step) + 1)
        ]


def test_long_bars_stand_out() -> None:
    """The bars to measure are the heavy ones, and their ticks are fine."""
    made = sheet("letter")
    pens = {m.role: m.pen.width for m in made.pages[0].marks if isinstance(m, Line)}
    heavy = {role for role, width in pens.items() if width > 0.5}
    assert heavy == {Role.BAR_ACROSS_LONG, Role.BAR_DOWN_LONG}


@pytest.mark.parametrize(("size", "long"), [("letter", 150), ("148 x 210 mm", 100)])
def test_each_bar_has_its_words(size: str, long: int) -> None:
    """Beside each bar stands which it is, and a line to write its reading on, on one line."""
    marks = sheet(size).pages[0].marks
    labels = [m for m in marks if isinstance(m, Text) and m.role == Role.BAR_LABEL]
    assert [(m.text, m.angle) for m in labels] == [
        (f"ACROSS: {long} mm, reads", 0),
        ("4 in", 0),
        (f"DOWN: {long} mm, reads", 90),
        ("4 in", 90),
    ]
    bars = (Role.BAR_ACROSS_LONG, Role.BAR_ACROSS_IN, Role.BAR_DOWN_LONG, Role.BAR_DOWN_IN)
    for words, role in zip(labels, bars, strict=True):
        [bar] = lines(sheet(size), role)
        left, low, right, high = map(float, drawing.box(words))
        # Less than 5 mm from its own bar, and beside its length.
        if words.angle:
            assert 0 < left - float(bar.x1) < 5
            assert float(bar.y1) < low < high < float(bar.y2)
        else:
            assert 0 < low - float(bar.y1) < 5
            assert float(bar.x1) < left < right < float(bar.x2)
    across, down = lines(sheet(size), Role.BLANK)
    assert (across.x2 - across.x1, down.y2 - down.y1) == (30, 30)
    assert across.y1 == labels[0].y
    assert 0 < float(across.x1) - float(drawing.box(labels[0])[2]) < 5
    assert 0 < float(down.y1) - float(drawing.box(labels[2])[3]) < 5


@pytest.mark.parametrize("size", SIZES)
def test_square(size: str) -> None:
    """The square is 100 mm each way, and both diagonals run from corner to corner: 141.4 mm."""
    made = sheet(size)
    [square] = [m for m in made.pages[0].marks if isinstance(m, Polygon)]
    xs, ys = zip(*square.points, strict=True)
    assert [max(xs) - min(xs), max(ys) - min(ys), len(square.points)] == [100, 100, 4]
    ends = {frozenset({(d.x1, d.y1), (d.x2, d.y2)}) for d in lines(made, Role.DIAGONAL)}
    assert ends == {frozenset(square.points[::2]), frozenset(square.points[1::2])}
    assert f"both diagonals {2**0.5 * 100:.1f} mm" in texts(made, Role.SQUARE_LABEL)


@pytest.mark.parametrize("size", SIZES)
def test_inside_margins(size: str) -> None:
    """Nothing is outside the margins, but for half a pen."""
    made = sheet(size)
    for page in made.pages:
        for mark in page.marks:
            left, bottom, right, top = drawing.box(mark)
            assert min(left, bottom) >= MARGIN - 0.35
            assert right <= float(made.width) - MARGIN + 0.35
            assert top <= float(made.height) - MARGIN + 0.35


def apart(one: drawing.Mark, other: drawing.Mark) -> bool:
    """True where two marks' boxes don't meet."""
    a, b = drawing.box(one), drawing.box(other)
    return a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("size", SIZES)
def test_nothing_over_anything(size: str) -> None:
    """No text lies over another or over a line, but for those inside the square."""
    for page in sheet(size).pages:
        words = [m for m in page.marks if isinstance(m, Text)]
        for one, other in combinations(words, 2):
            assert apart(one, other), (one.text, other.text)
        drawn = [m for m in page.marks if isinstance(m, Line) and m.role != Role.DIAGONAL]
        for one in words:
            for line in drawn:
                assert apart(one, line), (one.text, line.role)


@pytest.mark.parametrize("size", SIZES)
def test_one_page(size: str) -> None:
    """All instructions fit above the figure, in letters to be read, but on the very smallest.

    There they have a page of their own, and the figure's says so.
    """
    made = sheet(size)
    alone = size == "150 x 150 mm"
    assert len(made.pages) == (2 if alone else 1)
    where = [m.role for m in made.pages[-1].marks]
    assert where.count(Role.STEP) >= 5
    assert [any(m.role == Role.TITLE for m in page.marks) for page in made.pages] == (
        [True, True] if alone else [True]
    )
    sizes = [m.size for m in made.pages[-1].marks if isinstance(m, Text) and m.role == Role.STEP]
    if size in {"letter", "a4"}:
        assert min(sizes) > 3.5


def test_instructions() -> None:
    """The sheet says how to print, what to measure and how finely, and what to type."""
    steps = " ".join(texts(sheet("a4"), Role.STEP))
    for words in (
        "actual size: 100 %, no “fit”, no “shrink”",
        "end tick to end tick (150 mm is true), to 0.25 mm or 1/64 in",
        "If they differ by 1 mm or more, the paper runs askew",
    ):
        assert words in steps
    assert texts(sheet("a4"), Role.COMMAND) == [
        'drapetemplate calibrate --paper a4 --across 149.6 --down 150.2 --save "workroom laser"'
    ]


@pytest.mark.parametrize("size", ["letter", "148 x 210 mm"])
def test_inches_of_the_example(size: str) -> None:
    """The reading in inches that the sheet shows is one its own long bars could give."""
    paper = check_sheet.read_size(size)
    [said] = [words for words in texts(sheet(size), Role.TEXT) if words.startswith("Inches go")]
    inches = said.split('"')[1]
    off = 1 / measured_factors(paper, inches, inches, "a").across - 1
    # To 1/64 in, a printer that is off by no more than the half per cent that most are.
    assert 0 < abs(off) < Fraction(5, 1000)


@pytest.mark.parametrize(
    ("size", "reads"), [("letter", "135 141 144 145.5"), ("148 x 210 mm", "90 94 96 97")]
)
def test_scaled_readings(size: str, reads: str) -> None:
    """What a scaled print reads is told in this sheet's own millimetres."""
    said = " ".join(texts(sheet(size), Role.TEXT))
    a4, fit, shrunk, least = reads.split()
    assert f"of about {a4} mm: an A4 file was sent to letter paper" in said
    assert f"About {fit} mm: “fit to page” was on" in said
    assert f"{shrunk} to {least} mm: the viewer shrank" in said


def test_printed_size() -> None:
    """In the PDF, by pdfplumber, the bars have their length, and the page is the paper's."""
    made = sheet("a4")
    with pdfplumber.open(BytesIO(render(made, PdfBackend(made.title)))) as pdf:
        [page] = pdf.pages
        unit = 25.4 / 72
        assert pytest.approx((210, 297), abs=1e-3) == (page.width * unit, page.height * unit)
        heavy = [line for line in page.lines if line["linewidth"] * unit > 0.5]
        runs = sorted((line["width"] * unit, line["height"] * unit) for line in heavy)
    assert [pytest.approx((0, 150)), pytest.approx((150, 0))] == runs


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("letterr", "did you mean letter?"),
        ("24 in roll", 'a check sheet is one sheet: for a roll name what is cut off it, as in "24'),
        ("8.5 x 11", "too small for a check sheet, 147.5 mm each way: write the unit with a size"),
        ("147.4 x 300 mm", "too small for a check sheet"),
        ("", "is not a paper size"),
    ],
)
def test_size_refused(text: str, why: str) -> None:
    """Paper that can carry no check sheet is one line under its option."""
    with pytest.raises(FileError) as refused:
        check_sheet.read_size(text)
    [fault] = refused.value.faults
    assert fault.where == "--paper"
    assert why in fault.text


@pytest.mark.parametrize(("size", "long"), [("195.9 x 300 mm", 150), ("195.8 x 300 mm", 100)])
def test_long_bar(size: str, long: int) -> None:
    """A long bar is 150 mm wherever that finds room beside the rest: 20 + 150 + 0.5 + 25.4."""
    assert long_bar(check_sheet.read_size(size)) == long


LETTER = check_sheet.read_size("letter")


@pytest.mark.parametrize(
    ("text", "reading"),
    [
        ("149.6", Fraction(1496, 10)),
        ("149.6 mm", Fraction(1496, 10)),
        ("15.02cm", Fraction(1502, 10)),
        ("5 57/64 in", (5 + Fraction(57, 64)) * INCH),
        ('5 29/32"', (5 + Fraction(29, 32)) * INCH),
        ("145.64", Fraction(14564, 100)),  # 150/145.64 = 1.02994
        ("154.63", Fraction(15463, 100)),  # 150/154.63 = 0.97006
    ],
)
def test_factors(text: str, reading: Fraction) -> None:
    """A factor is what is true over what was measured, exactly, each way on its own."""
    assert measured_factors(LETTER, text, "150", " a  b") == Factors(
        "a b", 150 / reading, Fraction(1)
    )
    assert measured_factors(LETTER, "150", text, "a") == Factors("a", Fraction(1), 150 / reading)


def test_factors_of_small_paper() -> None:
    """On paper whose long bars are 100 mm the readings are held against that."""
    small = PaperSize("small", Fraction(148), Fraction(210))
    assert measured_factors(small, "101", "99", "a") == Factors(
        "a", Fraction(100, 101), Fraction(100, 99)
    )


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("135", '"135" for 150 mm is 90.0 for 100: more than 3 % is a setting that scales the'),
        ("141 mm", "is 94.0 for 100: more than 3 %"),
        ("144", "is 96.0 for 100"),
        ("145.63", "is 97.1 for 100"),  # 150/145.63 = 1.03001
        ("154.64", "is 103.1 for 100"),  # 150/154.64 = 0.96999
        ("5.9", '"5.9" is nowhere near the long bar\'s 150 mm'),
        ("120.5", "is 80.3 for 100"),
        ("101.6", '"101.6" is the 4 in bar\'s 101.6 mm: measure the heavy bar, 150 mm'),
        ("4 in", "is the 4 in bar's 101.6 mm"),
        ("99.9", '"99.9" is the square\'s 100 mm: measure the heavy bar, 150 mm'),
        ("0", "is nowhere near"),
        ("149,600", "may be 149600 or 149.600: write one of them, without a comma"),
        ("fifteen", "is not a length"),
        ("-150", "is negative"),
    ],
)
def test_readings_refused(text: str, why: str) -> None:
    """A reading that no true print gives is a line under its own option; all are told at once."""
    for option, both in (("--across", (text, "150")), ("--down", ("150", text))):
        with pytest.raises(FileError) as refused:
            measured_factors(LETTER, *both, "a")
        [fault] = refused.value.faults
        assert fault.where == option
        assert why in fault.text
    with pytest.raises(FileError) as refused:
        measured_factors(LETTER, text, text, " ")
    assert [fault.where for fault in refused.value.faults] == ["--across", "--down", "--save"]


LETTER_ON_A4 = "a letter file fit to A4 paper (about 97.3)"
SHRUNK = "a viewer that shrank the page to its margins (96 to 97)"
A4_ON_LETTER = "an A4 file widened to letter paper (102.8 to 102.9)"


@pytest.mark.parametrize(
    ("across", "down", "causes"),
    [
        # Bars of 150. 210/215.9 x 150 = 145.901, 0.3 % over it 146.339.
        ("146.33", "145.7", LETTER_ON_A4),
        ("146.34", "145.7", None),
        ("145.95", "145.95", LETTER_ON_A4),
        ("146", "150", None),
        ("5 3/4 in", "5 3/4 in", LETTER_ON_A4),  # 146.05
        # 97 x 1.5 = 145.5, 0.3 % over it 145.9365; under 145.64 a bar is over 3 % off.
        ("145.93", "145.7", f"{SHRUNK} or {LETTER_ON_A4}"),
        # 215.9/210 x 150 = 154.2143, 0.3 % under it 153.7516.
        ("153.76", "154", A4_ON_LETTER),
        ("153.75", "154", None),
        ("154.5", "154.3", A4_ON_LETTER),
        ("153.9", "146", None),
        ("149.6", "150.2", None),
    ],
)
def test_settings_are_no_printer(across: str, down: str, causes: str | None) -> None:
    """Both bars within 0.3 % of what a setting makes of them are asked for again."""
    true = measured_factors(LETTER, across, down, "a", sure=True)
    if causes is None:
        assert measured_factors(LETTER, across, down, "a") == true
        return
    with pytest.raises(FileError) as refused:
        measured_factors(LETTER, across, down, "a")
    [fault] = refused.value.faults
    assert fault.where == "--across, --down"
    assert f" look like {causes}, not like the printer: print at actual size" in fault.text
    assert fault.text.endswith("; --sure keeps it all the same")


@pytest.mark.parametrize(
    ("text", "refused"),
    [
        ("101.6", True),
        ("4 in", True),
        # 0.3 % of 101.6 is 0.3048: 101.2952 to 101.9048.
        ("101.30", True),
        ("101.29", False),
        ("101.90", True),
        ("101.91", False),
    ],
)
def test_four_inch_bar_is_no_long_one(text: str, refused: bool) -> None:  # noqa: FBT001  # drawn
    """On small paper, whose long bars are 100 mm, the 4 in bar's length isn't taken for theirs."""
    small = PaperSize("small", Fraction(148), Fraction(210))
    true = measured_factors(small, text, "100", "a", sure=True)
    assert true.down == 1
    if not refused:
        assert measured_factors(small, text, "100", "a") == true
        return
    with pytest.raises(FileError) as told:
        measured_factors(small, text, "100", "a")
    [fault] = told.value.faults
    assert fault.where == "--across"
    assert "is the 4 in bar's 101.6 mm: measure the heavy bar, 100 mm; --sure keeps" in fault.text


def test_nothing_makes_a_setting_sure() -> None:
    """Over 3 % off is a setting whatever one is sure of."""
    for text in ("135", "141", "144", "154.64", "101.6"):
        with pytest.raises(FileError):
            measured_factors(LETTER, text, text, "a", sure=True)


def test_scaling_is_advised_on() -> None:
    """A scaling setting is told what it may be, and to print at actual size."""
    with pytest.raises(FileError) as refused:
        measured_factors(LETTER, "141", "150", "a")
    for words in (
        "print at actual size (100 %, no fit, no shrink) and measure again",
        "about 90 for 100 means an A4 file sent to letter paper",
        "about 94 fit to page or an A4 file shrunk to letter paper",
        "96 to 97 a viewer that shrank the page to its margins",
    ):
        assert words in str(refused.value)


@pytest.mark.parametrize(
    ("size", "name"),
    [
        ("letter", "calibrate-letter.pdf"),
        ("A4", "calibrate-a4.pdf"),
        ("8.5 x 11 in", "calibrate-8.5-x-11-in.pdf"),
        ('8 1/2" x 11"', "calibrate-8-1-2-x-11-.pdf"),
    ],
)
def test_file_name(size: str, name: str) -> None:
    """The PDF's name is plain whatever the paper's."""
    assert check_sheet.file_name(check_sheet.read_size(size)) == name
