"""`drapetemplate new` at a pseudo-terminal: sessions typed as a user types them."""

from __future__ import annotations

import json
import os
import signal
import subprocess
from pathlib import Path

import pytest

pytest.importorskip("pty", reason="no pseudo-terminals here")
pytest.importorskip("fcntl", reason="no pseudo-terminals here")

from drapetemplate.job.build import read_job
from drapetemplate.job.json_schema import schema_text
from drapetemplate.measures import INCH, MM
from tests.helpers.commands import TOOL, typed
from tests.helpers.jobfiles import LEAST
from tests.helpers.talk import TO_COUNT, TO_EYELET, TO_PAPER
from tests.helpers.terminal import Session

CTRL_C, CTRL_D = b"\x03", b"\x04"
SIGNALS = [signal.SIGTERM, signal.SIGHUP]


def _draft(path: Path) -> list[list[str]]:
    answers: list[list[str]] = json.loads(path.read_bytes())["answers"]
    return answers


def _names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_a_job_from_nothing(tmp_path: Path) -> None:
    """A whole session leaves a job file, and nothing beside it, and says what to type next."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "a4", "", "")
        end = session.rest()
        assert session.code() == 0
    assert end.endswith(
        "Written: linen.toml\n"
        "Beside it job.schema.json, by which editors check it as it is changed.\n"
        "Next, for the ticket and the template, type:\n"
        "   drapetemplate make linen.toml\n"
    )
    assert "Heron Point, linen store\n" in end
    assert "  finished width           88 in\n" in end
    assert _names(tmp_path) == ["job.schema.json", "linen.toml"]
    assert (tmp_path / "linen.toml").read_text().startswith("#:schema ./job.schema.json\n")
    assert (tmp_path / "job.schema.json").read_text() == schema_text()
    job = read_job((tmp_path / "linen.toml").read_bytes(), "linen.toml")
    assert (job.details.name, job.paper.name, job.windows[0].panels) == (
        "Heron Point, linen store",
        "A4",
        "pair",
    )


def test_schema_of_ones_own(tmp_path: Path) -> None:
    """What stands under the schema's name is left alone; no line ties a job file to a folder.

    A name that begins as an option does is no option of the command that is told.
    """
    (tmp_path / "job.schema.json").write_text("mine")
    with Session("new", "--", "-linen.toml", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "", "", "")
        assert session.rest().endswith("drapetemplate make ./-linen.toml\n")
    assert (tmp_path / "job.schema.json").read_text() == "mine"
    (tmp_path / "other" / "job.schema.json").mkdir(parents=True)
    with Session("new", "other/linen.toml", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "", "", "")
        assert "job.schema.json" not in session.rest()
    assert "schema" not in (tmp_path / "other" / "linen.toml").read_text()


def test_what_it_writes_is_made(tmp_path: Path) -> None:
    """The job file makes its PDF by the very command that is named."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "", "", "")
        command = session.rest().splitlines()[-1].split()
    assert command[0] == "drapetemplate"
    made = typed(*command[1:], cwd=tmp_path)
    assert made.returncode == 0
    assert (tmp_path / "linen.pdf").is_file()


def test_name_from_the_job(tmp_path: Path) -> None:
    """Without a path the file's name is asked last, and proposed from the job's name."""
    (tmp_path / "heron_point_linen_store.toml").touch()
    with Session("new", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "", "", "")
        assert (
            "Save the job file as?\n   Enter: heron_point_linen_store_2.toml.\n" in session.wait()
        )
        os.write(session.master, b"?\n")
        assert "The name of a new file" in session.wait()
        os.write(session.master, b"heron_point_linen_store\n")
        assert "Not taken: heron_point_linen_store.toml: is there already" in session.wait()
        os.write(session.master, b"back\n")
        assert "More about the paper" in session.wait()
        os.write(session.master, b"\n")
        session.type("")
        session.rest()
        assert session.code() == 0
    names = ["heron_point_linen_store.toml", "heron_point_linen_store_2.toml"]
    assert _names(tmp_path) == [*names, "job.schema.json"]


def test_questions_and_answers(tmp_path: Path) -> None:
    """? explains, a wrong answer is told and asked again, back goes one question back."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_EYELET)
        assert session.wait().endswith(
            "\nTHE EYELETS\n\n17. Eyelet, across the outside of its flange?\n> "
        )
        os.write(session.master, b"?\n")
        assert "Measure a real one with a caliper" in session.wait()
        os.write(session.master, b"1,250\n")
        assert (
            'Not taken: "1,250" may be 1250 or 1.250: write one of them, without a comma\n'
            in session.wait()
        )
        os.write(session.master, b"3 3/8\n")
        assert "   Eyelet outside: 3 3/8 in (85.725 mm)\n" in session.wait()
        os.write(session.master, b"1 1/4\n")
        assert "a pole of 1 3/8 in doesn't pass an opening of 1 1/4 in" in session.wait()
        os.write(session.master, b"back\n")
        assert session.wait().endswith(
            "\n17. Eyelet, across the outside of its flange?\n   Enter: 3 3/8, as before.\n> "
        )


def test_a_slip_is_found_and_mended(tmp_path: Path) -> None:
    """A slip that shows much later is named by its number, gone back to and mended."""
    slip = ("inches", "Heron Point, linen store", "rest", "rest", "", "72", "1 3/8", "rest")
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*slip, "", "", "84", "1 1/2", "2 5/8", "1 9/16")
        said = session.wait()
        assert "Not taken: 2 eyelets of 2 5/8 in don't fit across 72 in" in said
        assert "   It rests on earlier answers rather than this one:\n" in said
        assert "   15. Leading: 84 in (2133.6 mm)\n" in said
        os.write(session.master, b"list\n")
        said = session.wait()
        assert "   THE JOB\n   1. Units: in\n   2. Job: Heron Point, linen store\n" in said
        assert "   15. Leading: 84 in (2133.6 mm)\n" in said
        os.write(session.master, b"back 15\n")
        said = session.wait()
        assert said.endswith(
            "\nLENGTH AND EDGES\n\n"
            "15. Leading, from the edge that meets the other panel to the first eyelet?\n"
            "   Enter: 84, as before.\n   - and Enter: 1 1/2 in (38.1 mm).\n> "
        )
        os.write(session.master, b"?\n")
        helped = " ".join(session.wait().split())
        assert "Enter: 84, as before. - and Enter: 1 1/2 in (38.1 mm). back goes to" in helped
        os.write(session.master, b"-\n")
        session.type("rest", "1 9/16", "1 5/8", "rest", "rest", "")
        assert "\nTHE PAPER\n" in session.wait()
        os.write(session.master, b"rest\n")
        session.rest()
        assert session.code() == 0
    (window,) = read_job((tmp_path / "linen.toml").read_bytes(), "linen.toml").windows
    assert (window.leading, window.return_) == (INCH * 3 / 2, INCH * 3 / 2)


def test_three_windows_in_millimetres(tmp_path: Path) -> None:
    """A patterned cloth with hems of its own and a lining, a plain window, a panel on hooks."""
    job = ("millimetres", "Heron Point, hall", "")
    first = ("North", "rest", "", "1800", "28", "90", "rest")
    ring = ("2300", "rest", "67", "45", "48", "", "", "", "12", "4", "rest")
    cloth = ("y", "gull linen", "1400", "y", "640", "", "", "y", "60", "200", "", "", "", "")
    lining = ("y", "twill", "1370", "", "", "y", "", "", "40", "100", "0", "", "", "")
    second = ("South", "", "", "n", "y", "y", "n", "", "1500", "", "2300", "", "", "rest")
    plain = ("gull plain", "", "n", "rest", "n", "y")
    third = ("Bath", "", "single", "n", "n", "n", "y", "hooks", "", "900", "2000", "40")
    small = ("30", "20", "21", "", "", "", "", "", "")
    with Session("new", "hall.toml", cwd=tmp_path) as session:
        session.type(*job, *first)
        assert "\nTHE PANEL'S WIDTH\n\n8. What do you know of a panel" in session.text
        session.type(*ring, *cloth, *lining)
        assert "   Each side hem 75 mm; bottom hem 200 mm; heading twice the" in session.text
        session.type("y", *second, *plain, *third, *small)
        session.type("a4", "rest")
        end = session.rest()
        assert session.code() == 0, session.text
    assert end.endswith("   drapetemplate make hall.toml\n")
    assert "\nWINDOW 2: THE PANEL'S WIDTH\n" in session.text
    written = read_job((tmp_path / "hall.toml").read_bytes(), "hall.toml")
    north, south, bath = written.windows
    assert written.paper.name == "A4"
    assert north.fabric is not None
    assert south.fabric is not None
    assert north.lining is not None
    assert (north.fabric.side_hem, north.fabric.bottom_hem) == (60 * MM, 200 * MM)
    assert (north.lining.side_hem, north.lining.bottom_hem) == (40 * MM, 100 * MM)
    assert (north.fabric.repeat_down, north.lining.heading) == (640 * MM, 0 * MM)
    assert (south.fabric.side_hem, south.fabric.repeat_down) == (60 * MM, None)
    assert south.lining is None
    assert (north.eyelet.pack, north.eyelet.spares, bath.eyelet.hung) == (12, 4, "hooks")


def test_words_where_the_name_is_asked(tmp_path: Path) -> None:
    """List and back do at the file's name what they do at every question."""
    with Session("new", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "rest", "list")
        said = session.wait()
        assert "   9. Finished width: 88 in (2235.2 mm)\n" in said
        assert said.endswith("Save the job file as?\n   Enter: heron_point_linen_store.toml.\n> ")
        os.write(session.master, b"back 99\n")
        assert "there is no answer 99 to go back to: write 1 to 30\n" in session.wait()
        os.write(session.master, b"back 2\n")
        session.type("Heron Point, hall", "rest", "")
        session.rest()
        assert session.code() == 0
    assert _names(tmp_path) == ["heron_point_hall.toml", "job.schema.json"]


def test_an_odd_count_kept(tmp_path: Path) -> None:
    """A stop that is kept is named in the command to type next."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_COUNT, "17", "keep", *[""] * 8)
        end = session.rest()
        assert session.code() == 0
    assert end.endswith("   drapetemplate make linen.toml --accept odd-count\n")


@pytest.mark.parametrize("key", [CTRL_C, CTRL_D], ids=["Ctrl-C", "Ctrl-D"])
def test_ended_and_gone_on(tmp_path: Path, key: bytes) -> None:
    """What was answered before Ctrl-C or Ctrl-D is kept, and gone on from next time."""
    target, draft = tmp_path / "linen.toml", tmp_path / "linen.toml.draft"
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_EYELET)
        end = session.press(key)
        assert session.code() == 1
    said = "Ended: 16 answers kept in linen.toml.draft. The same command goes on from there."
    assert " ".join(end.split()).endswith(said)
    assert "Traceback" not in end
    assert len(_draft(draft)) == 16
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        asked = session.type("")
        assert "\n".join(asked.splitlines()[:3]) == (
            "Go on with Heron Point, linen store where you stopped (yes or no)? 16 answers,\n"
            "the last one:\n   Return: as much as reaches the wall"
        )
        session.type(*TO_PAPER[len(TO_EYELET) :], "", "", "")
        session.rest()
        assert session.code() == 0
    assert read_job(target.read_bytes(), "linen.toml").windows[0].pole.diameter is not None
    assert not draft.exists()


@pytest.mark.parametrize("number", SIGNALS, ids=["SIGTERM", "SIGHUP"])
def test_ended_from_outside(tmp_path: Path, number: signal.Signals) -> None:
    """A system that shuts down, or a terminal that is closed, ends it like Ctrl-C."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("", "Heron Point")
        end = session.interrupt(number)
        assert session.code() == 1
    assert "2 answers kept in linen.toml.draft" in end
    assert len(_draft(tmp_path / "linen.toml.draft")) == 2


def test_killed(tmp_path: Path) -> None:
    """Every answer is kept as it is given: even a run that is killed loses none."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("", "Heron Point", "")
        session.wait()
        session.process.kill()
        session.rest()
    assert _draft(tmp_path / "linen.toml.draft") == [
        ["units", ""],
        ["job.name", "Heron Point"],
        ["?job", "no"],
    ]


def test_nothing_answered(tmp_path: Path) -> None:
    """Ended before the first answer there is nothing to keep, and nothing is left."""
    with Session("new", cwd=tmp_path) as session:
        end = session.press(CTRL_C)
        assert session.code() == 1
    assert end.endswith("Ended: nothing was answered.\n")
    assert _names(tmp_path) == []


def test_started_anew(tmp_path: Path) -> None:
    """Who doesn't go on starts anew, and the old answers are put aside, not lost."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("", "Heron Point")
        session.press(CTRL_C)
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("list", "?", "maybe", "no")
        session.press(CTRL_C)
    assert "   1. Units: in\n   2. Job: Heron Point\n" in session.text
    assert "   yes goes on after the last answer, no puts all of them aside" in session.text
    assert "   Not taken: write yes or no\n" in session.text
    assert "The old answers are now in linen.toml.draft.1.\n" in session.text
    assert _names(tmp_path) == ["linen.toml.draft.1"]
    assert len(_draft(tmp_path / "linen.toml.draft.1")) == 2


def test_damaged_draft(tmp_path: Path) -> None:
    """A draft that can't be read is said to be so, kept aside, and asking starts anew."""
    draft = tmp_path / "linen.toml.draft"
    draft.write_bytes(b'{"format": 1, "answers": [["units"')
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.press(CTRL_C)
    said = "linen.toml.draft can't be read as answers: it is now linen.toml.draft.1.\n"
    assert session.text.startswith(said)
    assert "\n1. What do you measure in" in session.text
    assert (tmp_path / "linen.toml.draft.1").read_bytes() == b'{"format": 1, "answers": [["units"'


def test_a_job_file_gone_on_with(tmp_path: Path) -> None:
    """Ctrl-C leaves it as it was; the same command then goes on, and writes what changes."""
    path = tmp_path / "linen.toml"
    path.write_text(LEAST)
    with Session("new", "linen", cwd=tmp_path) as session:
        session.type("9", "92")
        end = session.press(CTRL_C)
        assert session.code() == 1
    assert "Ended: linen.toml is as it was. What was typed is kept in" in " ".join(end.split())
    assert path.read_text() == LEAST
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("yes")
        assert "   9. Finished width: 92 in (2336.8 mm); was 88\n" in session.wait()
        os.write(session.master, b"rest\n")
        assert "\nWritten: linen.toml\n" in session.rest()
        assert session.code() == 0
    assert path.read_text() == LEAST.replace("88", "92")
    assert _names(tmp_path) == ["linen.toml"]


def test_narrow_terminal(tmp_path: Path) -> None:
    """Nothing that is asked or said is wider than the terminal, and no line moves the cursor."""
    with Session("new", "linen.toml", cwd=tmp_path, columns=38) as session:
        session.type(*TO_EYELET, "?", "wide")
        session.wait()
    assert max(map(len, session.text.splitlines())) <= 38
    assert all(one.isprintable() or one == "\n" for one in session.text)


def test_hostile_text(tmp_path: Path) -> None:
    """Control and bidi characters, and what is no text at all, come back as signs."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type("")
        session.wait()
        # The terminal itself echoes what is typed, as ^[ and the like; what follows is ours.
        typed = "a\N{RIGHT-TO-LEFT OVERRIDE}b\x1b[31m".encode() + b"\xff"
        os.write(session.master, typed + b"\n")
        said = session.wait().split("\n", 1)[1]
    assert said.startswith("   Job: a\N{REPLACEMENT CHARACTER}b\N{REPLACEMENT CHARACTER}[31m")
    assert all(one.isprintable() or one == "\n" for one in said)


def _without_terminal(*words: str, cwd: Path) -> subprocess.CompletedProcess[str]:
    command = [*TOOL, "new", *words]
    return subprocess.run(
        command, cwd=cwd, input="in\n", capture_output=True, text=True, check=False
    )


def test_without_a_terminal(tmp_path: Path) -> None:
    """In a pipe it says in a line what to do instead, and touches nothing."""
    ended = _without_terminal("linen.toml", cwd=tmp_path)
    assert (ended.returncode, ended.stdout) == (2, "")
    assert ended.stderr == (
        "new: asks its questions at a terminal, and this is none: write a job file instead, from "
        "the least one in the README; `drapetemplate schema` tells an editor its keys\n"
    )
    assert _names(tmp_path) == []


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("linen.toml", "linen.toml, line 1: mine: needs a key, = and a value\n"),
        ("linen", "linen.toml, line 1: mine: needs a key, = and a value\n"),
        ("folder", "folder: is a folder: name a file in it, such as my_job.toml\n"),
        ("none/linen.toml", "none/linen.toml: its folder isn't there: make it, or name another\n"),
    ],
)
def test_where_it_can_not_go(tmp_path: Path, path: str, said: str) -> None:
    """A path that can't be written is refused before the first question."""
    (tmp_path / "linen.toml").write_text("mine")
    (tmp_path / "folder").mkdir()
    with Session("new", path, cwd=tmp_path) as session:
        assert session.rest() == said
        assert session.code() == 2
    assert (tmp_path / "linen.toml").read_text() == "mine"


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="no folder that takes no file")
def test_folder_that_takes_nothing(tmp_path: Path) -> None:
    """A folder that can't be written in is told before the first question."""
    with Session("new", "/proc/linen.toml", cwd=tmp_path) as session:
        assert session.rest().startswith("/proc/linen.toml.draft: can't be written: ")
        assert session.code() == 2


def test_draft_that_is_none(tmp_path: Path) -> None:
    """A folder in the draft's place is told, and left alone."""
    (tmp_path / "linen.toml.draft").mkdir()
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        assert session.rest() == "linen.toml.draft: not a plain file\n"
        assert session.code() == 2
    assert _names(tmp_path) == ["linen.toml.draft"]


def test_taken_meanwhile(tmp_path: Path) -> None:
    """A file that came to be there meanwhile is never written over: another name is asked."""
    with Session("new", "linen.toml", cwd=tmp_path) as session:
        session.type(*TO_PAPER, "", "")
        session.wait()
        (tmp_path / "linen.toml").write_text("mine")
        os.write(session.master, b"\n")
        assert "Not taken: linen.toml: is there already: name another file\n" in session.wait()
        os.write(session.master, b"linen_2\n")
        session.rest()
        assert session.code() == 0
    assert (tmp_path / "linen.toml").read_text() == "mine"
    assert _names(tmp_path) == ["job.schema.json", "linen.toml", "linen_2.toml"]
