"""`new` on a job file that is there: its answers taken, some changed, all else in it as it was.

What a changed file is to say is written by hand here, with a text editor's own replacements.
"""

from __future__ import annotations

import difflib
import os
from pathlib import Path

import pytest

from drapetemplate import plan_job
from drapetemplate.errors import FileError, JobError
from drapetemplate.interview import job_in_file, states
from drapetemplate.interview.draft import draft_path
from drapetemplate.interview.job_in_file import opened
from drapetemplate.interview.reopened import changes, new_findings, with_all_taken
from drapetemplate.job.build import read_job
from drapetemplate.report.plan_json import as_json
from tests.helpers.lines_typed import session

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))
TWO = """# The bay.
units = "mm"

[job]
name = "Heron Point, bay"   # as on the door

[eyelet]
outside = 66
opening = 40
hole = 41

[[window]]
name = "Left"
width = 1200   # laid flat
length = 2380

# The odd one.
[[window]]
name = "Right"
width = 1000
panels = "left"
length = "2 m"
"""


def job_file(text: str = TWO) -> Path:
    """A job file of this text."""
    path = Path("bay.toml")
    path.write_text(text)
    return path


def number_of(path: Path, start: str) -> str:
    """The number of a job file's first answer that is read back so."""
    listed = states.list_answers(with_all_taken(opened(path.read_bytes(), "").answers))
    parted = (line.partition(". ") for line in listed)
    return next(number for number, _, said in parted if said.startswith(start))


def made(text: str) -> object:
    """Every figure that a job file's plan has."""
    job = read_job(text.encode(), "")
    return as_json(job, plan_job(job))


@pytest.fixture(autouse=True)
def _in_a_folder_of_its_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Names are short, so that no line that tells one is parted."""
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_taken_as_it_is(sample: Path) -> None:
    """Its plan is shown, its bytes stay, and nothing is left beside it."""
    path = Path(sample.name)
    path.write_bytes(sample.read_bytes())
    code, text = session(path, "rest")
    assert code == 0
    assert f"\nUnchanged: {path}\n" in text
    assert f"Enter: nothing; {path} stays as it is." in " ".join(text.split())
    assert path.read_bytes() == sample.read_bytes()
    assert [each.name for each in Path().iterdir()] == [sample.name]


@pytest.mark.parametrize(
    ("answer", "typed", "old", "new"),
    [
        ("Finished width: 1200", "1250", "width = 1200", "width = 1250"),
        ("Finished width: 1200", "50 in", "width = 1200", 'width = "50 in"'),
        ("Finished length: 2000", "2100", 'length = "2 m"', 'length = "2100"'),
        ("Window: Left", "West", '"Left"', '"West"'),
        ("Panels: left", "-", 'panels = "left"\n', ""),
        ("Leading", "45", "length = 2380\n", 'length = 2380\nleading = "45"\n'),
    ],
)
def test_an_answer_changed(answer: str, typed: str, old: str, new: str) -> None:
    """Two lines of the file at the most are others, and its plan is that of the file so edited."""
    path = job_file()
    by_hand = TWO.replace(old, new)
    number = number_of(path, answer)
    code, text = session(path, number, typed, "")
    assert code == 0
    assert path.read_text() == by_hand
    assert f"{number}. " in text.partition("Other than in")[2]
    assert f"\nWritten: {path}\n" in text
    assert made(path.read_text()) == made(by_hand)
    assert not draft_path(path).exists()


def test_words_for_where_to_go() -> None:
    """A number, back and that number, and list; anything else is refused with what is."""
    path = job_file()
    number = number_of(path, "Finished length: 2000")
    for word in (number, f"back {number}", f"Back #{number}.", f"#{number}"):
        text = session(path, "list", "two", "0", "?", word)[1]
        assert "Not taken: write the number of an answer, or press Enter\n" in text
        assert "there is no answer 0 to go back to" in text
        assert "a lone - and Enter takes back what the file says" in " ".join(text.split())
        assert text.count(f"   {number}. Finished length: 2000 mm") == 2
        asked = text.partition(f"\n{number}. Finished length, from the top edge")[2]
        assert asked.split("\n")[1:3] == [
            "   Enter: 2 m, as in the file.",
            "   - and Enter: worked out from the pole's height, which is asked next.",
        ]


def test_a_window_more() -> None:
    """Only it is asked about; it stands in the file behind the others."""
    path = job_file()
    number = number_of(path, "Another window in this job: no")
    code, text = session(
        path, number, "y", "Middle", *["rest"] * 2, "900", *["rest"] * 4, "no", ""
    )  # fmt: skip
    assert code == 0, text
    added = '\n[[window]]\nname = "Middle"\nwidth = "900"\n'
    assert path.read_text() == f"{TWO}{added}"
    assert "window 3, Finished width: 900 mm" in text


def test_a_window_less() -> None:
    """A no to another window leaves out those after it, with what stands above them."""
    path = job_file()
    code, text = session(path, number_of(path, "Another window in this job: yes"), "no", "")
    assert code == 0
    assert path.read_text() == TWO[: TWO.index("\n# The odd one.")]
    told = text.partition("Other than in")[2].partition("What else")[0]
    assert "Another window in this job: no; was yes\n" in told
    assert told.endswith("   Not any more: window 2, Window: Right\n")


def test_there_and_back() -> None:
    """An answer changed and changed again to what it was changes nothing."""
    path = job_file()
    number = number_of(path, "Finished length: 2000")
    code, text = session(path, number, "2100", number, "2 m", "")
    assert code == 0
    assert f"\nUnchanged: {path}\n" in text
    assert path.read_text() == TWO


def test_what_a_change_brings_is_told() -> None:
    """A stop that the file's own answers don't bring; one that they do is no news."""
    path = job_file(TWO.replace('panels = "left"', 'panels = "left"\ncount = 7'))
    text = session(path, number_of(path, "Eyelets a panel"), "9", "keep", "")[1]
    told = text.partition("Other than in")[2].partition("What else")[0]
    assert told.count("STOP") == 1
    assert "STOP Left: odd-count: 9 eyelets" in told
    as_it_is = with_all_taken(opened(job_file().read_bytes(), "").answers)
    assert (changes(as_it_is), new_findings(as_it_is)) == ((), ())


def test_what_cant_be_beside_the_rest() -> None:
    """An answer of another window that it breaks is asked again, with why."""
    path = job_file(f"{TWO}count = 8\n")
    code, text = session(path, number_of(path, "Eyelet outside"), "120", "6", "")
    assert code == 0, text
    asked = text.partition("8 eyelets of 120 mm don't fit across 1000 mm")[2]
    assert "How many eyelets in a panel?\n   Enter: 8, as in the file.\n" in asked
    by_hand = TWO.replace("outside = 66", "outside = 120")
    assert path.read_text() == f"{by_hand}count = 6\n"


FAULTY = TWO.replace("1200", '"wide"').replace('"2 m"', '"2 m"\ncolour = "red"')


def test_a_faulty_file() -> None:
    """Its faults are told by line, its faulty answer is asked anew, and nothing else is."""
    text = FAULTY.replace('colour = "red"\n', "")
    path = job_file(text)
    code, said = session(path, "", "1250", "")
    assert code == 0, said
    assert f"Not right: {path}, line 14: window[1].width:" in " ".join(said.split())
    assert said.count("Finished width of one panel, laid flat?") == 2
    assert "   Enter: wide, as in the file.\n" in said
    assert path.read_text() == TWO.replace("1200", '"1250"')


def test_keys_that_nothing_asks_for() -> None:
    """They are told and stay as they are; what is wrong with them then is the last thing said."""
    path = job_file(FAULTY)
    with pytest.raises(JobError, match=r"line 23: window\[2\]\.colour: unknown key"):
        session(path, "1250", "")
    assert path.read_text() == FAULTY.replace('"wide"', '"1250"')
    with pytest.raises(JobError, match="unknown key"):
        session(path, "")
    printer = job_file(TWO + '[paper]\nprinter = "laser"\n')
    text = session(printer, number_of(printer, "Finished width"), "1250", "")[1]
    assert "paper.printer: no question is for it, and it stays as it is.\n" in text
    assert '[paper]\nprinter = "laser"\n' in printer.read_text()


def test_no_toml() -> None:
    """It is refused in one line, and stays as it is."""
    path = job_file("mine")
    with pytest.raises(JobError) as refused:
        session(path, "")
    assert [str(fault) for fault in refused.value.faults] == [
        f"{path}, line 1: mine: needs a key, = and a value"
    ]
    assert path.read_text() == "mine"


def test_ended_early() -> None:
    """The file stays as it is, what was typed is kept, and gone on with; or put aside."""
    path = job_file()
    number = number_of(path, "Finished length: 2000")
    code, text = session(path, number, "2100")
    assert code == 1
    assert f"Ended: {path} is as it was. What was typed is kept in" in " ".join(text.split())
    assert path.read_text() == TWO
    text = session(path, "yes")[1]
    assert f"   {number}. window 2, Finished length: 2100 mm (≈ 82 11/16 in); was 2 m\n" in text
    code, text = session(path, "no", "")
    assert code == 0
    assert f"The old answers are now in {draft_path(path)}.1." in " ".join(text.split())
    assert path.read_text() == TWO
    draft_path(path).with_name("bay.toml.draft.1").rename(draft_path(path))
    assert session(path, "yes", "")[0] == 0
    assert path.read_text() == TWO.replace('"2 m"', '"2100"')
    assert not draft_path(path).exists()


def test_ended_with_nothing_typed() -> None:
    """Nothing is left beside the file, even where an answer was looked at."""
    path = job_file()
    code, text = session(path, number_of(path, "Finished length: 2000"))
    assert (code, [each.name for each in Path().iterdir()]) == (1, ["bay.toml"])
    assert text.endswith(f"Ended: {path} is as it was.\n")


def test_a_draft_beside_a_file_that_was_changed() -> None:
    """It is put aside and told: its answers aren't to the file that is there now."""
    path = job_file()
    session(path, number_of(path, "Finished length: 2000"), "2100")
    path.write_text(TWO.replace("1200", "1300"))
    code, text = session(path, "")
    assert code == 0
    aside = f"{draft_path(path)}.1"
    told = f"{path} has changed since there was typed what isn't in it yet: that is now in {aside}."
    assert told in " ".join(text.split())
    assert Path(aside).exists()
    assert path.read_text() == TWO.replace("1200", "1300")


@pytest.mark.parametrize("others", ["# another's\n", TWO.replace("1200", "1201")])
def test_changed_on_disk_meanwhile(monkeypatch: pytest.MonkeyPatch, others: str) -> None:
    """It is never written over, where it is as long as before neither: another name is asked for.

    The file of that name has its comments, and the changes.
    """
    path = job_file()
    real = states.take_again

    def meanwhile(state: states.State) -> tuple[states.State, tuple[str, ...]]:
        path.write_text(others)
        return real(state)

    monkeypatch.setattr(states, "take_again", meanwhile)
    code, text = session(path, number_of(path, "Finished length: 2000"), "2100", "", "mine")
    assert code == 0
    assert f"Not taken: {path}: has changed on disk since it was opened" in " ".join(text.split())
    assert path.read_text() == others
    assert Path("mine.toml").read_text() == TWO.replace('"2 m"', '"2100"')


def test_what_cant_be_changed_key_by_key(monkeypatch: pytest.MonkeyPatch) -> None:
    """Another name is asked for, where all of it is written anew."""
    in_line = 'job = {name = "H"}\neyelet = {outside = 3, opening = 2}\nwindow = [{width = 88}]\n'
    path = job_file(in_line)
    number = number_of(path, "Another window in this job: no")
    typed = (number, "y", "Bath", "rest", "60", *["rest"] * 4, "no", "")
    with monkeypatch.context() as patched:
        patched.setattr(
            job_in_file, "_changed", lambda *_: None
        )  # as of a file it can't put them in
        text = session(path, *typed, "two")[1]
    assert "can't be changed key by key: save under another name" in " ".join(text.split())
    assert path.read_text() == in_line
    assert len(read_job(Path("two.toml").read_bytes(), "").windows) == 2
    assert session(path, *typed)[0] == 0
    assert len(read_job(path.read_bytes(), "").windows) == 2


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
def test_a_link() -> None:
    """What it leads to is changed, and it stays a link; one that leads nowhere is refused."""
    target = job_file().rename("real.toml")
    link = Path("bay.toml")
    link.symlink_to(target)
    assert session(link, number_of(link, "Finished length: 2000"), "2100", "")[0] == 0
    assert link.is_symlink()
    assert target.read_text() == TWO.replace('"2 m"', '"2100"')
    target.unlink()
    with pytest.raises(FileError, match="can't be read"):
        session(link, "")


def test_lines_of_a_change() -> None:
    """Comments and layout stay, in the file of another system too."""
    path = Path("bay.toml")
    path.write_bytes(TWO.replace("\n", "\r\n").encode())
    assert session(path, number_of(path, "Finished length: 2000"), "2100", "")[0] == 0
    after = path.read_bytes().decode()
    lines = difflib.ndiff(TWO.splitlines(), after.split("\r\n"))
    assert [line for line in lines if line[0] in "+-"] == [
        '- length = "2 m"', '+ length = "2100"', "+ ",
    ]  # fmt: skip
