"""The assembly page of a strip: its parts in small, the order of taping, and what to measure."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate import drawing, lay_out, plan_job, read_job
from drapetemplate.drawing.marks import Line, Mark, Text
from drapetemplate.drawing.roles import Role
from drapetemplate.measures import Units, format_length
from drapetemplate.render.typeface import typeface
from drapetemplate.ticket.assembly import assembly
from drapetemplate.ticket.flow import paper_flow
from tests.helpers.assembled import assembled, outside_or_colliding, placed, texts
from tests.helpers.jobfiles import job_of
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED, Spec, inches, parts, sixteenths

INCH = Fraction(254, 10)
HAIR = 1e-6


@st.composite
def strips(draw: st.DrawFn, widest: str = "240") -> Spec:
    """Strips of one part to very many, in rows or lanes, on small and large paper."""
    band = draw(st.sampled_from(["1 1/4", "2", "4", "7", "12", "20"]))
    return Spec(
        width=draw(sixteenths("24", widest)),
        outside="1",
        hole="1/2",
        count=draw(st.sampled_from(["2", "6", "10"])),
        panels=draw(st.sampled_from(["left", "right", "single"])),
        leading=draw(st.sampled_from(["0", "1"])),
        return_=draw(st.sampled_from(["0", "1"])),
        band=band,
        above=draw(st.sampled_from(["0", "1/8", "1/4"])),
        size=draw(st.sampled_from(["letter", "a4", "tabloid", "5 x 9 in"])),
        orientation=draw(st.sampled_from(["auto", "portrait", "landscape"])),
        margin=draw(st.sampled_from(["1/8", "1/4"])),
        view=draw(st.sampled_from(["face", "back"])),
        units=draw(st.sampled_from(["in", "mm"])),
    )


@searched(25)
@given(strips())
def test_readable(spec: Spec) -> None:
    """Every text is whole, inside the margins and clear of the others, in the shipped font."""
    outside_or_colliding(spec)


# A part of letter paper is some 6 to 10 in long, so these take about 2, 10, 40, 100 and 200.
@pytest.mark.parametrize(
    "width",
    ["12", "80", "330", *(pytest.param(w, marks=pytest.mark.long) for w in ("800", "1600"))],
)
@pytest.mark.parametrize("band", ["1 1/4", "4", "20"])
def test_readable_at_length(width: str, band: str) -> None:
    """From two parts to two hundred and more, in lanes, whole sheets and rows."""
    spec = Spec(width=width, outside="1", hole="1/2", count="4", band=band, above="1/8")
    outside_or_colliding(spec.but(leading="1", return_="1"))


@searched(40)
@given(strips())
def test_all_named(spec: Spec) -> None:
    """Every part is named as on its sheet, and every join once, in order."""
    found, pages = assembled(spec)
    across = len(found.tiling.joins) + 1
    labels = sorted(part.label for part in parts(found))
    if across * found.tiling.rows == 1:
        assert pages == ()
        return
    assert labels == sorted(texts(pages, Role.PART_NAME))
    assert [f"join {n}" for n in range(1, across)] == texts(pages, Role.PART_JOIN_NAME)


@pytest.mark.parametrize("width", ["330", "1600"])
def test_many_named(width: str) -> None:
    """A strip of forty or two hundred parts has every one named, over as many pages as it takes."""
    found, pages = assembled(Spec(width=width, outside="1", hole="1/2", count="4", band="4"))
    assert sorted(part.label for part in parts(found)) == sorted(texts(pages, Role.PART_NAME))
    assert len(found.tiling.joins) == len(texts(pages, Role.PART_JOIN_NAME))


def test_joins_where_they_are() -> None:
    """A join stands in the picture where it is on the strip, and parts' names lie between joins.

    40 in of strip on letter: five parts, in one line of the picture.
    """
    found, [page] = assembled(Spec(orientation="landscape"))
    caption = " ".join(texts((page,), Role.CAPTION))
    scale = int(caption.rpartition("1:")[2].split(",")[0].rstrip("."))
    [outline] = [drawing.box(mark) for mark in page if mark.role == Role.PART_OUTLINE]
    assert outline[2] - outline[0] == pytest.approx(1016 / scale)
    lines = [float(m.x1) for m in page if isinstance(m, Line) and m.role == Role.PART_JOIN]
    expected = [outline[0] + float(x) / scale for x in found.tiling.joins]
    assert pytest.approx(expected) == lines
    names = [m for m in page if isinstance(m, Text) and m.role == Role.PART_NAME]
    edges = [outline[0], *lines, outline[2]]
    assert [m.text for m in names] == ["1", "2", "3", "4", "5"]
    for mark, left, right in zip(names, edges, edges[1:], strict=False):
        assert left < float(mark.x) < right


def test_rows_from_the_top() -> None:
    """Rows are named from the top, as sheets are: the first row's parts above the second's."""
    found, [page] = assembled(Spec(band="12", above="3", orientation="landscape"))
    names = {m.text: m for m in page if isinstance(m, Text) and m.role == Role.PART_NAME}
    assert len(names) == 2 * found.tiling.across
    for column in range(found.tiling.across):
        upper, lower = names[str(column + 1)], names[str(column + 1 + found.tiling.across)]
        assert upper.x == lower.x
        assert upper.y > lower.y


def measures(pages: tuple[tuple[Mark, ...], ...]) -> tuple[str, dict[str, tuple[str, str]]]:
    """The whole length, and by hole what it must measure from either end."""
    names, values = texts(pages, Role.NAME), texts(pages, Role.VALUE)
    assert names[0].startswith("panel end to panel end")
    from_start, from_end = values[1::2], values[2::2]
    return values[0], dict(zip(names[1:], zip(from_start, from_end, strict=True), strict=True))


def test_measures_in_inches() -> None:
    """Holes are checked where they are planned, from both ends, with millimetres beside.

    W = 40 in, a = 1 1/2, b = 3, G = 2, N = 6: P = 6.7 in; centres 2.5, 9.2, 15.9, 22.6, 29.3 and
    36 in. Five of the six: 1 + n 5/4 for n from 0 to 4 is 1, 2.25, 3.5, 4.75, 6. From the other
    end 37.5, 30.8, 24.1, 10.7 and 4 in.
    """
    _, pages = assembled(Spec())
    whole, holes = measures(pages)
    assert whole == "40 in  =  1016.0 mm"
    assert texts(pages, Role.MEASURED_FROM) == ["", "from the leading edge", "from the return edge"]
    assert holes == {
        "hole 1": ("2 1/2 in  =  63.5 mm", "37 1/2 in  =  952.5 mm"),
        "hole 2": ("≈ 9 3/16 in  =  233.7 mm", "≈ 30 13/16 in  =  782.3 mm"),
        "hole 3": ("≈ 15 7/8 in  =  403.9 mm", "≈ 24 1/8 in  =  612.1 mm"),
        "hole 5": ("≈ 29 5/16 in  =  744.2 mm", "≈ 10 11/16 in  =  271.8 mm"),
        "hole 6": ("36 in  =  914.4 mm", "4 in  =  101.6 mm"),
    }


@searched(40)
@given(strips())
def test_measures(spec: Spec) -> None:
    """Each hole named is at a + G/2 + (n - 1) P from one end, and the rest of W from the other."""
    found, pages = assembled(spec.but(size="a4"))
    if not pages:
        return
    width, outside = inches(spec.width) * INCH, inches(spec.outside) * INCH
    leading, return_ = inches(spec.leading) * INCH, inches(spec.return_) * INCH
    if spec.panels == "single":
        leading = return_
    count = int(spec.count)
    pitch = outside + (width - leading - return_ - count * outside) / (count - 1)
    whole, holes = measures(pages)
    unit: Units = "mm" if spec.units == "mm" else "in"

    def said(length: Fraction) -> str:
        words = format_length(length, unit)
        return words if unit == "mm" else f"{words}  =  {float(length):.1f} mm"

    assert whole == said(width)
    numbers = []
    for name, (from_start, from_end) in holes.items():
        number = int(name.removeprefix("hole "))
        numbers.append(number)
        center = leading + outside / 2 + (number - 1) * pitch
        assert (from_start, from_end) == (said(center), said(width - center))
    assert {1, count} <= set(numbers)
    assert sorted(numbers) == numbers
    assert len(numbers) == min(count, 5)
    assert found.template.strip.width == width


@pytest.mark.parametrize(
    ("side", "start", "end"),
    [("left", "leading", "return"), ("right", "leading", "return"), ("single", "left", "right")],
)
def test_measured_from(side: str, start: str, end: str) -> None:
    """Either column says from which edge it is measured, by the name that the picture has."""
    _, pages = assembled(Spec(panels=side))
    assert texts(pages, Role.MEASURED_FROM)[1:] == [
        f"from the {start} edge",
        f"from the {end} edge",
    ]


def test_narrow_paper() -> None:
    """On paper too narrow for both systems side by side the job's own stand alone, uncut."""
    _, pages = assembled(Spec(size="5 x 9 in", margin="1/4", band="3", above="1/4"))
    _, holes = measures(pages)
    assert holes["hole 2"] == ("≈ 9 3/16 in", "≈ 30 13/16 in")


def test_a_pairs_paper_is_longer_than_a_panel() -> None:
    """The page says how long the paper is, and where inside it each panel ends: 80 + 5 - 2 in."""
    spec = Spec(panels="pair", strips="one", width="80", leading="2", return_="5", size="a4")
    left, right = plan_job(spec.job()).windows[0].panels
    [found] = spec.every(typeface())
    flow = paper_flow(found.paper, typeface())
    pages = assembly(spec.job(), found, left, flow, other=right)
    said = " ".join(texts(pages, Role.MADE_FOR))
    assert "The paper is 83 in long over all, and 80 in of it is each panel." in said
    both = "Measure the taped strip from both ends, each panel by its own ends and numbers"
    assert both in texts(pages, Role.SECTION)
    assert "line marked TOP on the panel's top edge" in said
    [page] = pages
    [(x0, _, x1, _)] = [drawing.box(mark) for mark in page if mark.role == Role.PART_OUTLINE]
    inner = [m.x1 for m in page if isinstance(m, Line) and m.role == Role.PART_INNER_END]
    share = (x1 - x0) / 83
    assert sorted(inner) == pytest.approx([x0 + 3 * share, x1 - 3 * share])


def test_taping_tells_what_the_sheets_have() -> None:
    """Black wedges are told where there are any; tape goes where no circle is."""
    for overlap, wedged in (("1/2", True), ("1/4", False)):
        found, pages = assembled(Spec(overlap=overlap, orientation="landscape"), typeface())
        drawn = any(
            mark.role in {Role.CUT_WEDGE, Role.LAND_WEDGE}
            for sheet in found.sheets
            for mark in sheet.marks
        )
        words = " ".join(texts(pages, Role.TEXT))
        assert drawn is wedged
        assert ("Black wedges above and below the band" in words) is wedged
        assert "between two eyelets" not in words


@pytest.mark.parametrize(("panels", "told"), [("left", True), ("single", False)])
def test_wedges_at_the_leading_edge_are_told_where_there_are_some(
    panels: str, *, told: bool
) -> None:
    """A single panel has no leading edge, and no wedges that point at one."""
    return_ = "1 1/2" if panels == "single" else "3"
    found, pages = assembled(Spec(panels=panels, return_=return_))
    drawn = any(mark.role == Role.LEADING_WEDGE for sheet in found.sheets for mark in sheet.marks)
    words = " ".join(texts(pages, Role.TEXT))
    assert drawn is told
    assert ("Black wedges in the band point at the leading edge" in words) is told


def test_one_page_for_alike() -> None:
    """A strip for several windows names each with how many of it; one for one panel doesn't."""
    job = read_job(
        b"""units = "in"
[job]
name = "Heron Point, sail loft"
[eyelet]
outside = "2"
opening = "1"
[[window]]
name = "North bay"
panels = "right"
width = 40
quantity = 2
[[window]]
name = "South bay"
panels = "right"
width = 40
[[window]]
name = "Porch"
panels = "left"
width = 40
""",
        "loft.toml",
    )
    document = lay_out(job, plan_job(job))[0]
    told = [
        mark.text
        for page in document.pages
        for mark in page.marks
        if isinstance(mark, Text) and mark.role == Role.MADE_FOR
    ]
    laid = [
        (
            "Lay it on the face of the panel: its line marked TOP on the panel's top edge, the "
            "paper standing over it."
        ),
        "Never turn it over.",
    ]
    made_for = "Tape 1 strip, mark 3 panels with it: North bay ×2 + South bay ×1."
    assert told == [made_for, *laid, *laid]
    pages = [page.label for page in document.pages if page.label.endswith("assembly 1")]
    assert pages == [
        "North bay + South bay, right panel, assembly 1",
        "Porch, left panel, assembly 1",
    ]


def test_windows_made_once_are_named_once() -> None:
    """Of a strip for nine pairs their names stand in its title; below it only what is made."""
    bays = [f'name = "Bay {n}"\nwidth = 86\ncount = 16\nreturn = 3' for n in range(1, 10)]
    document = lay_out(job_of(*bays), plan_job(job_of(*bays)))[0]
    page = next(page for page in document.pages if " assembly " in page.short)
    told = [m.text for m in page.marks if isinstance(m, Text) and m.role == Role.MADE_FOR]
    assert told[0] == "Tape 1 strip, mark 18 panels with it: 2 for each of the 9 windows."


@pytest.mark.parametrize("view", ["face", "back"])
def test_one_strip_for_both(view: str) -> None:
    """A pair's one strip says on which side it is laid, and for each panel what is its own."""
    toml = f"""[job]
name = "Heron Point, loft"
[paper]
strips = "one"
view = "{view}"
[eyelet]
outside = 2
opening = 1
[[window]]
width = 60
leading = 2
return = 3
"""
    job = read_job(toml.encode(), "loft.toml")
    told = [
        mark.text
        for page in lay_out(job, plan_job(job))[0].pages
        for mark in page.marks
        if isinstance(mark, Text) and mark.role == Role.MADE_FOR
    ]
    assert told[0].startswith(f"One strip for both panels. Lay it on the {view} of each")
    assert "The left panel takes what the sheets mark LEFT, above the eyelets." in told
    other = " ".join(told)
    other = other[other.index("The right panel") :]
    assert other.startswith("The right panel takes what the sheets mark RIGHT, below the eyelets")
    assert "the dashed ones, 1 in from the left panel's." in other


def test_tolerance_of_this_strip() -> None:
    """40 in in five sheets: 1016 mm / 400 + 4 x 0.25 mm = 3.54 mm, 4.46 of 1/32 in: 1/8 in."""
    _, pages = assembled(Spec(orientation="landscape"))
    assert " ".join(texts(pages, Role.MAY_BE_OFF)) == (
        "The whole strip may be off by 1/8 in: 0.25 % of its length, as its bars may be, and "
        "0.01 in at each of its 4 joins."
    )
    _, pages = assembled(Spec(orientation="landscape", units="mm"), FIXED)
    assert texts(pages, Role.MAY_BE_OFF)[0].startswith("The whole strip may be off by 3.5 mm: ")


@pytest.mark.parametrize(
    ("spec", "said", "unsaid"),
    [
        pytest.param(
            Spec(orientation="landscape"),
            [],
            ["Cut each sheet into its parts", "Tape each row"],
            id="sheets",
        ),
        pytest.param(
            Spec(outside="1", hole="1/2", band="2 1/2", above="1/4", orientation="landscape"),
            ["Cut each sheet into its parts", "Cut the next part"],
            ["Tape each row", "lane"],
            id="lanes",
        ),
        pytest.param(
            Spec(band="12", above="3"),
            ["Tape each row"],
            ["Cut each sheet into its parts"],
            id="rows",
        ),
    ],
)
def test_steps(spec: Spec, said: list[str], unsaid: list[str]) -> None:
    """Parts are cut apart and rows joined where there are any, and not else; in numbered steps."""
    _, pages = assembled(spec)
    words = " ".join(m.text for page in pages for m in page if isinstance(m, Text))
    assert all(step in words for step in said)
    assert not any(step in words for step in unsaid)
    numbers = [text for text in texts(pages, Role.TEXT) if text.isdigit()]
    # Three always, one for what is said, and one for runs where they are more than five.
    more = bool(said) + ("in runs of four or five" in words)
    assert numbers == [str(n) for n in range(1, 4 + more)]


@pytest.mark.parametrize(
    ("spec", "said"),
    [
        pytest.param(Spec(), "", id="outside"),
        # S = (40 - 4.5 - 12 x 2.6)/11 = 0.39 in between flanges: a lap of 1 in must cross one.
        pytest.param(
            Spec(outside="2.6", hole="1/2", count="12", overlap="1", band="5"),
            "over an eyelet’s outside circle, but over no hole",
            id="hole",
        ),
        pytest.param(
            Spec(outside="2.6", hole="2.5", count="12", overlap="1", band="5"),
            "runs over a hole, which is whole on one",
            id="whole",
        ),
        pytest.param(
            Spec(width="44", outside="8", hole="2", count="4", band="9", size="7 x 8 in"),
            "over no hole, but an eyelet’s outside circle is whole on neither",
            id="hole only",
        ),
        pytest.param(
            Spec(outside="6", hole="3", band="9", above="1/2", size="7 x 12 in").but(width="48"),
            "the lap runs over a hole, which is whole on one: trace it there",
            id="hole whole",
        ),
        # 40 in in five even steps of 7.9 in, 1/2 in shown twice: the third join is at 23.96 in.
        # Eyelets stand 6.7 in apart from 4 in on; the fourth's hole reaches from 23.2 to 25 in.
        pytest.param(
            Spec(joins="even", hole="1 3/4", outside="2", count="6", orientation="landscape"),
            "a hole is whole on neither of the two sheets",
            id="cut",
        ),
        # Rows of 6.5 in or so, and a band of 12 in whose eyelets' centres are in its middle.
        pytest.param(
            Spec(joins="even", outside="6", hole="4", band="12", above="3", count="4"),
            "Between rows 1 and 2: a hole is whole on neither",
            id="rows",
        ),
    ],
)
def test_clearance(spec: Spec, said: str) -> None:
    """What laps cross is said where they cross anything."""
    _, pages = assembled(spec)
    words = " ".join(texts(pages, Role.CLEARANCE)).replace("'", "’")
    assert said in words
    assert bool(words) == bool(said)


@pytest.mark.parametrize(
    ("spec", "line"),
    [
        (Spec(orientation="landscape"), "5 sheets of letter, seen from the face"),
        (
            Spec(outside="1", hole="1/2", band="1 1/2", above="1/4", orientation="landscape").but(
                view="back"
            ),
            "2 sheets of letter, 5 parts, seen from the back",
        ),
    ],
)
def test_counts(spec: Spec, line: str) -> None:
    """It says how many sheets, how many parts in lanes, and from where they are seen."""
    _, pages = assembled(spec)
    assert line in texts(pages, Role.TEXT)


def test_which_of_a_rolls_pages() -> None:
    """The page says from which of the roll's pages its sheets are cut, as those pages name them.

    First of all the bars are checked and the pages cut apart.
    """
    job = job_of(
        'width = 450\ncount = 20\npanels = "left"',
        'width = 350\ncount = 20\npanels = "left"',
        tables='[paper]\nsize = "12 in roll"',
    )
    roll, ticket = lay_out(job, plan_job(job))
    sheets = [re.findall(r"\b[AC]\d", page.label) for page in roll.pages]
    assert sheets == [["A1", "A3"], ["A2"], ["C1", "C2"]]
    told = [" ".join(texts((page.marks,), Role.TEXT)) for page in ticket.pages]
    for line in (
        "Strip A: 3 sheets of 12 in roll, from pages 1 and 2, seen from the face",
        "Strip C: 2 sheets of 12 in roll, from page 3, seen from the face",
    ):
        [said] = [words for words in told if words.startswith(line)]
        assert "1 Check the bars on every page first, then cut the pages apart" in said


def test_sheets_of_rows_are_no_hole_numbers() -> None:
    """In rows no sheet's name stands in an eyelet's circle, where it would pass for its number."""
    _, pages = assembled(Spec(band="12", above="3", outside="3", hole="2", count="6", width="50"))
    [page] = pages
    circles = [drawing.box(m) for m in page if m.role == Role.PART_EYELET]
    assert circles
    names = placed(pages, Role.PART_NAME)
    assert len(names) > len(circles)
    for name in names:
        left, bottom, right, top = drawing.box(name)
        for x0, y0, x1, y1 in circles:
            assert min(right, x1) <= max(left, x0) or min(top, y1) <= max(bottom, y0), name.text


def test_measures_stay_on_one_page() -> None:
    """What the strip must measure and what it may be off stand together, whatever is over them."""
    parted = 0
    for count in range(20, 64, 6):
        spec = Spec(width=str(4 * count), outside="2 5/8", hole="1 5/8", count=str(count), band="5")
        _, pages = assembled(spec, typeface())
        [measured] = [n for n, page in enumerate(pages) if texts((page,), Role.MEASURED_FROM)]
        [off] = {n for n, page in enumerate(pages) if texts((page,), Role.MAY_BE_OFF)}
        last = [
            n
            for n, page in enumerate(pages)
            if "Nothing is traced" in " ".join(texts((page,), Role.TEXT))
        ]
        assert [measured] == [off] == last
        parted += len(pages) > 1
    assert parted
