"""Jobs on a shelf listed: each once, found by its words and its day, what is doubtful told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from drapetemplate.shelf.kept import Kept, Kind, PassedOver
from drapetemplate.shelf.listing import (
    SAME_NUMBER,
    STALE_PDF,
    Doubt,
    ListedJob,
    Listing,
    found_by,
    listed_job,
    listing,
)
from tests.helpers.jobfiles import NAME, job_toml

LINEN = job_toml(
    "width = 60\nquantity = 3\nname = 'Étagère'",
    "width = 50\npanels = 'left'",
    job='number = "HP-9"\nclient = "Straße & Söhne"\nroom = "Linen store"\ndue = 2027-02-10\n'
    'notes = "two\\nladders"',
    tables='[fabric]\nname = "Grey Wool"\nwidth = 54',
)
LAMP = job_toml(job='number = "hp-10"\ndue = 2027-02-10')
PANTRY = job_toml(job='number = "HP-2"\ndue = 2027-02-09')
SILENT = job_toml(tables='[paper]\nsize = "24 in roll"')


def kept(path: str, job: str, sheets: int | None = None) -> Kept:
    """A job at a path: a PDF if it ends so."""
    kind: Kind = "PDF" if path.endswith(".pdf") else "job file"
    return Kept(Path(path), kind, job.encode(), sheets)


SHELF = (
    kept("a/lamp.toml", LAMP),
    kept("a/linen.pdf", LINEN, 12),
    kept("b/linen.toml", LINEN),
    kept("b/linen-ticket.pdf", LINEN, 0),
    PassedOver(Path("b/x.pdf"), "no job in it"),
    kept("pantry.toml", PANTRY),
    kept("quiet.toml", SILENT),
)


def names(found: Listing) -> list[str]:
    """The first file of each job that is listed."""
    return [job.places[0].path.name for job in found.jobs]


def test_each_once_in_order() -> None:
    """By day, then by number as people count, what has no day last; every file with its job."""
    found = listing(SHELF)
    assert names(found) == ["pantry.toml", "linen.pdf", "lamp.toml", "quiet.toml"]
    assert (found.kept, found.undated, found.doubts) == (4, 0, ())
    assert [each.path.name for each in found.passed_over] == ["x.pdf"]
    linen = found.jobs[1]
    assert [str(place.path) for place in linen.places] == [
        "a/linen.pdf",
        "b/linen.toml",
        "b/linen-ticket.pdf",
    ]
    # Three pairs and a left panel; the sheets are the template's, not the ticket's none.
    assert (linen.panels, linen.sheets, linen.on_roll) == (7, 12, False)
    assert (linen.number, linen.name, linen.due) == ("HP-9", NAME, date(2027, 2, 10))
    quiet = found.jobs[3]
    assert (quiet.due, quiet.number, quiet.sheets, quiet.on_roll) == (None, None, None, True)


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["linen"], ["pantry.toml", "linen.pdf", "lamp.toml", "quiet.toml"]),
        (["HP-9"], ["linen.pdf"]),
        (["etagere"], ["linen.pdf"]),
        (["ÉTAGÈRE", "wool"], ["linen.pdf"]),
        (["strasse"], ["linen.pdf"]),
        (["sohne"], ["linen.pdf"]),
        (["two ladders"], ["linen.pdf"]),
        (["grey  wool"], ["linen.pdf"]),
        (["store grey"], []),
        (["wool", "HP-2"], []),
        (["ticket"], ["linen.pdf"]),
        (["quiet"], ["quiet.toml"]),
        (["nothing"], []),
        ([" "], ["pantry.toml", "linen.pdf", "lamp.toml", "quiet.toml"]),
    ],
)
def test_words(words: list[str], expected: list[str]) -> None:
    """All words must stand somewhere in what a job says of itself, each in one place."""
    assert names(listing(SHELF, words)) == expected


def test_due_before() -> None:
    """The day itself isn't before it; jobs without one are counted where they have the words."""
    found = listing(SHELF, due_before=date(2027, 2, 10))
    assert (names(found), found.undated, found.kept) == (["pantry.toml"], 1, 4)
    assert listing(SHELF, ["wool"], date(2027, 2, 10)).undated == 0
    assert len(listing(SHELF, due_before=date(2027, 2, 11)).jobs) == 3


def test_faulty_job_is_listed() -> None:
    """A job file with faults has what its [job] table says, and their number; never is it lost."""
    faulty = job_toml("width = '60x'\nheight = 3", job='number = "HP-7"\ndue = 2027-01-01')
    torn = '[job]\nname = "x\n[[window]]'
    odd = "job = 3\n[[window]]\nwidth = 60\n"
    first, *others = listing(
        [kept("f.toml", faulty), kept("torn.toml", torn), kept("odd.toml", odd)]
    ).jobs
    assert (first.number, first.name, first.due) == ("HP-7", NAME, date(2027, 1, 1))
    assert (first.panels, first.faults) == (None, 2)
    assert [(job.name, job.due, job.faults > 0) for job in others] == [(None, None, True)] * 2


def test_pdf_of_other_answers() -> None:
    """A PDF beside a job file that was changed since is told, and a roll's ticket likewise."""
    now = LAMP.replace("60", "61")
    shelf = [
        kept("a/lamp.pdf", LAMP),
        kept("a/lamp-ticket.pdf", LAMP),
        kept("a/lamp.toml", now),
        kept("b/lamp.toml", PANTRY),
    ]
    found = listing(shelf)
    assert set(found.doubts) == {
        Doubt(STALE_PDF, (Path("a/lamp.pdf"), Path("a/lamp.toml"))),
        Doubt(STALE_PDF, (Path("a/lamp-ticket.pdf"), Path("a/lamp.toml"))),
    }
    assert listing(shelf, ["hp-2"]).doubts == ()
    # A job of its own that is named for a ticket.
    assert listing([kept("a-ticket.toml", LAMP), kept("a-ticket.pdf", LAMP)]).doubts == ()


def test_pdf_of_other_answers_in_another_folder() -> None:
    """A PDF kept away from its job file, under another name, is told by the job that it is of.

    Of two job files nobody knows which it was made from; nor is another job of its number it.
    """
    now = LAMP.replace("60", "61")
    pdf, lamp = kept("pdfs/hp-10 lamp.pdf", LAMP), kept("lamp.toml", now)
    stale = (Doubt(STALE_PDF, (pdf.path, lamp.path)),)
    assert listing([lamp, pdf]).doubts == listing([pdf, lamp]).doubts == stale
    unnumbered = [replace(each, job=each.job.replace(b"hp-10", b"")) for each in (lamp, pdf)]
    assert listing(unnumbered).doubts == stale
    other = kept("old/lamp.toml", LAMP.replace("60", "62"))
    three = Doubt(SAME_NUMBER, (lamp.path, pdf.path, other.path), "hp-10")
    assert listing([lamp, pdf, other]).doubts == (three,)
    renamed = kept("lamp.toml", now.replace(NAME, "Heron Point, attic"))
    two = Doubt(SAME_NUMBER, (renamed.path, pdf.path), "hp-10")
    assert listing([renamed, pdf]).doubts == (two,)
    # What the PDF was made from is there as well, beside a newer job file of the same number.
    assert len(listing([kept("as made.toml", LAMP), pdf, lamp]).doubts) == 1


def test_remarks_make_no_other_job() -> None:
    """A job file that says the same in other bytes is the job of its PDF; a new note is another."""
    said = LAMP.replace("width = 60", 'width = "5 ft"\r\n# measured twice')
    found = listing([kept("lamp.pdf", LAMP, 5), kept("lamp.toml", said)])
    assert ([job.sheets for job in found.jobs], found.doubts) == ([5], ())
    first, second = found.jobs[0].places
    assert first.identity != second.identity
    noted = LAMP.replace("[eyelet]", 'notes = "after Monday"\n[eyelet]')
    assert len(listing([kept("lamp.pdf", LAMP), kept("lamp.toml", noted)]).doubts) == 1


def test_one_number_of_two_jobs() -> None:
    """Jobs that differ and have one number, however it is written, are told with their files."""
    other = LAMP.replace("hp-10", "HP-10").replace("60", "61")
    found = listing([kept("lamp.toml", LAMP), kept("old/lamp.toml", other)])
    assert found.doubts == (
        Doubt(SAME_NUMBER, (Path("lamp.toml"), Path("old/lamp.toml")), "hp-10"),
    )
    assert listing([kept("q.toml", SILENT), kept("r.toml", SILENT + "#")]).doubts == ()


def test_what_versions_of_a_job_share() -> None:
    """Without a number name, client and room: one of another room isn't it."""
    in_hall = job_toml(job='client = "The house"\nroom = "Hall"')
    pdf, lamp = kept("pdfs/lamp.pdf", in_hall), kept("lamp.toml", in_hall.replace("60", "61"))
    assert listing([lamp, pdf]).doubts == (Doubt(STALE_PDF, (pdf.path, lamp.path)),)
    for before, after in (("Hall", "Attic"), ("The house", "The lodge"), (NAME, "Heron Point, b")):
        other = replace(lamp, job=lamp.job.replace(before.encode(), after.encode()))
        assert listing([other, pdf]).doubts == ()


def test_what_a_faulty_job_is_found_by() -> None:
    """All that its [job] table says and can be read: a number that is one, no list, no odd day."""
    faulty = job_toml(
        "width = '60x'",
        job='number = 41\nclient = "Söhne"\nroom = "Attic"\ndue = "soon"\nnotes = "two ladders"',
    )
    job = listed_job(faulty.encode())
    assert job == ListedJob(
        name=NAME,
        number="41",
        client="Söhne",
        room="Attic",
        faults=2,
        words=("two ladders",),
    )
    assert found_by(job) == ["41", NAME, "Söhne", "Attic", "two ladders"]
    odd = listed_job(faulty.replace('"Attic"', "[1]").replace("two ladders", "").encode())
    assert (odd.room, odd.words, odd.faults) == (None, (), 3)
