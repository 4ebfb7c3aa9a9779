"""Job files made to break the tool, and every limit of it: each ends in lines that say what is so.

Every limit has a line of its own, and one less of it is taken.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import drapetemplate
from drapetemplate.document.model import Document
from drapetemplate.errors import DrapeError, JobError
from drapetemplate.job.parse import MOST_BYTES
from drapetemplate.planning import plan as planning
from drapetemplate.sheets.strip_list import strip_list
from tests.helpers.jobfiles import job_of, job_toml, panel_of
from tests.hostile.bounded import ended

pytestmark = pytest.mark.long

SMALL = 'outside = "20 mm"\nopening = "10 mm"'


def said(text: str) -> str:
    """What is wrong with a job file, once it is read, planned and laid out."""
    with pytest.raises(DrapeError) as refused:
        laid_out(text)
    return "\n".join(map(str, refused.value.faults))


def laid_out(text: str) -> tuple[Document, ...]:
    """A job file read, planned and laid out."""
    job = drapetemplate.read_job(text.encode(), "job.toml")
    return drapetemplate.lay_out(job, drapetemplate.plan_job(job))


def test_most_windows() -> None:
    """A thousand windows are read, one more is one fault that names the limit."""
    assert len(job_of(*["width = 20"] * 1000).windows) == 1000
    assert said(job_toml(*["width = 20"] * 1001)) == (
        "job.toml, line 10: window: 1001 windows: at most 1000"
    )


def test_most_bytes() -> None:
    """A job file of just the limit is read, a byte more isn't."""
    text = job_toml("width = 20\ncount = 2")
    filled = text + "#" * (MOST_BYTES - len(text))
    drapetemplate.read_job(filled.encode())
    assert said(filled + "#") == "job.toml: 1048577 bytes: a job file has 1048576 at most"


def test_most_eyelets() -> None:
    """A panel has 2,000 eyelets at most, asked for or by itself."""
    wide = 'width = "99 m"\npanels = "left"'
    assert panel_of(f"{wide}\ncount = 2000", eyelet=SMALL).count == 2000
    assert "count: 2002 " in said(job_toml(f"{wide}\ncount = 2002", eyelet=SMALL))
    # Nearest to the target would be 3,700.
    tiny = 'outside = "1 mm"\nopening = "0.5 mm"\nhung = "hooks"'
    held = panel_of(f'{wide}\ngap = "1 mm"', eyelet=tiny)
    assert (held.count, held.reason) == (2000, "nearest to the gap asked for, and 2,000 at most")
    # (99,000 - 38.1 - 76.2 + 35)/60 = 1,648.7, so the limit isn't in the way.
    free = panel_of(f'{wide}\ngap = "35 mm"', eyelet='outside = "25 mm"\nopening = "10 mm"')
    assert (free.count, free.reason) == (1648, "nearest to the gap asked for")


# Panels of some 60 sheets each: 97 fit on 2,000, or nearly.
MANY = [f'width = "{n} mm"\npanels = "left"\ncount = 20' for n in range(13_000, 13_100)]


def sheets_of(*bodies: str) -> int:
    """How many sheets these windows take."""
    job = job_of(*bodies, eyelet=SMALL)
    return strip_list(job, planning.plan(job).windows, None).sheets


def test_most_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """A job has 2,000 sheets at most, over all strips; told before a page of it is laid out."""
    each = [sheets_of(body) for body in MANY]
    fits = next(n for n in range(len(each)) if sum(each[: n + 1]) > 2000)
    assert sheets_of(*MANY[:fits]) == sum(each[:fits])
    monkeypatch.setattr(
        "drapetemplate.document.job_document.ticket", None
    )  # what would be laid out first
    assert said(job_toml(*MANY, eyelet=SMALL)) == (
        f"paper.size: {fits + 1} of this job's 100 strips take {sum(each[: fits + 1]):,} sheets "
        "already, and a job may take 2,000: use larger paper or a roll, or make several jobs of it"
    )


def test_most_eyelets_of_a_job() -> None:
    """On a roll, where a strip is one sheet, a job's strips have 20,000 eyelets at most."""
    roll = '[paper]\nsize = "24 in roll"'
    large = [f'width = "{n} mm"\npanels = "left"\ncount = 100' for n in range(4_800, 5_001)]
    job = job_of(*large[:200], eyelet=SMALL, tables=roll)
    assert strip_list(job, planning.plan(job).windows, None).sheets == 200
    refused = said(job_toml(*large, eyelet=SMALL, tables=roll))
    assert refused == (
        "window: this job's 201 strips have 20,100 eyelets to draw, and a job may have 20,000: "
        "make several jobs of it"
    )


def test_strips_alike_count_once() -> None:
    """A strip that many windows share takes its sheets once."""
    assert sheets_of(*MANY[:1] * 100) == sheets_of(MANY[0])


def test_most_work() -> None:
    """Large panels are planned up to so many; past that the job is told to be several."""
    large = [f'width = "{n} mm"\npanels = "left"\ncount = 2000' for n in range(90_000, 90_004)]
    assert len(planning.plan(job_of(*large[:2], eyelet=SMALL)).windows) == 2
    with pytest.raises(JobError) as refused:
        planning.plan(job_of(*large, eyelet=SMALL))
    [fault] = refused.value.faults
    assert str(fault) == (
        "window[3]: with this window the job has more large panels than this tool plans at once: "
        "make several jobs of it"
    )


def test_advice_is_for_common_panels(monkeypatch: pytest.MonkeyPatch) -> None:
    """Other counts are tried for advice up to 100 eyelets, which costs six plans more."""
    planned: list[int] = []
    once = planning._plan_window

    def counted(*args: object, **words: object) -> object:
        planned.append(1)
        return once(*args, **words)  # type: ignore[arg-type]

    monkeypatch.setattr(planning, "_plan_window", counted)
    tries = {}
    for count in (100, 102):
        body = f'width = "{count * 140} mm"\ncount = {count}'
        planning.plan(job_of(body, tables='[fabric]\nwidth = "700 mm"', eyelet=SMALL))
        tries[count] = len(planned)
        planned.clear()
    assert tries[100] > 1
    assert tries[102] == 1


def test_finest_repeat() -> None:
    """A repeat across of 1/16 in is matched; a finer one is refused, however large the panel."""
    tables = "[fabric]\nwidth = 54\nrepeat_across = '{}'"
    assert panel_of("width = 100", tables=tables.format("1/16 in")).seams is not None
    for width in ("20", "100"):
        assert said(job_toml(f"width = {width}", tables=tables.format("1/17 in"))) == (
            "window[1].fabric.repeat_across: 1/16 in or more, or leave it out: so fine a pattern "
            "needs no matching"
        )


DEEP = 100_000
CORPUS = {
    "empty": b"",
    "zeros": bytes(MOST_BYTES),
    "bytes": bytes(range(256)) * 4000,
    "halves": b"\xed\xa0\x80" * 1000,
    "utf-16": job_toml().encode("utf-16"),
    "brackets": b"a = " + b"[" * DEEP,
    "braces": b"a = " + b"{a = " * DEEP,
    "tables": b"[a" * DEEP,
    "dots": b"a" + b".a" * DEEP + b" = 1",
    "dotted-tables": b"".join(b"[a" + b".b" * n + b"]\n" for n in range(1000)),
    "quotes": b'"' * DEEP,
    "triple-quotes": b'a = """' + b"x" * DEEP,
    "backslashes": b'a = "' + b"\\" * DEEP + b'"',
    "digits": b"a = " + b"9" * DEEP,
    "exponent": job_toml("width = 1e999999999").encode(),
    "exponent-small": job_toml("width = 1e-999999999").encode(),
    "fraction": job_toml(f"width = '1 1/{'9' * 5000}'").encode(),
    "nan": job_toml("width = nan").encode(),
    "infinite": job_toml("width = inf").encode(),
    "negative": job_toml("width = -1").encode(),
    "keys": "".join(f"k{n} = {n}\n" for n in range(90_000)).encode(),
    "same-key": b"a = 1\n" * DEEP,
    "comments": b"#\n" * (MOST_BYTES // 2),
    "windows": b"[[window]]\n" * (MOST_BYTES // 11),
    "windows-in-windows": b"[[window.window.window]]\n" * 10_000,
    "window-number": b"window = 5\n" + job_toml().encode(),
    "every-width-faulty": job_toml(*["width = '1/0'"] * 1000).encode(),
    "unknown-keys": job_toml(*[f"wdith{n} = 1" for n in range(1000)]).encode(),
    "date": b"[job]\nname = 2031-13-45\n",
    "dates": job_toml(job="due = 9999-99-99").encode(),
    "name-long": job_toml(f"name = '{'x' * 30_000}'").encode(),
    "words-long": job_toml(job=f"notes = '{'x ' * 9000}'").encode(),
    "opening-tiny": job_toml(eyelet="outside = '1e-30 mm'\nopening = '1e-31 mm'").encode(),
    "paper-tiny": job_toml(tables="[paper]\nsize = '0.001 x 0.001 in'").encode(),
    "paper-huge": job_toml(tables="[paper]\nsize = '199 x 199 in'").encode(),
    "overlap": job_toml(tables="[paper]\noverlap = '99 m'").encode(),
    "band": job_toml("width = 20", tables="[band]\nheight = '99 m'").encode(),
    "repeat": job_toml(
        "width = 300", tables="[fabric]\nwidth = 54\nrepeat_across = '0.000001 mm'"
    ).encode(),
    "cloth-narrow": job_toml(
        "width = '99 m'", tables="[fabric]\nwidth = '3 mm'\nseam = 0\nside_hem = 0"
    ).encode(),
    "quantity": job_toml("quantity = 1000\nwidth = 20\nlength = '100 m'").encode(),
}


@pytest.mark.parametrize("name", CORPUS)
def test_corpus(name: str, tmp_path: Path) -> None:
    """Each ends, breaks nothing, and where it is refused is told in few lines."""
    path = tmp_path / "job.toml"
    path.write_bytes(CORPUS[name])
    for words in (["plan", path], ["make", path]):
        run = ended(words, tmp_path)
        assert run.wrong() == ""
        assert len(run.err.splitlines()) <= 150
        assert max(map(len, run.err.splitlines()), default=0) <= 1000
        assert (tmp_path / "job.pdf").exists() is (run.code == 0 and words[0] == "make")
