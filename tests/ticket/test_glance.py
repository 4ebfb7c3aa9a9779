"""What a glance at the ticket gives, what the eye must find, and what stays on page 1."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from drapetemplate import drawing
from drapetemplate.drawing.lettering import Typeface
from drapetemplate.drawing.marks import Line
from drapetemplate.drawing.roles import Role
from drapetemplate.job.build import read_job
from drapetemplate.job.fields import read_paper
from drapetemplate.job.model import Job
from drapetemplate.job.paper_sizes import SHEETS
from drapetemplate.planning.model import Finding
from drapetemplate.planning.plan import plan
from drapetemplate.render.typeface import typeface
from drapetemplate.sheets.strip_list import strip_list
from drapetemplate.ticket.flow import BAR, BODY, FRAME, SMALL
from drapetemplate.ticket.job_ticket import ticket, ticket_paper
from tests.helpers.jobfiles import NO_HOLE, RING, job_toml
from tests.helpers.marks import texts
from tests.helpers.strips import FIXED

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
FULL = "width = 60\nlength = 80\ncount = 8"
CLOTH = "[fabric]\nwidth = 118\n"
# Rings that turn too little on their pole, and a fold that meets the wall as it is closed.
TIGHT = "[pole]\ndiameter = 0.9\n"
Pages = list[list[drawing.Mark]]


def pages_of(
    job: Job,
    face: Typeface = FIXED,
    more: tuple[Finding, ...] = (),
    accepted: frozenset[str] = frozenset(),
) -> Pages:
    """A job's ticket."""
    planned = plan(job)
    found = strip_list(job, planned.windows, None)
    made = ticket(job, planned, found, more, accepted, ticket_paper(job, None), face)
    return [list(page) for page in made]


def pages(*windows: str, job: str = "", tables: str = "", eyelet: str = RING) -> Pages:
    """The ticket of a job from few words."""
    toml = job_toml(*windows, job=job, tables=tables, eyelet=eyelet)
    return pages_of(read_job(toml.encode(), "job.toml"))


def words(found: Pages, *roles: Role) -> str:
    """All the words, of some roles or of all."""
    return " ".join(text.text for page in found for text in texts(page, *roles))


def test_glance() -> None:
    """Job, due date and panels stand largest, then finished size, count with gap, and cut."""
    found = pages(f"{FULL}\nquantity = 2", job="due = 2027-03-04", tables=CLOTH)
    first = texts(found[0])
    assert words(found, Role.TITLE) == "Heron Point, linen store"
    assert words(found, Role.GLANCE_NAME, Role.GLANCE) == "Due 2027-03-04, Thursday Panels 4"
    assert words(found, Role.HEADLINE).split(" in wide")[0] == "Each panel: finished 60"
    assert "8 eyelets each, ≈ 5 5/8 in apart edge to edge" in words(found, Role.HEADLINE)
    # 80 + 2 x 4 + 8 in; a width has room for the 66 in of a panel, and there are four.
    assert "For all 2 pairs: cut 4 drops of 96 in" in words(found, Role.HEADLINE)
    sizes = {
        role: {t.size for t in first if t.role == role} for role in (Role.GLANCE, Role.HEADLINE)
    }
    others = {t.size for t in first if t.role not in {Role.GLANCE, Role.HEADLINE, Role.TITLE}}
    assert (
        min(sizes[Role.GLANCE])
        > max(sizes[Role.HEADLINE])
        >= min(sizes[Role.HEADLINE])
        > max(others)
    )
    assert all(t.bold for t in first if t.role in {Role.TITLE, Role.GLANCE, Role.HEADLINE})


@pytest.mark.parametrize(
    ("window", "tables", "expected"),
    [
        (
            FULL,
            f"{CLOTH}[lining]\nwidth = 118",
            "For the pair: cut 2 drops of 96 in; lining 2 drops of 83 in",
        ),
        (FULL, "[lining]\nwidth = 118", "For the pair: cut lining 2 drops of 83 in"),
        (FULL, "[fabric]\nwidth = 118\nrailroad = true", "For the pair: cut 2 runs of 66 in"),
        (
            f'{FULL}\npanels = "left"',
            "[fabric]\nwidth = 118\nrailroad = true",
            "Cut 1 run of 66 in",
        ),
        (FULL, "[fabric]\n", ""),
        ("width = 60", CLOTH, ""),
        (FULL, "", ""),
    ],
)
def test_cut(window: str, tables: str, expected: str) -> None:
    """The cut is a headline where it is known, and otherwise there is none."""
    said = words(pages(window, tables=tables), Role.HEADLINE)
    at = re.search("(For the pair: c|C)ut", said)
    assert said[at.start() if at else len(said) :] == expected


def test_each_panel_and_the_pair() -> None:
    """What is of each panel is told from what is of the pair; of one panel there is no each."""
    said = words(pages(FULL, tables=CLOTH), Role.HEADLINE)
    assert said.startswith("Each panel: finished 60 in wide × 80 in long 8 eyelets each, ")
    assert said.endswith("For the pair: cut 2 drops of 96 in")
    said = words(pages(f'{FULL}\npanels = "left"', tables=CLOTH), Role.HEADLINE)
    assert said.startswith("Finished 60 in wide × 80 in long 8 eyelets, ")
    assert said.endswith("Cut 1 drop of 96 in")
    said = words(pages(f'{FULL}\npanels = "left"\nquantity = 3', tables=CLOTH), Role.HEADLINE)
    assert said.endswith("For all 3 panels: cut 3 drops of 96 in")


def test_eyelets_by_their_size() -> None:
    """Two kinds of eyelets are told apart where they are counted; one needs no size there."""
    other = f"{FULL}\n[window.eyelet]\noutside = 3\nopening = 2\nhole = 2"
    said = words(pages(FULL, other))
    assert "2 in outside, 1 in opening: 16, and one to test" in said
    assert "3 in outside, 2 in opening: 16, and one to test" in said
    assert "Eyelets 16, and one to test" in words(pages(FULL))


@pytest.mark.parametrize("windows", [1, 2, 3])
def test_windows_cloth_adds_up_to_the_order(windows: int) -> None:
    """What the windows' drops take adds up to what the order says is cut: 2 x 96 in each.

    The allowance is no window's: it is bought once.
    """
    said = words(pages(*[FULL] * windows, tables=CLOTH))
    each = [int(inches) for inches in re.findall(r"2 drops of 96 in: (\d+) in", said)]
    assert each == [192] * windows
    assert f"({192 * windows} in cut)" in said


def test_many_windows_are_counted() -> None:
    """With more windows than one the glance says how many."""
    assert words(pages(FULL, f"{FULL}\nquantity = 3"), Role.GLANCE) == "8 2"


def test_own_findings_stand_under_the_headline() -> None:
    """A window's stop is framed and its warning barred, over its figures; each is said once."""
    window = 'name = "Bay"\nwidth = 60\ncount = 7\nreturn = 1'
    found = pages(FULL, window, tables=f"{TIGHT}projection = 3")
    [page] = [page for page in found if "Bay: a pair" in [t.text for t in texts(page)]]
    bay = next(t.y for t in texts(page) if t.text == "Bay: a pair")
    stops = [t for t in texts(page, Role.FINDING) if t.text == "STOP" and t.y < bay]
    figures = [t for t in texts(page, Role.NAME) if t.text == "Eyelet outside" and t.y < bay]
    assert stops
    assert figures[0].y < min(t.y for t in stops)
    assert {m.pen for m in page if isinstance(m, Line) and m.role == Role.BAR} == {BAR, FRAME}
    said = words(found)
    for once in ("7 eyelets would turn", "the return stops"):
        assert said.count(once) == 1


def test_findings_of_every_window_stand_at_the_top() -> None:
    """What is wrong with all windows is said once, before the first of them, and not numbered."""
    found = pages(FULL, f"{FULL}\nleading = 2", tables=TIGHT)
    [finding] = [
        t for t in texts(found[0], Role.FINDING) if "Every window: the panel will bind" in t.text
    ]
    [window] = [t for t in texts(found[0], Role.SECTION) if t.text == "Window 1: a pair"]
    assert finding.y > window.y
    assert words(found).count("its rings turn") == 1
    assert words(found).count("WARN") == 1
    assert "Warnings 1 warning Window" not in words(found)


def test_findings_of_some_windows_are_pointed_to() -> None:
    """What some windows share has a number at the top, and each of those points to it."""
    tight = f"{FULL}\n[window.pole]\ndiameter = 0.9"
    found = pages(tight, f"{FULL}\nleading = 2", f'{tight}\n[window.band]\nheight = "5"')
    said = words(found, Role.FINDING)
    assert said.startswith("WARN 1 Window 1 + Window 3: the panel will bind")
    assert said.count("its rings turn") == 1
    assert said.count("WARN 1 as said at the top of the ticket.") == 2
    settle = "1 warning: Window 1 + Window 3. Settle before anything is cut"
    assert settle in words(found, Role.VALUE)
    # A note of a window's own is counted, but there is nothing to settle at that window.
    noted = 'name = "Hall"\nwidth = 74\nleading = 3\nreturn = 3\ncount = 12\nlength = 84'
    both = pages(f'name = "Bay"\n{tight}', noted, tables="[fabric]\nwidth = 54")
    said = words(both, Role.VALUE)
    assert "1 warning, 1 note: Bay. Settle before anything is cut" in said
    # A note alone asks for nothing.
    assert "Settle" not in words(pages(FULL))


def test_findings_name_a_dozen_windows() -> None:
    """A finding of very many windows names a dozen and counts the rest; each still points to it."""
    tight = [f"width = {60 + i}\n[window.pole]\ndiameter = 0.9" for i in range(20)]
    said = words(pages(*tight, "width = 50"), Role.FINDING)
    assert "Window 12 and 8 more: the panel will bind" in said
    assert said.count("WARN 1 as said") == 20


def test_findings_that_only_paper_shows() -> None:
    """What no window is to blame for stands at the top, or as a note at the end."""
    job = read_job(job_toml(FULL).encode(), "job.toml")
    more = (Finding("warn", "test", "the warning"), Finding("note", "test", "the note"))
    said = words(pages_of(job, more=more))
    assert said.index("WARN the warning") < said.index("Window 1: a pair")
    assert said.index("Worth knowing NOTE the note") > said.index("Hole centres")
    assert "Warnings 1 warning, 1 note. Settle before anything is cut" in said


def test_accepted_stop_has_a_line_to_sign() -> None:
    """A stop taken on has its line under its frame, at least 40 mm long, on narrow paper too."""
    for size in ("letter", "5 x 8 in"):
        tables = f'[paper]\nsize = "{size}"\nmargin = 0.2\n[pole]\nprojection = 3'
        toml = job_toml("width = 60\ncount = 4", tables=tables)
        job = read_job(toml.encode(), "job.toml")
        found = pages_of(job, typeface(), accepted=frozenset({"back-fold-hits-wall"}))
        [said] = [t for page in found for t in texts(page, Role.ACCEPTED)]
        assert said.text == "ACCEPTED all the same (back-fold-hits-wall) by:"
        [line] = [
            m for m in found[0] if isinstance(m, Line) and m.role == Role.SIGN_LINE and m.y1 > 60
        ]
        assert float(line.x2) - float(line.x1) >= 40
        assert float(line.y1) <= float(said.y)


def test_a_stop_taken_on_is_not_to_be_settled() -> None:
    """The ticket's summary says how many are taken on; only what is left is to be settled."""
    wall = job_toml("width = 60\ncount = 4", tables="[pole]\nprojection = 3")
    bound = job_toml("width = 60\ncount = 4", tables="[pole]\nprojection = 3\ndiameter = 0.9")
    for toml, after in ((wall, ""), (bound, ". Settle the rest before anything is cut")):
        job = read_job(toml.encode(), "job.toml")
        left = words(pages_of(job, typeface()), Role.VALUE)
        assert "Settle before anything is cut" in left
        assert "taken on" not in left
        taken = pages_of(job, typeface(), accepted=frozenset({"back-fold-hits-wall"}))
        said = words(taken, Role.VALUE)
        assert f"1 stop taken on as signed below{after}" in said
        assert "Settle before" not in said
        assert ("Settle the rest" in said) == bool(after)


def test_a_stop_is_taken_on_under_its_own_name_alone() -> None:
    """Of two stops the one that someone has taken on has its line to sign; the other has none."""
    toml = job_toml("width = 60\ncount = 7", tables="[pole]\nprojection = 2")
    job = read_job(toml.encode(), "job.toml")
    for code in ("odd-count", "back-fold-hits-wall"):
        found = pages_of(job, accepted=frozenset({code}))
        lines = [text.text for page in found for text in texts(page, Role.ACCEPTED)]
        assert lines == [f"ACCEPTED all the same ({code}) by:"]
        assert "2 stops" in words(found, Role.VALUE)
        assert "1 stop taken on as signed below. Settle the rest" in words(found, Role.VALUE)


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
@pytest.mark.parametrize("size", ["letter", "a4"])
def test_page_one_is_complete(path: Path, size: str) -> None:
    """A usual job's page 1 has the glance, headlines, figures, holes and findings."""
    job = read_job(path.read_bytes(), path.name)
    sheet = SHEETS[size]
    paper = replace(job.paper, name=sheet.name, width=sheet.width, height=sheet.height)
    found = pages_of(replace(job, paper=paper), typeface())
    first, *later = found
    for role in (
        Role.TITLE,
        Role.GLANCE,
        Role.HEADLINE,
        Role.FINDING,
        Role.HOLE_CENTRE,
    ):
        assert [text for page in later for text in texts(page, role)] == []
    assert len({t.y for t in texts(first, Role.HEADLINE)}) >= 2


@pytest.mark.parametrize("windows", [1, 2, 5, 30])
def test_signed_where_the_work_ends(windows: int) -> None:
    """Lines to sign and the workroom's own stand together on one page, under the last step."""
    found = pages(*(f"width = {40 + i}" for i in range(windows)))
    [page] = [page for page in found if texts(page, Role.SIGN)]
    signed = texts(page, Role.SIGN)
    assert [t.text for t in signed] == ["Marked", "Punched", "Checked", "Times and notes"]
    lines = [m for m in page if isinstance(m, Line) and m.role == Role.SIGN_LINE]
    own = [m for m in page if isinstance(m, Line) and m.role == Role.OWN_LINE]
    assert (len(lines), len(own)) == (3, 3)
    assert max(float(line.y1) for line in own) <= float(signed[-1].y) < float(signed[0].y)
    steps = texts(page, Role.STEP)
    assert all(float(step.y) > float(signed[0].y) for step in steps)
    assert found.index(page) >= max(n for n, p in enumerate(found) if texts(p, Role.STEP))


def test_long_notes_come_at_the_end() -> None:
    """Long notes leave page 1 to the figures and say where they are; short ones stay at the top."""
    long = "Mind the newel post. " * 40
    for note, where in (("Mind the newel.", False), (long, True)):
        said = words(pages(FULL, job=f'notes = "{note}"'))
        assert ("in full at the end" in said) == where
        assert ("Notes, in full" in said) == where
        assert (said.index("Mind the") > said.index("Ladders")) == where


def test_long_name_leaves_room() -> None:
    """A name of 300 characters is set smaller, so that page 1 still has the headlines."""
    toml = job_toml(FULL).replace("linen store", "linen store and larder, " * 13)
    found = pages_of(read_job(toml.encode(), "job.toml"), typeface())
    assert {t.size for t in texts(found[0], Role.TITLE)} == {BODY}
    assert len(texts(found[0], Role.TITLE)) == 3
    assert texts(found[0], Role.HEADLINE)
    assert {t.size for t in texts(pages(FULL)[0], Role.TITLE)} == {6.0}


def test_windows_alike() -> None:
    """A window like an earlier one points to its figures and holes; its own headline stays."""
    found = pages(f'name = "Bay"\n{FULL}', f'name = "Hall"\nquantity = 2\n{FULL}', tables=CLOTH)
    said = words(found)
    assert said.count("finished 60 in wide × 80 in long") == 2
    assert said.count("Hole centres") == 1
    assert "Hall: a pair, make 2" in said
    assert "For all 2 pairs: cut 4 drops of 96 in" in said
    assert "Figures, holes the same as for Bay" in said


def test_nothing_is_given_twice() -> None:
    """What the figures say isn't said again as the job's; what they don't say is."""
    found = pages(FULL, eyelet=f'{NO_HOLE}\nhole = "1 1/16"\nthickness = "1/8"')
    names = [text.text for page in found for text in texts(page, Role.NAME)]
    once = ("Eyelet outside", "Opening", "Hole to cut", "Ring thickness", "Finished width")
    assert [names.count(name) for name in once] == [1] * len(once)


def test_windows_that_differ_are_not_alike() -> None:
    """A window that differs in anything but its name and number has its own figures."""
    found = pages(f'name = "Bay"\n{FULL}', f'name = "Hall"\n{FULL}\nleading = 2')
    said = words(found)
    assert said.count("Hole centres") == 2
    assert "the same as for" not in said.replace("the rest as for", "")


def test_a_window_stays_on_one_page() -> None:
    """A window has its headline, figures and holes on one page where that takes no page more."""
    many = [f'name = "Bay {i}"\nwidth = {60 + i}' for i in range(1, 25)]
    found = pages_of(read_job(job_toml(*many).encode(), "job.toml"), typeface())
    assert len(found) > 8  # and so it isn't tried which windows would be better parted
    windows = 0
    for page in found:
        heads = [t for t in texts(page, Role.SECTION) if re.match(r"Bay \d+: a pair", t.text)]
        holes = [t for t in texts(page) if t.text.startswith("Hole centres")]
        assert len(heads) == len(holes)
        windows += len(heads)
    assert windows == 24


def odd_jobs() -> list[Job]:
    """The samples, and each on half letter paper and on A4."""
    jobs = [read_job(path.read_bytes(), path.name) for path in SAMPLES]
    for size in ("5.5 x 8.5 in", "a4"):
        sheet = read_paper(size, "in")
        more = replace(jobs[3].paper, name=size, width=sheet.width, height=sheet.height)
        jobs += [replace(job, paper=more) for job in jobs[: len(SAMPLES)]]
    return jobs


@pytest.mark.parametrize("job", odd_jobs(), ids=lambda j: f"{j.details.name}, {j.paper.name}")
def test_measures_are_whole_and_letters_large_enough(job: Job) -> None:
    """No line ends between a sign, a number, its fraction and its unit; none is under 3.05 mm."""
    for page in pages_of(job, typeface()):
        for one, after in pairwise(texts(page)):
            begins = re.match(r"(in|mm|cm|m|yd|kg|g|gsm|times|%|[0-9]+/[0-9]+)\b", after.text)
            below = (one.x, one.role) == (after.x, after.role) and one.y > after.y
            parted = below and begins and re.search(r"[0-9]$", one.text)
            assert not parted, (one.text, after.text)
            assert not one.text.endswith("≈")
        assert {t.role: t.size for t in texts(page) if t.size < SMALL} == {}
