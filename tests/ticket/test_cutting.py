"""The cutting pages: all that is to cut, in pictures and words that agree, inside the margins."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, example, given, reject
from hypothesis import strategies as st

from drapetemplate import drawing
from drapetemplate.drawing.marks import Mark
from drapetemplate.drawing.roles import Role
from drapetemplate.errors import JobError
from drapetemplate.job.model import Job
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.laid_paper import laid_paper
from drapetemplate.ticket.cutting import HEIGHTS, MOST_DRAWN, cutting
from drapetemplate.ticket.flow import SMALL, Flow, paper_flow
from tests.helpers.cutpages import check, cutting_of, listed, page_of
from tests.helpers.jobfiles import RING, job_of, mixed
from tests.helpers.marks import texts
from tests.helpers.searching import searched
from tests.helpers.strips import FIXED

# 12 eyelets of 2 in, 4 in apart: 74 in finished, 80 in raw; cuts of 84 + 8 + 8 = 100 in. The seam
# at 47 5/8 in makes pieces of 51 1/8 and 29 7/8 in.
LONG = "width = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84"
PLAIN = '[fabric]\nname = "gull linen"\nwidth = 54'
# Up to four repeats of 25 1/4 in: 101 in.
PATTERN = f'{PLAIN}\nrepeat_down = "25 1/4"\nrepeat_across = 27'
LINING = "[lining]\nwidth = 60"
HALF = '[paper]\nsize = "5.5 x 8.5 in"'
NAME = "the long gallery's third bay, toward the lower boat house by the"


def test_no_cloth_no_pages() -> None:
    """A job without cloth has nothing to cut."""
    assert cutting_of(job_of(LONG)).pages == ()


@pytest.mark.parametrize(
    ("cloth", "entries"),
    [
        (
            PLAIN,
            """
            100 in long. Slit at 2 7/8 in: 2 7/8 in left over; Hall, left panel, piece
                1 of 2, 51 1/8 in wide
            100 in long. Slit at 24 1/8 in: 24 1/8 in left over; Hall, left panel,
                piece 2 of 2, 29 7/8 in wide
            100 in long. Slit at 51 1/8 in: Hall, right panel, piece 1 of 2, 51 1/8 in
                wide; 2 7/8 in left over
            100 in long. Slit at 29 7/8 in: Hall, right panel, piece 2 of 2, 29 7/8 in
                wide; 24 1/8 in
                left over
            """,
        ),
        (
            PATTERN,
            # The right panel's seam is 1/2 in from its lead piece's edge, at 50 5/8 in, so on the
            # next drop at 50 5/8 - 27 = 23 5/8, its piece from 23 1/8 in to 53.
            """
            101 in long. Slit at 2 7/8 in: 2 7/8 in left over; Hall, left panel, piece
                1 of 2, 51 1/8 in wide
            101 in long. Slit at 1 in and 30 7/8 in: 1 in left over; Hall, left panel,
                piece 2 of 2, 29 7/8 in
                wide; 23 1/8 in left over
            101 in long. Slit at 51 1/8 in: Hall, right panel, piece 1 of 2, 51 1/8 in
                wide; 2 7/8 in left over
            101 in long. Slit at 23 1/8 in and 53 in: 23 1/8 in left over; Hall, right
                panel, piece 2 of 2,
                29 7/8 in wide; 1 in left over
            """,
        ),
        (
            PLAIN.replace("54", "60"),
            """
            100 in long. Slit at 8 7/8 in: 8 7/8 in left over; Hall, left panel, piece
                1 of 2, 51 1/8 in wide
            100 in long. Slit at 51 1/8 in: Hall, right panel, piece 1 of 2, 51 1/8 in
                wide; 8 7/8 in left over
            100 in long. Slit at 29 7/8 in and 30 1/8 in: Hall, right panel, piece 2
                of 2, 29 7/8 in wide;
                1/4 in left over; Hall, left panel, piece 2 of 2, 29 7/8 in wide
            """,
        ),
    ],
    ids=["plain", "pattern", "shared"],
)
def test_a_width_and_a_half(cloth: str, entries: str) -> None:
    """A pair of a width and a half a panel: each drop with its length, slits and what is left."""
    found = check(job_of(f'{LONG}\nname = "Hall"', tables=cloth))
    assert " ".join(words for _, words in listed(found)) == " ".join(entries.split())
    assert [numbers for numbers, _ in listed(found)] == [[n + 1] for n in range(len(listed(found)))]


def test_railroaded_list() -> None:
    """Turned cloth is slit at the cut length; each run is as long as a panel is raw."""
    found = check(job_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true"))
    words = "80 in long. Turned. Slit at 100 in: Window 1, {} panel, 100 in; 18 in left over"
    assert listed(found) == [([1], words.format("left")), ([2], words.format("right"))]
    assert "Railroaded: every panel's top toward the same selvage" in found.said()


def test_railroaded_repeats() -> None:
    """A turned run in whole repeats is trimmed at its end; its panel's drawing is as it is raw."""
    tables = "[fabric]\nwidth = 118\nrailroad = true\nrepeat_down = 27\nrepeat_across = 30"
    found = check(job_of(LONG.replace("74", "60"), tables=tables))
    # 60 + 2 x 3 = 66 in, in 3 x 27 = 81 in; 84 + 8 + 8 = 100 in across 118.
    words = (
        "81 in long. Turned. Trim to 66 in, 15 in left over. Slit at 100 in: Window 1, {} panel, "
        "100 in; 18 in left over"
    )
    assert listed(found) == [([1], words.format("left")), ([2], words.format("right"))]
    said = found.said()
    assert (
        "Run 81 in, 3 vertical repeats of 27 in: 66 in wanted, 15 in left over at the run's end."
        in said
    )
    assert "all seams" not in said
    assert "over" not in found.said(Role.PANEL_WORDS)


def test_cut_of_repeats_in_words() -> None:
    """A drop in repeats says how many, what was wanted, and what is over at the foot."""
    found = check(job_of(LONG, tables="[fabric]\nwidth = 54\nrepeat_down = 27"))
    assert (
        "Cut 108 in, 4 vertical repeats of 27 in: 100 in wanted, 8 in left over at the foot."
        in found.said()
    )
    assert "bottom hem 8 in + 8 in left over" in found.said(Role.PANEL_WORDS)


def test_what_the_tape_rounds_is_not_over() -> None:
    """Up to 1/8 in that a cut is rounded up by is no more than a table can cut: nothing is said."""
    found = check(job_of(LONG.replace("length = 84", 'length = "84 1/16"'), tables=PLAIN))
    assert "100 1/8 in long" in found.said(Role.CUT_LIST)
    assert "over" not in found.said(Role.PANEL_WORDS)


def test_one_cloth_with_and_without_its_pattern() -> None:
    """Ticks and words of a pattern are those of the drops that have it, whichever come first."""
    plain = f"{LONG}\n[window.fabric]\nrepeat_down = 27"
    found = check(job_of(LONG, plain, tables='[fabric]\nname = "gull linen"\nwidth = 54'))
    assert "vertical repeat, 27 in" in found.said()
    # Four drops of 108 in: a tick at each of 4 repeats and at the ends of the two rows of drops,
    # on both selvages.
    assert len(found.lines(Role.REPEAT)) == (4 * 4 + 2) * 2


def test_drops_alike_are_listed_together() -> None:
    """What a window made many times cuts again and again is one entry, with how many."""
    found = check(job_of(f'{LONG}\npanels = "left"\nquantity = 14', tables=PLAIN))
    heads = [t.text for t in found.texts(Role.CUT_LIST) if t.text.startswith("Drop")]
    assert heads == [
        "Drops 1, 3, 5, 7, 9, 11, 13, 15, 17, 19, 21, 23 … 14 in all",
        "Drops 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24 … 14 in all",
    ]
    assert found.said(Role.PIECE_LABEL).count("left panel 14, piece 2 of 2") == 1


def test_drops_of_another_length_are_listed_apart() -> None:
    """Two windows of one name have drops alike but for their length: 84 and 60, and 16 in each."""
    window = LONG.replace("84", "{}") + '\npanels = "left"\nname = "Hall"'
    found = check(job_of(window.format(84), window.format(60), tables=PLAIN))
    lengths = [(numbers, words.split(" long.")[0]) for numbers, words in listed(found)]
    assert lengths == [([1], "100 in"), ([2], "100 in"), ([3], "76 in"), ([4], "76 in")]


def test_where_windows_motifs_are_cut() -> None:
    """Each window says how far above a motif it is cut, how it then hangs, and where it begins.

    Motifs are 9 in from the start and every 25 from there. Bay is cut 20 + 8 in of heading above
    one: at 9 - 28 + 25 = 6 in. Its four drops of 100 in end at 406; Hall, cut 6 + 8 in above one,
    begins at 9 - 14 + 17 x 25 = 420 in.
    """
    body = LONG.replace("74", "82") + "\npattern = 'folds'\nmotif_below = {}\nname = '{}'"
    cloth = "[fabric]\nwidth = 54\nrepeat_across = 7\nmotif = 2\nrepeat_down = 25\nmotif_down = 9"
    windows = body.format(20, "Bay"), body.format(6, "Hall").replace("84", "60")
    found = cutting_of(job_of(*windows, tables=cloth))
    said = found.said(Role.CAPTION)
    assert (
        "Bay: cut 28 in above a motif's centre, which then hangs 20 in below the finished top; "
        "begin 6 in from the squared start."
    ) in said
    assert (
        "Hall: cut 14 in above a motif's centre, which then hangs 6 in below the finished top; "
        "begin 14 in further on."
    ) in said
    assert "Lozenges: motifs' centres" in said
    measures = found.said(Role.RUNNING_MEASURE)
    assert measures.startswith("6 in 106 in 206 in 306 in")
    assert "306 in 406 in 420 in 520 in" in measures


def test_to_buy_stands_first() -> None:
    """The order for the whole job: cloth by name, lining, eyelets with packs and spares, band."""
    found = cutting_of(
        job_of(LONG, LONG, tables=f"{PATTERN}\n{LINING}", eyelet=f"{RING}\nspares = 3\npack = 10")
    )
    words = [text.text for text in texts(found.pages[0]) if text.role == Role.VALUE]
    assert words == [
        # 8 drops of 101 in, 4 and 25 1/4 in: 837 1/4 in, 23.26 yd; 6 of 87 and 4 in: 14.6 yd.
        (
            "gull linen, 54 in wide: 23 1/2 yd "
            "(8 drops 808 in + 4 in allowance + 25 1/4 in repeat = 837 1/4 in)"
        ),
        "not named, 60 in wide: 14 3/4 yd (6 drops 522 in + 4 in allowance = 526 in)",
        "2 in outside, 1 in opening: 48 and 3 spares: 6 packs of 10",
        "4 in high: 8 1/4 yd (296 in), and a piece to test",
    ]


@pytest.mark.parametrize(
    ("keys", "finished", "hems"),
    [
        (
            "",
            (
                "Finished width 71 in, finished length 83 in. Loose (sewn to the face at the top "
                "alone), set in 1 1/2 in from each side edge of the face, 1 in short of the face's "
                "foot. The lining's right side is down here, toward the window."
            ),
            (
                "Cloth turned in: side hems 1 1/2 in each edge, bottom hem 4 in, its raw "
                "top caught under the face's heading."
            ),
        ),
        (
            "heading = 2",
            "Loose (sewn to the face at the top alone), set in 1 1/2 in",
            "side hems 1 1/2 in each edge, heading 2 in, bottom hem 4 in.",
        ),
        (
            'joined = "bagged"\nbottom_hem = 4',
            (
                "Finished width 74 in, finished length 84 in. Bagged (sewn to the face's edges "
                "and turned out), as wide and long as the face."
            ),
            "side seams 1/2 in each edge, bottom hem 4 in, its raw top caught under the face's",
        ),
    ],
    ids=["loose", "own heading", "bagged"],
)
def test_how_the_lining_is_made(keys: str, finished: str, hems: str) -> None:
    """The lining's raw panel says what it finishes at, how it is joined and what its edges take."""
    found = check(job_of(LONG, tables=f"{LINING}\n{keys}"))
    caption = found.said(Role.CAPTION)
    assert finished in caption
    assert hems in caption


def test_words_of_a_bagged_lining() -> None:
    """What a bagged lining takes at its edges is a seam, in the picture too where there is room."""
    found = check(job_of(LONG, tables=f'{LINING}\njoined = "bagged"\nseam = 4'))
    assert "LEADING EDGE · seam 4 in" in found.said(Role.PANEL_WORDS)
    assert "bottom seam 4 in" in found.said(Role.PANEL_WORDS)


@pytest.mark.parametrize(
    ("window", "cloth", "words"),
    [
        (LONG, '[fabric]\nname = "x"', "Drops not known: the job doesn't give its width."),
        ("width = 74", PLAIN, "Drops not known: the job doesn't give a finished length."),
    ],
)
def test_not_known(window: str, cloth: str, words: str) -> None:
    """What can't be drawn says what is missing."""
    found = check(job_of(window, tables=cloth))
    assert words in found.said()
    assert found.boxes(Role.PIECE) == []


def test_unknown_length_still_shows_seams() -> None:
    """Without a length each panel is drawn with its seams, and said not to be to scale."""
    found = check(job_of("width = 74\nleading = 3\nreturn = 3\ncount = 12", tables=PLAIN))
    assert "length not known and not to scale" in found.said(Role.CAPTION)
    assert "Seams, as finished, from the leading edge: 47 5/8 in" in found.said(Role.CAPTION)
    assert len(found.lines(Role.SEAM)) == 2


def test_caption_has_what_a_small_picture_leaves_out() -> None:
    """Finished size, hems and seams are in words too, however small the panel is drawn."""
    window = 'panels = "left"\nwidth = 1700\nreturn = 3\nlength = 84'
    found = check(job_of(window, tables="[fabric]\nwidth = 48"))
    words = found.said(Role.CAPTION)
    assert "Finished width 1700 in, finished length 84 in. Cloth turned in: side hems 3 in" in words
    assert "heading 8 in, bottom hem 8 in" in words
    seams = plan(found.job).windows[0].panels[0].seams
    assert seams
    assert words.count(" in, ") >= len(seams) - 1 >= 35


def test_what_a_repeat_takes() -> None:
    """Where a pattern makes a cut longer, the panel says by how much; so does shrinkage."""
    found = cutting_of(job_of(LONG, tables=f"{PATTERN}\nshrinkage = 0.03"))
    # 1.03 x 100 in = 103, up to five repeats of 25 1/4: 126 1/4.
    cut = "Cut 126 1/4 in, 5 vertical repeats of 25 1/4 in"
    assert f"{cut}: 103 in wanted, 23 1/4 in left over at the foot" in found.said(Role.CAPTION)
    assert "Cut lengths include 3 % for shrinkage" in found.said(Role.CAPTION)
    assert "Ticks on the long edges: vertical repeat, 25 1/4 in" in found.said(Role.CAPTION)
    assert "Ticks on the cut edges: horizontal repeat, 27 in" in found.said(Role.CAPTION)


def test_most_drawn() -> None:
    """Beyond 120 drops the list alone goes on, and the page says how many more there are."""
    found = check(job_of(f"{LONG}\nquantity = 31", tables=PLAIN))
    assert "4 more drops, cut as the list says." in found.said()
    assert len(found.boxes(Role.PIECE)) == MOST_DRAWN


SIDES = ("left", "right")


def test_each_panel_of_each_cloth() -> None:
    """Every window shows its panels raw once for each cloth, the lining named."""
    wider = LONG.replace("width = 74", "width = 75")
    found = check(job_of(f'{LONG}\nname = "Hall"', wider, tables=f"{PATTERN}\n{LINING}"))
    heads = [text.text for text in found.texts(Role.SECTION) if "raw" in text.text]
    assert heads == [
        f"{name}: each {words}"
        for name in ("Hall", "Window 2")
        for words in (
            "panel flat and raw, from the face",
            "lining flat and raw, as it lies behind its panel seen from the room",
        )
    ]
    titles = [text.text for text in found.texts(Role.PANEL_WORDS) if "Hall, " in text.text]
    assert titles == [f"Hall, {side} {cloth}" for cloth in ("panel", "lining") for side in SIDES]
    assert len(found.boxes(Role.RAW_EDGE)) == 8


def test_panels_cut_alike_are_drawn_once() -> None:
    """Windows whose panels are cut alike share a drawing, under all their names."""
    hall, bay = f'{LONG}\nname = "Hall"', f'{LONG}\nname = "Bay"\nquantity = 2'
    found = check(job_of(hall, bay, tables=PLAIN))
    heads = [text.text for text in found.texts(Role.SECTION) if "raw" in text.text]
    assert heads == ["Hall + Bay: each panel flat and raw, from the face"]
    assert len(found.boxes(Role.RAW_EDGE)) == 2
    assert not [text.text for text in found.texts(Role.PANEL_WORDS) if "Hall" in text.text]
    # 47 5/8 + 3 + 1/2 and 80 - 47 5/8 - 3 + 1/2.
    pieces = "Pieces as cut, from the same edge: 1 is 51 1/8 in, 2 is 29 7/8 in."
    assert pieces in found.said(Role.CAPTION)


def test_panels_of_one_size_with_other_holes_have_a_drawing_each() -> None:
    """As wide and as long, of one piece each, but with 6 eyelets and with 8: each drawn by itself.

    Each drawing has its own panel's holes.
    """
    window = 'name = "{}"\nwidth = 45\ncount = {}\nreturn = 3\nlength = 84\npanels = "left"'
    found = cutting_of(job_of(window.format("Hall", 6), window.format("Bay", 8), tables=PLAIN))
    heads = [text.text for text in found.texts(Role.SECTION) if "raw" in text.text]
    assert heads == [f"{name}: each panel flat and raw, from the face" for name in ("Hall", "Bay")]
    eyelets = [mark for page in found.pages for mark in page if mark.role == Role.EYELET]
    assert len(eyelets) == 6 + 8


def test_foot() -> None:
    """Each page says whose it is, of which kind, and which of how many."""
    found = cutting_of(job_of(LONG, LONG, job='number = "HP-7"', tables=f"{PATTERN}\n{LINING}"))
    last = len(found.pages)
    assert last > 2
    for n, page in enumerate(found.pages, 1):
        feet = [text.text for text in texts(page) if text.role == Role.FOOT]
        assert feet == ["HP-7 · Heron Point, linen store", f"cutting, page {n} of {last}"]


def test_foot_of_a_long_name() -> None:
    """A job's name is cut before it reaches the page's number, nothing else on the page is."""
    job = job_of(LONG, job=f'number = "{NAME * 3}"', tables=HALF)
    flow = paper_flow(laid_paper(job.paper, None, job.units), FIXED)
    flow.line("words")
    (page,) = flow.numbered(job.details, "cutting")
    name, number = [text for text in texts(page) if text.role == Role.FOOT]
    assert drawing.box(name)[2] <= (flow.left + flow.right) / 2 + 1e-6
    assert number.text == "cutting, page 1 of 1"
    assert drawing.box(number)[0] > drawing.box(name)[2]
    assert name.text.endswith("…")


def test_numbered_keeps_every_page() -> None:
    """Finished pages keep their marks, in order, and gain a foot under the text's bottom."""
    job = job_of(LONG)
    flow = Flow(FIXED, 100, 60, 10)
    for n in range(30):
        flow.line(f"line {n}")
    before = [tuple(page) for page in flow.pages]
    after = flow.numbered(job.details, "kind")
    assert len(after) > 1
    assert [page[:-2] for page in after] == before
    feet: list[Mark] = [mark for page in after for mark in page[-2:]]
    assert {10 <= drawing.box(m)[1] < drawing.box(m)[3] <= flow.bottom for m in feet} == {True}


ODD = {
    "long name": job_of(f'{LONG}\nname = "{NAME} sea"', tables=f"{PATTERN}\n{LINING}"),
    "thirty": job_of(*[f'{LONG}\nname = "Bay {n}"' for n in range(1, 31)], tables=PATTERN),
    "twelve": job_of(f"{LONG}\nquantity = 12", tables=f"{PATTERN}\n{LINING}"),
    "36 pieces": job_of(
        'panels = "left"\nwidth = 1700\nreturn = 3\nlength = 84', tables="[fabric]\nwidth = 48"
    ),
    "short": job_of(LONG.replace("84", "5"), tables=f"{PLAIN}\nheading = 0\nbottom_hem = 0"),
    "tiny": job_of(
        "width = 9\nreturn = 1\nlength = 1\ncount = 4\nquantity = 40",
        eyelet='outside = "3/4"\nopening = "1/2"',
        tables="[band]\nheight = 0.8\n[fabric]\nwidth = 6\nheading = 0\nbottom_hem = 0\nseam = 0.1"
        "\nside_hem = 0.5",
    ),
    "long": job_of(LONG.replace("84", "1000"), tables=f"{PATTERN}\n{LINING}"),
    "longest": job_of(LONG.replace("84", "3900"), tables=PLAIN),
    "turned": job_of(LONG, tables="[fabric]\nwidth = 118\nrailroad = true\n" + LINING),
    "turned, no length": job_of(
        "width = 74", tables="[fabric]\nwidth = 118\nrailroad = true\n" + LINING
    ),
    "no length": job_of("width = 74", tables=PATTERN),
    "one length": job_of("width = 74", f'{LONG}\nname = "Hall"', tables=PATTERN),
    "no width": job_of(LONG, tables='[fabric]\nname = "x"'),
    "half letter": job_of(LONG, tables=f"{PATTERN}\n{LINING}\n{HALF}"),
    "half letter, long name": job_of(
        f'{LONG}\nname = "{NAME} sea"\nquantity = 12', tables=f"{PATTERN}\n{LINING}\n{HALF}"
    ),
    "half letter, wide margin": job_of(LONG, tables=f"{PATTERN}\n{LINING}\n{HALF}\nmargin = 1"),
    "least": job_of(LONG, tables=f'{PATTERN}\n{LINING}\n[paper]\nsize = "5 x 5 in"'),
    "word": job_of(f'{LONG}\nname = "{"x" * 300}"', tables=f"{PATTERN}\n{LINING}"),
    "thirds": job_of(
        LONG.replace("84", '"84 1/3"'), tables='[fabric]\nwidth = "54 1/7"\nside_hem = "2 1/3"'
    ),
    "roll": job_of(LONG, tables=f'{PATTERN}\n[paper]\nsize = "24 in roll"'),
}


@pytest.mark.parametrize("job", ODD.values(), ids=ODD.keys())
def test_odd_jobs(job: Job) -> None:
    """However odd a job its pages keep to their margins, words stay whole, nothing is left out."""
    found = check(job)
    assert found.pages


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """One or two windows of a cloth or two, on some paper; measures in sixteenths of an inch."""

    def length(low: int, high: int) -> str:
        return f'"{mixed(Fraction(draw(st.integers(16 * low, 16 * high)), 16))} in"'

    def cloth(part: str) -> str:
        keys = [f"[{part}]", f"side_hem = {length(0, 4)}", f"seam = {length(0, 1)}"]
        keys += [f"width = {length(20, 130)}"] * draw(st.sampled_from([1, 1, 1, 0]))
        keys += [f"repeat_down = {length(1, 40)}"] * draw(st.integers(0, 1))
        keys += [f"repeat_across = {length(2, 30)}"] * draw(st.integers(0, 1))
        keys += [f"heading = {length(0, 9)}", f"bottom_hem = {length(0, 9)}"]
        keys += ["railroad = true"] * draw(st.sampled_from([0, 0, 1]))
        keys += ["shrinkage = 0.03"] * draw(st.integers(0, 1))
        return "\n".join(keys)

    windows = [
        "\n".join(
            [
                f'panels = "{draw(st.sampled_from(["pair", "left", "right", "single"]))}"',
                f'name = "{draw(st.sampled_from(["Bay", f"{NAME} sea", "x" * 90]))}"',
                f"width = {length(20, 260)}",
                f"return = {length(0, 5)}",
                f"quantity = {draw(st.integers(1, 3))}",
                *[f"length = {length(5, 200)}"] * draw(st.sampled_from([1, 1, 1, 0])),
            ]
        )
        for _ in range(draw(st.integers(1, 2)))
    ]
    tables = cloth("fabric") + "\n" + cloth("lining") * draw(st.integers(0, 1))
    size = draw(st.sampled_from(["letter", "a4", "a3", "5.5 x 8.5 in", "5 x 5 in"]))
    tables += f'\n[paper]\nsize = "{size}"\nmargin = {length(0, 1)}'
    head = f'units = "{draw(st.sampled_from(["in", "mm", "cm"]))}"'
    try:
        job = job_of(*windows, head=head, tables=tables)
        plan(job, advise=False)
    except JobError:
        reject()
    return job


# Drawn 6 mm wide, with the names of both its edges in that.
NARROW = job_of(
    'width = "28 1/16"\nlength = "190 3/16"\nreturn = 0',
    tables="""[paper]
size = "5 x 5 in"
margin = "1/4"
[fabric]
width = 20
seam = 0
side_hem = 0
heading = 0
bottom_hem = 0""",
)


@searched(40, suppress_health_check=[HealthCheck.too_slow])
@example(job_of(LONG, tables=PATTERN))
@example(NARROW)
@given(jobs())
def test_any_job(job: Job) -> None:
    """The same for any job: margins, whole words, true scales, all pieces, slits that agree."""
    check(job)


def test_pieces_have_window_and_panel() -> None:
    """Of several windows every label says which, and that it is a panel; it is never only single.

    Pieces too small for both have none: the list names them.
    """
    single = 'name = "Bay"\nwidth = 20\nlength = 84\npanels = "single"'
    tiny = 'name = "Sill"\nwidth = 8\ncount = 2\nlength = 12\nreturn = 1\npanels = "single"'
    found = check(job_of(single, tiny, f'name = "Hall"\n{LONG}', tables=PLAIN))
    heads = [t.text for t in found.texts(Role.PIECE_LABEL) if t.bold]
    assert heads
    assert all(head.split(",")[0].split()[0] in {"Bay", "Sill", "Hall"} for head in heads)
    words = [t.text for t in (*found.texts(Role.PIECE_LABEL), *found.texts(Role.PANEL_WORDS))]
    assert not [one for one in words if "single" in one and "single panel" not in one]
    assert "Sill, single panel" in found.said(Role.CUT_LIST)


@pytest.mark.parametrize("cloth", [PLAIN, f"{PLAIN}\n{LINING}", f"{PATTERN}\n{LINING}"])
@pytest.mark.parametrize("count", [1, 2])
def test_fewest_pages(cloth: str, count: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pictures are the largest of those that take the fewest pages, each tried by itself.

    First come those with the most pieces named; of as many pages those with the fewest short ones.
    """
    job = job_of(*(f'name = "Bay {n}"\n{LONG}{n}' for n in range(count)), tables=cloth)
    found = cutting_of(job)
    tried = []
    for heights in HEIGHTS:
        monkeypatch.setattr("drapetemplate.ticket.cutting.HEIGHTS", (heights,))
        tried.append(cutting(job, found.plan, paper_flow(page_of(job), typeface())))
    best = min((_unnamed(pages), len(pages), _short(pages)) for pages in tried)
    assert found.pages == next(
        pages for pages in tried if (_unnamed(pages), len(pages), _short(pages)) == best
    )


def _unnamed(pages: Sequence[Sequence[Mark]]) -> int:
    """How many pieces have no words in them."""
    missing = 0
    for page in pages:
        boxes = [drawing.box(label) for label in texts(page, Role.PIECE_LABEL)]
        middles = [((x0 + x1) / 2, (y0 + y1) / 2) for x0, y0, x1, y1 in boxes]
        for mark in page:
            if mark.role == Role.PIECE:
                left, low, right, high = drawing.box(mark)
                missing += not any(left < x < right and low < y < high for x, y in middles)
    return missing


def _short(pages: Sequence[Sequence[Mark]]) -> int:
    """How many pages before the last are less than six tenths full, by what is drawn on them."""
    short = 0
    for page in pages[:-1]:
        feet = {Role.FOOT, Role.FOOT_ROUNDED}
        boxes = [drawing.box(mark) for mark in page if mark.role not in feet]
        top, low = max(box[3] for box in boxes), min(box[1] for box in boxes)
        bottom = min(float(foot.y) for foot in texts(page, Role.FOOT)) + 5
        short += (top - low) / (top - bottom) < 0.6
    return short


def test_smaller_for_a_page_less(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where smaller pictures save a page they are smaller, and their letters are not."""
    windows = [f'name = "Bay {n}"\nwidth = 50\nlength = {80 + n}\npanels = "left"' for n in (1, 2)]
    job = job_of(*windows, tables=PLAIN)
    found = cutting_of(job)
    sizes = {text.size for page in found.pages for text in texts(page)}
    assert min(sizes) == SMALL
    monkeypatch.setattr("drapetemplate.ticket.cutting.HEIGHTS", HEIGHTS[:1])
    largest = cutting(job, found.plan, paper_flow(page_of(job), typeface()))
    assert len(found.pages) < len(largest)
