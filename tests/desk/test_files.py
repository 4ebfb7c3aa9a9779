"""What the desk reads and writes: the job file, its draft, the PDF. At a real server's socket."""

from __future__ import annotations

import difflib
import json
import os
import re
import shutil
import signal
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from drapetemplate.job.build import read_job
from drapetemplate.measures import INCH
from tests.helpers.commands import run, typed
from tests.helpers.desk_server import Answer, RunningDesk, running
from tests.helpers.jobfiles import LEAST

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
ANSWERS = {
    "job.name": "Heron Point, writing room",
    "window[1].width": "88",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
}
COMMENTED = f"# Cut on Monday.\n{LEAST}panels = 'left'   # as seen from the room\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with one job file."""
    (tmp_path / "folder").mkdir()
    (tmp_path / "folder" / "job.toml").write_text(COMMENTED)
    return tmp_path / "folder"


@pytest.fixture
def desk(folder: Path) -> Iterator[RunningDesk]:
    """A desk that has it open; it has nothing to say when the test is over."""
    with running(folder, "job.toml", "--no-open") as desk:
        yield desk
        assert desk.lives()


def save(
    desk: RunningDesk,
    answers: Mapping[str, str],
    name: str | None = None,
    revision: str | None = None,
    page: str = "page-1",
) -> Answer:
    """What the desk says to a page that saves."""
    body = {"answers": answers, "name": name, "revision": revision, "replace": False}
    return desk.ask("/save", body, page)


def keep(desk: RunningDesk, answers: Mapping[str, str], page: str = "page-1") -> Answer:
    """What the desk says to a page that keeps what is typed."""
    return desk.ask("/draft", {"answers": answers, "page": page}, page)


def pdfs(
    desk: RunningDesk, answers: Mapping[str, str], accept: list[str]
) -> Iterator[tuple[str, bytes]]:
    """Every PDF of a job, with its name."""
    part, parts = 0, 1
    while part < parts:
        answer = desk.ask("/pdf", {"answers": answers, "accept": accept, "part": part})
        assert answer.status == 200, answer.body
        assert answer.headers["content-type"] == "application/pdf"
        parts = int(answer.headers["x-desk-parts"])
        name = answer.headers["content-disposition"].partition("UTF-8''")[2]
        yield name, answer.body
        part += 1


def stops_of(job: Path) -> list[str]:
    """The codes of the stops that a job's plan has."""
    told = json.loads(run("plan", job, "--json").output)
    return sorted(
        {
            finding["code"]
            for window in told["windows"]
            for finding in window["findings"]
            if finding["level"] == "stop"
        }
    )


def test_a_job_is_typed_saved_and_made(tmp_path: Path) -> None:
    """The PDF to save is the one that `make` makes of the saved job file, byte for byte."""
    folder = tmp_path / "new"
    folder.mkdir()
    with running(folder, "--no-open") as desk:
        start = desk.start()
        assert start["file"] is None
        assert start["revision"] is None
        ((name, before),) = pdfs(desk, ANSWERS, [])
        assert name == "heron_point_writing_room.pdf"
        saved = save(desk, ANSWERS, "writing room").json
        assert saved["file"] == "writing room.toml"
        ((name, after),) = pdfs(desk, ANSWERS, [])
        assert name == "writing%20room.pdf"
    assert typed("make", saved["file"], cwd=folder).returncode == 0
    made = (folder / "writing room.pdf").read_bytes()
    assert before == after == made
    measured = typed("measure", "writing room.pdf", cwd=folder)
    assert measured.returncode == 0
    assert b"true" in measured.stdout


def test_a_saved_job_is_as_if_asked_for_at_a_terminal(tmp_path: Path) -> None:
    """Every key stands there, those at their default behind a #, as in the files of `new`."""
    folder = tmp_path / "new"
    folder.mkdir()
    with running(folder, "--no-open") as desk:
        desk.start()
        saved = save(desk, ANSWERS, "mine").json
        text = (folder / "mine.toml").read_text()
        assert '# hole = "…"' in text
        changed = {**ANSWERS, "eyelet.hole": "1 5/8", "pole.top": "96", "?job": "yes"}
        changed |= {"job.room": "Landing"}
        assert save(desk, changed, None, saved["revision"]).status == 200
    after = (folder / "mine.toml").read_text()
    lines = [line for line in difflib.ndiff(text.split("\n"), after.split("\n")) if line[0] in "+-"]
    assert [re.sub(r"\s+#.*", "", line[2:]) for line in lines if line[0] == "+"] == [
        'room = "Landing"', 'hole = "1 5/8"', "[pole]", 'top = "96"',
    ]  # fmt: skip
    assert len(lines) == 8
    assert "# What the cutting die cuts" in next(line for line in lines if "+ hole" in line)


CHANGED = {
    "bathing_house": ('height = "2 1/2"', 'height = "2 3/4"', "band.height"),
    "boot_room": ('width = "71 3/4"', 'width = "72 1/4"', "window[1].width"),
    "card_room": ('fullness = "2.1"', 'fullness = "2.2"', "window[1].fullness"),
    "garden_room": ("projection = 90", "projection = 92.5", "pole.projection"),
    "long_gallery": ('width = "60"', 'width = "61 1/2"', "lining.width"),
    "morning_room": ('length = "96"  ', 'length = "98"  ', "pole.length"),
    "stair_hall": ('covers = "44"  ', 'covers = "45"  ', "window[1].covers"),
    "tide_room": ("top = 2420  ", "top = 2455  ", "pole.top"),
    "writing_room": ('width = "91 1/2"', 'width = "90 1/2"', "window[1].width"),
}
"""Of each sample one line as it is, as someone would change it, and the path of that answer."""


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_samples_opened_and_one_measure_changed(sample: Path, tmp_path: Path) -> None:
    """It is as if the one line had been changed in an editor, to the last byte of the PDF."""
    old, new, path = CHANGED[sample.stem]
    text = sample.read_text()
    assert text.count(f"\n{old}") == 1
    by_hand = tmp_path / "by hand" / sample.name
    by_hand.parent.mkdir()
    by_hand.write_text(text.replace(f"\n{old}", f"\n{new}"))
    folder = tmp_path / "desk"
    folder.mkdir()
    shutil.copy(sample, folder)
    with running(folder, sample.name, "--no-open") as desk:
        start = desk.start()
        assert (start["from"], start["left_out"], start["faults"]) == ("file", [], [])
        answers = start["answers"]
        assert save(desk, answers, None, start["revision"]).json["revision"] == start["revision"]
        assert (folder / sample.name).read_text() == text
        answers = {**answers, path: new.partition("= ")[2].strip().strip('"')}
        accept = stops_of(by_hand)
        drawn = dict(pdfs(desk, answers, accept))
        assert save(desk, answers, None, start["revision"]).status == 200
        assert (folder / sample.name).read_text() == by_hand.read_text()
        assert desk.lives()
    options = [word for code in accept for word in ("--accept", code)]
    made = tmp_path / "made"
    made.mkdir()
    assert run("make", folder / sample.name, "--out", made, *options).exit_code == 0
    assert drawn == {pdf.name: pdf.read_bytes() for pdf in made.glob("*.pdf")}


def test_a_roll_has_two_pdfs(tmp_path: Path) -> None:
    """The template and its ticket, each as `make` writes it; there is no third."""
    folder = tmp_path / "roll"
    folder.mkdir()
    (folder / "job.toml").write_text(f'{LEAST}[paper]\nsize = "24 in roll"\n')
    with running(folder, "job.toml", "--no-open") as desk:
        answers = desk.start()["answers"]
        drawn = dict(pdfs(desk, answers, []))
        body = {"answers": answers, "accept": [], "part": 2}
        assert desk.ask("/pdf", body).status == 422
    assert list(drawn) == ["job.pdf", "job-ticket.pdf"]
    assert typed("make", "job.toml", cwd=folder).returncode == 0
    assert drawn == {name: (folder / name).read_bytes() for name in drawn}


def test_the_clients_page(tmp_path: Path) -> None:
    """It is byte for byte the one that `picture --page approval` draws of the saved job file."""
    folder = tmp_path / "client"
    folder.mkdir()
    (folder / "job.toml").write_text(LEAST)
    with running(folder, "job.toml", "--no-open") as desk:
        answers = desk.start()["answers"]
        answer = desk.ask("/approval", {"answers": answers})
        wrong = {"answers": {**answers, "window[1].width": "88 parsecs"}}
        refused = desk.ask("/approval", wrong)
    assert refused.json["faults"][0]["path"] == "window[1].width"
    assert answer.headers["content-disposition"].endswith("job-approval.pdf")
    drawn = typed("picture", "job.toml", "--page", "approval", "--out", "a.pdf", cwd=folder)
    assert drawn.returncode == 0
    assert answer.body == (folder / "a.pdf").read_bytes()


def test_no_pdf_of_what_cant_be_made(desk: RunningDesk) -> None:
    """A fault, a stop nobody takes on, a code that is none: told, with the field where it is."""
    answers = desk.start()["answers"]

    def told(changed: Mapping[str, str], accept: list[str]) -> list[dict[str, str]]:
        body = {"answers": {**answers, **changed}, "accept": accept, "part": 0}
        answer = desk.ask("/pdf", body)
        assert answer.status == 422
        faults: list[dict[str, str]] = answer.json["faults"]
        return faults

    (fault,) = told({"window[1].width": "88 parsecs"}, [])
    assert fault["path"] == "window[1].width"
    assert "88 parsecs" in fault["text"]
    (fault,) = told({"?job": "yes", "job.due": "the 40th of May"}, [])
    assert fault["path"] == "job.due"
    (fault,) = told({}, ["no-such-stop"])
    assert "no-such-stop" in fault["text"]
    near = {"pole.projection": "2", "pole.diameter": "1"}
    (fault,) = told(near, [])
    assert fault["path"] == ""
    assert fault["text"].startswith("back folds hit the wall: ")
    body = {"answers": {**answers, **near}, "accept": ["back-fold-hits-wall"], "part": 0}
    assert desk.ask("/pdf", body).status == 200


def test_a_printer_that_the_file_names_is_corrected_for(tmp_path: Path) -> None:
    """Its key is asked by no question: it stays in the file, and counts in the PDF."""
    folder = tmp_path / "printed"
    folder.mkdir()
    env = {"XDG_CONFIG_HOME": str(tmp_path)}
    (folder / "job.toml").write_text(f'{LEAST}[paper]\nprinter = "laser"  # the new one\n')
    bars = ("--across", "149.6", "--down", "150.2", "--save", "laser")
    assert typed("calibrate", *bars, cwd=folder, env=env).returncode == 0
    with running(folder, "job.toml", "--no-open", env=env) as desk:
        start = desk.start()
        assert start["left_out"] == ["paper.printer"]
        answers = {**start["answers"], "window[1].width": "90"}
        ((_, drawn),) = pdfs(desk, answers, [])
        assert save(desk, answers, None, start["revision"]).status == 200
    text = (folder / "job.toml").read_text()
    assert text == f'{LEAST}[paper]\nprinter = "laser"  # the new one\n'.replace("88", "90")
    assert typed("make", "job.toml", cwd=folder, env=env).returncode == 0
    assert drawn == (folder / "job.pdf").read_bytes()


def test_a_file_that_cant_be_changed_is_saved_under_another_name(folder: Path) -> None:
    """Its own name is refused, and said so; under the other all is written anew."""
    text = COMMENTED.replace("[[window]]", "[window]")
    (folder / "job.toml").write_text(text)
    with running(folder, "job.toml", "--no-open") as desk:
        start = desk.start()
        answers = {**start["answers"], "window[1].width": "88"}
        refused = save(desk, answers, None, start["revision"])
        assert (refused.status, refused.json["other_name"]) == (422, True)
        assert save(desk, answers, "other", start["revision"]).json["file"] == "other.toml"
    assert (folder / "job.toml").read_text() == text
    [window] = read_job((folder / "other.toml").read_bytes(), "").windows
    assert window.width == 88 * INCH


def test_what_is_typed_outlives_the_server(folder: Path) -> None:
    """Killed in mid-typing, started again: the answers are there, and the file is as it was."""
    with running(folder, "job.toml", "--no-open") as desk:
        answers = desk.start()["answers"]
        for width in ("8", "89", "89 1", "89 1/", "89 1/2"):
            answers = {**answers, "window[1].width": width}
            assert keep(desk, answers).status == 200
        desk.process.kill()
        desk.process.wait()
    assert (folder / "job.toml").read_text() == COMMENTED
    with running(folder, "job.toml", "--no-open") as desk:
        start = desk.start("another")
        assert start["from"] == "draft"
        assert start["answers"] == answers
        assert save(desk, answers, None, start["revision"], "another").status == 200
        assert desk.start("a third")["from"] == "file"
    assert (folder / "job.toml").read_text() == COMMENTED.replace("88", "89 1/2")
    assert [path.name for path in folder.iterdir()] == ["job.toml"]


def test_a_draft_taken_up_says_where_it_differs(folder: Path) -> None:
    """Half a measure that outlived its desk is told beside the file's own, with when it was left.

    What only spells a default out isn't told: it says the same.
    """
    with running(folder, "job.toml", "--no-open") as desk:
        first = desk.start()
        assert (first["differs"], first["left_on"], first["in_file"]) == ([], "", first["answers"])
        answers = first["answers"] | {"window[1].width": "8", "window[1].?pole": "no"}
        assert keep(desk, answers).json == {"differs": True}
    draft = folder / "job.toml.draft"
    os.utime(draft, (0, time.mktime((2026, 11, 29, 17, 5, 0, 0, 0, -1))))
    with running(folder, "job.toml", "--no-open") as desk:
        for page in ("another", "a third"):  # taken up and left alone, it is no younger
            start = desk.start(page)
            assert start["left_on"] == "2026-11-29 at 17:05"
            [differs] = start["differs"]
            assert differs["path"] == "window[1].width"
            assert differs["label"].startswith("Finished width of one panel")
            assert (differs["file"], differs["draft"]) == ("88", "8")
            assert start["in_file"] == first["answers"]


def test_a_stop_taken_on_outlives_the_server(folder: Path) -> None:
    """It is kept beside a file that says all else, as long as the file is what it was."""
    with running(folder, "job.toml", "--no-open") as desk:
        answers = desk.start()["answers"]
        body = {"answers": answers, "accept": ["back-fold-hits-wall", "no-such"], "page": "page-1"}
        assert desk.ask("/draft", body).json == {"differs": False}
        desk.end(signal.SIGKILL)
    with running(folder, "job.toml", "--no-open") as again:
        start = again.start("page-2")
        assert (start["from"], start["answers"]) == ("file", answers)
        assert (start["accept"], start["faults"]) == (["back-fold-hits-wall"], [])
        assert keep(again, answers, "page-2").status == 200  # the draft is that page's now
        assert not (folder / "job.toml.draft").exists()  # and given back
        assert again.ask("/draft", body | {"page": "page-2"}, "page-2").status == 200
        (folder / "job.toml").write_text(COMMENTED.replace("Monday", "Tuesday"))
        assert (again.start("page-3")["accept"], again.start("page-3")["faults"]) == ([], [])
        assert [each.name for each in folder.iterdir()] == ["job.toml"]


def test_a_default_spelled_out_leaves_no_draft(desk: RunningDesk, folder: Path) -> None:
    """A steering question answered with its default says what the file says."""
    answers = desk.start()["answers"]
    assert keep(desk, answers | {"window[1].width": "9"}).json == {"differs": True}
    assert keep(desk, answers | {"window[1].?pole": "no"}).json == {"differs": False}
    assert not (folder / "job.toml.draft").exists()


def test_no_draft_of_what_is_there(desk: RunningDesk, folder: Path) -> None:
    """Once all that was typed is undone none is left; one who only looks leaves none."""
    answers = desk.start()["answers"]
    assert keep(desk, answers).status == 200
    assert not (folder / "job.toml.draft").exists()
    assert keep(desk, {**answers, "window[1].width": "9"}).status == 200
    assert (folder / "job.toml.draft").exists()
    assert keep(desk, answers).status == 200
    assert not (folder / "job.toml.draft").exists()


def test_a_draft_goes_on_at_the_terminal_and_back(tmp_path: Path) -> None:
    """The desk keeps what `new` keeps, where it keeps it: either goes on from the other's."""
    folder = tmp_path / "new"
    folder.mkdir()
    kept = {
        "format": 1,
        "answers": [["units", "mm"], ["job.name", "Heron Point"], ["?job", "no"]],
        "aside": [["window[1].name", "North"], ["job.name", "Heron"]],
    }
    (folder / "new_job.toml.draft").write_text(json.dumps(kept))
    with running(folder, "--no-open") as desk:
        start = desk.start()
        assert start["from"] == "draft"
        assert start["answers"] == {
            "units": "mm", "job.name": "Heron Point", "?job": "no", "window[1].name": "North",
        }  # fmt: skip
        assert keep(desk, {**start["answers"], "window[1].width": "1400"}).status == 200
    after = json.loads((folder / "new_job.toml.draft").read_text())
    assert after["format"] == 1
    assert after["answers"][:4] == [
        ["units", "mm"], ["job.name", "Heron Point"], ["?job", "no"], ["window[1].name", "North"],
    ]  # fmt: skip
    assert ["window[1].width", "1400"] in after["answers"]


@pytest.mark.parametrize("data", [b"", b"{", b"[]", b'{"format": 2}', b"\xff", b"[" * 100_000])
def test_a_damaged_draft_is_put_aside(data: bytes, folder: Path) -> None:
    """It is told, and never written over."""
    (folder / "job.toml.draft").write_bytes(data)
    with running(folder, "job.toml", "--no-open") as desk:
        start = desk.start()
        assert start["from"] == "file"
        (fault,) = start["faults"]
        assert "job.toml.draft.1" in fault["text"]
        assert keep(desk, {**start["answers"], "units": "mm"}).status == 200
        assert desk.lives()
    assert (folder / "job.toml.draft.1").read_bytes() == data


def test_two_pages_dont_undo_each_other(desk: RunningDesk, folder: Path) -> None:
    """What one keeps or saves, the other neither overwrites nor is overwritten by, unless told."""
    one, two = desk.start("one"), desk.start("two")
    mine = {**one["answers"], "window[1].width": "90"}
    theirs = {**two["answers"], "window[1].width": "91"}
    assert keep(desk, mine, "one").status == 200
    assert keep(desk, theirs, "two").status == 409
    assert keep(desk, mine, "one").status == 200
    again = desk.start("two")  # it reads what the other has
    assert again["answers"] == mine
    assert keep(desk, theirs, "two").status == 200
    assert keep(desk, mine, "one").status == 409
    saved = save(desk, mine, None, one["revision"], "one")
    assert saved.status == 200
    refused = save(desk, theirs, None, two["revision"], "two")
    assert refused.status == 409
    assert "has changed" in refused.faults[0]
    assert (folder / "job.toml").read_text() == COMMENTED.replace("88", "90")
    # Nor does it save by the other's revision what it hasn't read.
    assert save(desk, theirs, None, saved.json["revision"], "two").status == 409
    # What the second typed isn't lost: it was typed on what isn't there any more.
    told = desk.start("three")
    assert told["from"] == "file"
    assert "job.toml.draft.1" in told["faults"][0]["text"]
    assert "91" in (folder / "job.toml.draft.1").read_text()


def test_a_file_changed_meanwhile_is_not_written_over(desk: RunningDesk, folder: Path) -> None:
    """By an editor, say; nor is one that has gone. A new name is free for both."""
    start = desk.start()
    mine = {**start["answers"], "window[1].width": "90"}
    for revision in (None, "", "0" * 64):
        assert save(desk, mine, None, revision).status == 409
    changed = COMMENTED.replace("88", "77")
    (folder / "job.toml").write_text(changed)
    for replace in (False, True):
        body: dict[str, Any] = {"answers": mine, "name": None, "revision": start["revision"]}
        assert desk.ask("/save", {**body, "replace": replace}).status == 409
    assert (folder / "job.toml").read_text() == changed
    saved = save(desk, mine, "mine", start["revision"])
    assert saved.status == 200
    assert (folder / "mine.toml").read_text() == COMMENTED.replace("88", "90")
    (folder / "mine.toml").unlink()
    gone = save(desk, {**mine, "units": "mm"}, None, saved.json["revision"])
    assert gone.status == 409
    assert "no such file" in gone.faults[0]
    assert not (folder / "mine.toml").exists()
    (folder / "mine.toml").write_text(COMMENTED)  # for the next page


def test_a_draft_that_cant_be_kept_is_told(folder: Path) -> None:
    """A folder where it stands in the way, say: the page hears of it, and the desk goes on."""
    (folder / "job.toml.draft").mkdir()
    with running(folder, "job.toml", "--no-open") as desk:
        answer = desk.ask("/start", {})
        assert answer.status == 422
        assert "job.toml.draft" in answer.faults[0]
        assert desk.process.poll() is None
        assert desk.errors.read_text() == ""


def test_a_page_from_before_is_told_to_load_again(desk: RunningDesk) -> None:
    """One that never began here keeps and saves nothing."""
    for answer in (keep(desk, ANSWERS, "from before"), save(desk, ANSWERS, "x", None, "unknown")):
        assert answer.status == 409
        assert "load it again" in answer.faults[0]


def test_windows_are_added_and_removed(desk: RunningDesk, folder: Path) -> None:
    """The other windows' lines stay as they are, and so do their comments."""
    start = desk.start()
    body = {"answers": start["answers"], "action": "copy", "window": 1}
    two = desk.ask("/windows", body).json
    assert two["window"] == 2
    saved = save(desk, two["answers"], None, start["revision"]).json
    text = (folder / "job.toml").read_text()
    assert text.startswith(COMMENTED)
    assert text[len(COMMENTED) :].count("[[window]]") == 1
    body = {"answers": two["answers"], "action": "remove", "window": 2}
    one = desk.ask("/windows", body).json
    assert one["window"] == 1
    assert save(desk, one["answers"], None, saved["revision"]).status == 200
    assert (folder / "job.toml").read_text() == COMMENTED
    assert desk.ask("/windows", {"answers": {}, "action": "remove", "window": 1}).status == 422
    assert desk.ask("/windows", {"answers": {}, "action": "burn", "window": 1}).status == 422
