"""What the tool costs, each figure a ratio to a floor in one run.

`python -m tests.benchmarks.bench` prints all.

Times are processor time, the least of several runs, so that another program on the machine costs
little; memory is the most a process held. `tests/benchmarks/test_whole_cost.py` holds the bounds.
"""

from __future__ import annotations

import re
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from pathlib import Path

from pdfminer.high_level import extract_pages
from pypdf import PdfReader

import drapetemplate
from drapetemplate.cli.completion_scripts import VARIABLE
from drapetemplate.cli.order import order_for
from drapetemplate.document.model import Document
from drapetemplate.drawing.marks import Circle, Line, Text
from drapetemplate.measure.check_pdf import measure
from drapetemplate.planning.plan import plan
from drapetemplate.record.write import as_record
from drapetemplate.render.backend import render
from drapetemplate.render.font_metrics import FONTS
from drapetemplate.render.pdf import PdfBackend
from drapetemplate.render.typeface import typeface
from drapetemplate.shelf.kept import kept_jobs
from drapetemplate.shelf.listing import listing
from tests.benchmarks import bare_canvas, raw_pdf

HERE = Path(__file__).parent
WORD = re.compile(rb"\S+")
COMPLETED = f"""
import os, sys
os.environ["{VARIABLE}"] = "fish"
sys.argv[0] = "drapetemplate"
from drapetemplate.cli import main
main()
"""
PAIR = """
[job]
name = "Heron Point, bench"
[paper]
strips = "each"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
hole = "1 5/8"
[[window]]
width = "{width}"
panels = "{panels}"
"""
TWELVE_SHEETS = PAIR.format(width=46, panels="pair")


@dataclass(frozen=True)
class Figure:
    """One line of the table: what it is, the ratio measured, the aim and the bound."""

    name: str
    ratio: float
    aim: float
    bound: float


def spent(work: Callable[[], object], runs: int = 5) -> float:
    """The least processor time of several runs, in seconds."""
    found = []
    for _ in range(runs):
        start = time.process_time()
        work()
        found.append(time.process_time() - start)
    return min(found)


def process(*words: object, runs: int = 5) -> float:
    """The least processor time of a whole process, in seconds."""
    found = []
    for _ in range(runs):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run([sys.executable, *map(str, words)], check=True, capture_output=True)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        found.append(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime)
    return min(found)


@cache
def document(toml: str = TWELVE_SHEETS) -> Document:
    """A job laid out."""
    job = drapetemplate.read_job(toml.encode())
    return drapetemplate.lay_out(job, drapetemplate.plan_job(job))[0]


def whole() -> list[Figure]:
    """`make` of a pair on twelve sheets, against a process that draws as many marks.

    With the job file put in by another library, and without, as nothing but drawing.
    """
    made = document()
    assert sum(", sheet " in page.label for page in made.pages) == 12
    kinds = {Line: 0, Circle: 0, Text: 0}
    for page in made.pages:
        for mark in page.marks:
            kind = type(mark)
            kinds[kind if kind in kinds else Line] += 1
    pages = len(made.pages)
    each = [round(number / pages) for number in kinds.values()]
    with tempfile.TemporaryDirectory() as folder:
        job, out = Path(folder, "job.toml"), Path(folder, "job.pdf")
        job.write_text(TWELVE_SHEETS)
        ours = process("-m", "drapetemplate", "make", job, "--out", out)
        bare = (HERE / "bare_process.py", pages, *each, FONTS, out)
        kept, drawn = process(*bare, job), process(*bare)
    return [
        Figure("make, 12 sheets, against drawn and kept bare", ours / kept, 1.5, 2.0),
        Figure("make, 12 sheets, against drawn bare", ours / drawn, 2.5, 3.5),
    ]


def starting() -> list[Figure]:
    """What is answered at once: each against the library that it can't do without.

    The version against Python itself, help against its parser, a plan and what a shell asks
    while its user types against the library that reads a job file.
    """
    bare, parser = process("-c", "pass", runs=10), process("-c", "import typer", runs=10)
    reader = process("-c", "import typer, pydantic; pydantic.BaseModel", runs=10)
    version = process("-m", "drapetemplate", "--version", runs=10)
    told = process("-m", "drapetemplate", "--help", runs=10)
    asked = process("-c", COMPLETED, "make", "--accept", "", runs=10)
    with tempfile.TemporaryDirectory() as folder:
        job, out = Path(folder, "job.toml"), Path(folder, "counts.pdf")
        job.write_text(TWELVE_SHEETS)
        planned = process("-m", "drapetemplate", "plan", job, "--json")
        made = process("-m", "drapetemplate", "make", job, "--out", out)
        beside = "10,12,14,16,18"
        drawn = process("-m", "drapetemplate", "compare", job, "--counts", beside, "--pdf", out)
    return [
        Figure("--version, against python alone", version / bare, 1.5, 2.0),
        Figure("--help, against loading its parser", told / parser, 1.3, 1.6),
        Figure("a word completed, against loading its parser", asked / parser, 1.3, 1.6),
        Figure("plan --json, against loading typer and pydantic", planned / reader, 2.0, 3.0),
        Figure("compare --pdf of 5 counts, against make", drawn / made, 1.0, 1.3),
    ]


def drawing(toml: str = TWELVE_SHEETS, runs: int = 5) -> list[Figure]:
    """Pages drawn and their bytes, against reportlab's canvas, and against streams by hand.

    By hand no font is cut down while the time runs: the tool's time has that in it.
    """
    made = document(toml)
    ours = spent(lambda: render(made, PdfBackend(made.title)), runs)
    canvas = spent(lambda: render(made, bare_canvas.Bare()), runs)
    by_hand = spent(lambda: raw_pdf.contents(made), runs)
    bytes_ours = len(drapetemplate.to_pdf(made, toml.encode()))
    bytes_canvas = len(render(made, bare_canvas.Bare()))
    bytes_by_hand = len(raw_pdf.raw_pdf(made))
    return [
        Figure("drawing, against reportlab's canvas", ours / canvas, 1.0, 1.2),
        Figure("drawing, against streams by hand", ours / by_hand, 1.5, 2.6),
        Figure("PDF bytes, against the canvas's", bytes_ours / bytes_canvas, 0.8, 0.9),
        Figure("PDF bytes, against those by hand", bytes_ours / bytes_by_hand, 1.2, 1.4),
    ]


def measuring(toml: str = TWELVE_SHEETS, runs: int = 3) -> list[Figure]:
    """`measure`, against laying out the job, which it can't do without, and reading bare.

    Read bare is: pypdf opens the file, each page's content is unpacked and split into words. The
    other floor is pdfminer's layout of the same pages alone.
    """
    pdf = drapetemplate.to_pdf(document(toml), toml.encode())

    def bare() -> None:
        drapetemplate.to_pdf(document.__wrapped__(toml), toml.encode())
        for page in PdfReader(BytesIO(pdf)).pages:
            content = page.get_contents()
            assert content is not None
            assert WORD.findall(content.get_data())

    def mined() -> None:
        assert all(len(page) for page in extract_pages(BytesIO(pdf)))

    ours = spent(lambda: measure(pdf, "bench.pdf", typeface(), drapetemplate.to_pdf), runs)
    return [
        Figure("measure, against making and words split", ours / spent(bare, runs), 2.5, 3.5),
        Figure("measure, against pdfminer's layout alone", ours / spent(mined, runs), 0.7, 1.0),
    ]


def growth() -> Figure:
    """What an inch of a wide panel costs, against an inch of a narrow one.

    Each is the difference of two widths by the inches between them, so that what any panel costs
    alike isn't in it. 3,900 in is 99 m; the tool takes no panel over 100 m.
    """

    def laid(width: int) -> float:
        def whole() -> None:
            made = document.__wrapped__(PAIR.format(width=width, panels="left"))
            drapetemplate.to_pdf(made, b"")

        return spent(whole, 5 if width < 1000 else 2)

    narrow, middle, wide = laid(39), laid(390), laid(3900)
    ratio = (wide - middle) / (3900 - 390) / ((middle - narrow) / (390 - 39))
    return Figure("an inch of 3,900, against an inch of 390", ratio, 1.0, 2.0)


def hotel(windows: int) -> list[Figure]:
    """A hotel's windows in one job, drawn and measured, against the same floors."""
    own = (
        f'[[window]]\nname = "Room {n}"\nwidth = {60 + 4 * (n % 30)}\npanels = "pair"'
        for n in range(1, windows + 1)
    )
    toml = TWELVE_SHEETS[: TWELVE_SHEETS.index("[[window]]")] + "\n".join(own)
    pages = len(document(toml).pages)
    return [
        replace(figure, name=f"{pages} pages: {figure.name}")
        for figure in (*drawing(toml, 1), *measuring(toml, 1))
    ]


def shelved(count: int = 60) -> list[Figure]:
    """A kept PDF found and listed, against its bytes and its job file bare, each read once.

    And ordered for with all others, against its job file read and planned.
    """
    made = document()
    jobs = [TWELVE_SHEETS.replace("bench", f"bench {n}").encode() for n in range(count)]
    with tempfile.TemporaryDirectory() as folder:
        paths = [Path(folder, f"{n}.pdf") for n in range(count)]
        for path, job in zip(paths, jobs, strict=True):
            path.write_bytes(as_record(made, job))

        def bare() -> None:
            for path, job in zip(paths, jobs, strict=True):
                assert job not in path.read_bytes()  # packed
                drapetemplate.read_job(job)

        def ours() -> None:
            assert len(listing(kept_jobs([Path(folder)])).jobs) == count

        def planned() -> None:
            for job in jobs:
                plan(drapetemplate.read_job(job), advise=False)

        def ordered() -> None:
            assert len(order_for([Path(folder)], workers=1).ordered.order.jobs) == count

        listed, together = spent(ours) / spent(bare), spent(ordered) / spent(planned)
        return [
            Figure("a kept PDF, against file and job bare", listed, 3.0, 5.0),
            Figure("a kept PDF in an order, against planning", together, 2.0, 3.0),
        ]


MANY = """
import resource, sys
from pathlib import Path
from drapetemplate.cli import make
workers, jobs = int(sys.argv[1]), sorted(Path(".").glob("*.toml"))
targets = [Path("out", job.stem + ".pdf") for job in jobs]
requests = make.requests_for(jobs, targets, frozenset(), None)
for n, outcome in enumerate(make.make_all(requests, workers), 1):
    assert outcome.exit_code == 0, outcome
    if n in (len(jobs) // 10, len(jobs)):
        print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""


@contextmanager
def folder_of(count: int) -> Iterator[Path]:
    """A folder of so many jobs, each a sheet or two."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "out").mkdir()
        for n in range(count):
            text = PAIR.format(width=20 + n % 7, panels="left").replace("bench", f"bench {n}")
            (Path(folder) / f"j{n:04}.toml").write_text(text)
        yield Path(folder)


def made(folder: Path, workers: int) -> tuple[float, list[int]]:
    """The seconds that all jobs of a folder take in one call; memory at a tenth and at the end."""
    start = time.perf_counter()
    run = subprocess.run(
        [sys.executable, "-c", MANY, str(workers)],
        check=True,
        capture_output=True,
        text=True,
        cwd=folder,
    )
    return time.perf_counter() - start, [int(word) for word in run.stdout.split()]


def many(count: int) -> list[Figure]:
    """Many jobs in one call: what each costs, against a process a job; memory as they go on."""
    with folder_of(count) as folder:
        one = process("-m", "drapetemplate", "make", folder / "j0000.toml", "--out", folder)
        seconds, (early, late) = made(folder, 1)
    return [
        Figure(f"a job of {count}, against one process alone", seconds / count / one, 0.5, 0.7),
        Figure(f"memory at job {count}, against job {count // 10}", late / early, 1.0, 1.05),
    ]


def shared(count: int) -> Figure:
    """Two workers, by the clock: on a machine with anything else to do this says nothing."""
    with folder_of(count) as folder:
        alone, two = made(folder, 1)[0], made(folder, 2)[0]
    return Figure(f"two workers, {count} jobs, against half one's time", two / alone * 2, 1.11, 1.4)


def table(figures: list[Figure]) -> str:
    """The figures for people, as DEVELOPERS.md holds them."""
    lines = ["| what | ratio | aim | never above |", "|---|---|---|---|"]
    lines += [f"| {f.name} | {f.ratio:.2f} | {f.aim:g} | {f.bound:g} |" for f in figures]
    return "\n".join(lines)


if __name__ == "__main__":
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    sys.stdout.write(
        table(
            [
                *starting(),
                *whole(),
                *drawing(),
                *measuring(),
                growth(),
                *hotel(30),
                *shelved(),
                *many(count),
                shared(count),
            ]
        )
        + "\n"
    )
