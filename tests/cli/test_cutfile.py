"""The command cutfile, as a user types it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.helpers.commands import STARTS, Start, refused, run
from tests.helpers.cutfiles import circles_by_inkscape, read_by_gdal, read_dxf, read_svg
from tests.helpers.jobfiles import USUAL, WALL, written

ODD = "<b>&\\u0007 Ερωδιός 😀 \\u202e %%u ^J \\\\U+0041 5%"
"""A name as TOML writes it: markup, a bell, Greek, a face, a turn of writing, codes of a DXF."""
SHOWN = "<b>&\ufffd Ερωδιός {} \ufffd {} ^J \\U+0041 5%"
"""What shows of it: what no program may heed stands as a stand-in, all else is itself."""


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A job of two windows that differ."""
    east, west = f'name = "East"\n{USUAL}\nreturn = 3', 'name = "West"\nwidth = 90\nreturn = 3'
    return written(tmp_path, east, west)


def test_a_file_a_strip(job: Path, tmp_path: Path) -> None:
    """Two strips have a file each, lettered as sheets are; a line tells whose it is and its size.

    By hand: a pair's strip is its panel and what one end's cloth is more than the other's, 60 in
    and 3 in less 1 1/2 in, so 1562.1 mm; the band 4 in, 101.6 mm.
    """
    target = tmp_path / "bay.dxf"
    result = run("cutfile", job, "--out", target)
    assert result.exit_code == 0
    assert result.stdout.splitlines() == [
        (
            f"{tmp_path / 'bay-A.dxf'}: East, left and right panel, 1562.1 × 101.6 mm, "
            "to mark from; each panel's band is 1524 mm of it"
        ),
        (
            f"{tmp_path / 'bay-C.dxf'}: West, left and right panel, 2324.1 × 101.6 mm, "
            "to mark from; each panel's band is 2286 mm of it"
        ),
    ]
    assert sorted(path.name for path in tmp_path.glob("*.dxf")) == ["bay-A.dxf", "bay-C.dxf"]


@pytest.mark.parametrize(
    ("paper", "window"),
    [('strips = "each"', "return = 3"), ("", "return = 1.5"), ("", "return = 3\npanels = 'left'")],
)
def test_a_strip_as_long_as_its_panel(tmp_path: Path, paper: str, window: str) -> None:
    """A panel's own strip is its band, and so is a pair's where its ends take alike: 60 in."""
    job = written(tmp_path, f"{USUAL}\n{window}", tables=f"{WALL}\n[paper]\n{paper}")
    result = run("cutfile", job, "--out", tmp_path / "a.dxf")
    lines = result.stdout.splitlines()
    assert lines
    assert all(line.endswith("panel, 1524 × 101.6 mm") for line in lines)


def test_one_window(job: Path, tmp_path: Path) -> None:
    """Of one window alone the file is called just what it is asked to be."""
    target = tmp_path / "east.svg"
    assert run("cutfile", job, "--window", "East", "--out", target).exit_code == 0
    words = read_svg(target)["TEXT"].words
    assert "East" in words
    assert "West" not in words
    refused(run("cutfile", job, "--window", "North", "--out", target), '--window: "North"')


def test_a_folder_and_a_pattern(job: Path, tmp_path: Path) -> None:
    """In a folder a DXF by the job file's name; a pattern's values and folders as make has them."""
    folder = tmp_path / "cut"
    folder.mkdir()
    assert run("cutfile", job, "--window", "East", "--out", folder).exit_code == 0
    assert [path.name for path in folder.iterdir()] == ["linen_store.dxf"]
    pattern = tmp_path / "{number}" / "{file} {name}.SVG"
    assert run("cutfile", job, "--out", pattern).exit_code == 0
    assert sorted(path.name for path in (tmp_path / "unnumbered").iterdir()) == [
        "linen_store Heron Point, linen store-A.SVG",
        "linen_store Heron Point, linen store-C.SVG",
    ]
    refused(run("cutfile", job, "--out", tmp_path / "{nobody}.svg"), "{nobody} stands for nothing")


@pytest.mark.parametrize("name", ["cut.pdf", "cut", "cut.dxf.gz", "dxf", "{name}", "{name}.png"])
def test_another_kind(job: Path, tmp_path: Path, name: str) -> None:
    """Another suffix is refused in a line that names the two, and nothing is written."""
    before = sorted(tmp_path.iterdir())
    refused(run("cutfile", job, "--out", tmp_path / name), "that ends in .dxf or .svg, or a folder")
    assert sorted(tmp_path.iterdir()) == before


def test_where_nothing_can_be_written(job: Path, tmp_path: Path) -> None:
    """A folder that isn't there and the job file itself are refused in a line."""
    refused(run("cutfile", job, "--out", tmp_path / "none" / "a.dxf"), "can't be written")
    named = job.rename(tmp_path / "east.dxf")
    line = "would replace the job file itself"
    refused(run("cutfile", named, "--window", "East", "--out", named), line)
    lettered = named.rename(tmp_path / "bay-C.dxf")
    refused(run("cutfile", lettered, "--out", tmp_path / "bay.dxf"), line)
    assert [path.name for path in tmp_path.iterdir()] == ["bay-C.dxf"]


def test_a_stop_writes_nothing(tmp_path: Path) -> None:
    """A stop is exit 1, with what to type; accepted by name, the strip says so."""
    job = written(tmp_path, f"{USUAL}\ncount = 9")
    target = tmp_path / "a.dxf"
    result = run("cutfile", job, "--out", target)
    assert (result.exit_code, result.stdout) == (1, "")
    *findings, hint = result.stderr.splitlines()
    assert "stop: odd-count" in "".join(findings)
    words = f"drapetemplate cutfile {job} --out {target} --accept odd-count"
    assert hint == f"to make it all the same: {words}"
    assert not target.exists()
    assert run(*words.split()[1:]).exit_code == 0
    assert "made despite odd-count" in read_dxf(target)["TEXT"].words
    refused(run("cutfile", job, "--out", target, "--accept", "nothing"), "no stop is called")


def test_only_a_strip_with_the_stop_says_so(tmp_path: Path) -> None:
    """Of two windows that one alone says it was made despite a stop which has it."""
    job = written(tmp_path, f"{USUAL}\ncount = 9", "width = 90\nreturn = 3\ncount = 12")
    words = ("cutfile", job, "--out", tmp_path / "a.dxf", "--accept", "odd-count")
    assert run(*words).exit_code == 0
    said = [read_dxf(tmp_path / f"a-{letter}.dxf")["TEXT"].words for letter in "AC"]
    assert ["made despite odd-count" in each for each in said] == [True, False]


def test_no_printer(tmp_path: Path) -> None:
    """A printer is refused, asked for or named by the job; at true size it can be had."""
    plain = written(tmp_path, USUAL)
    target = tmp_path / "a.dxf"
    line = '--printer: a cut file is corrected for no printer, and so not for "laser"'
    refused(run("cutfile", plain, "--out", target, "--printer", "laser"), line)
    assert run("cutfile", plain, "--out", target).exit_code == 0
    true = target.read_bytes()
    target.unlink()
    corrected = written(tmp_path, USUAL, tables=f'{WALL}\n[paper]\nprinter = "laser"')
    line = 'paper.printer: corrects for "laser", which doesn\'t cut: add --uncorrected'
    refused(run("cutfile", corrected, "--out", target), line)
    assert not target.exists()
    assert run("cutfile", corrected, "--out", target, "--uncorrected").exit_code == 0
    assert target.read_bytes() == true


def test_hint_has_the_flag(tmp_path: Path) -> None:
    """What is printed to type after a stop has --uncorrected where it was given."""
    job = written(tmp_path, f"{USUAL}\ncount = 9")
    result = run("cutfile", job, "--out", "a.dxf", "--uncorrected")
    assert " --out a.dxf --uncorrected --accept odd-count" in result.stderr.splitlines()[-1]


def test_odd_names(tmp_path: Path) -> None:
    """Nothing of a job's words is markup, in SVG or in DXF, and every script comes through."""
    job = written(tmp_path, f'name = "{ODD}"\n{USUAL}')
    for ending, read, face, percents in (
        ("svg", read_svg, "😀", "%%u"),
        # Release 12 can't name a face, and takes two percent signs for a code.
        ("dxf", read_dxf, "\ufffd", "%\N{FULLWIDTH PERCENT SIGN}u"),
    ):
        target = tmp_path / f"a.{ending}"
        assert run("cutfile", job, "--out", target).exit_code == 0
        words = " ".join(read(target)["TEXT"].words)
        assert SHOWN.format(face, percents) in words


def test_greek_by_gdal(tmp_path: Path) -> None:
    r"""GDAL hands a Greek name on as \U+XXXX, which is what release 12 has for it."""
    job = written(tmp_path, f'name = "Ερωδιός"\n{USUAL}')
    target = tmp_path / "a.dxf"
    assert run("cutfile", job, "--out", target).exit_code == 0
    words = [feature["properties"].get("Text") for feature in read_by_gdal(target)]
    assert r"\U+0395\U+03C1\U+03C9\U+03B4\U+03B9\U+03CC\U+03C2" in words


def test_holes_by_inkscape(tmp_path: Path) -> None:
    """Inkscape finds every hole of a left panel where the plan has it, within 0.01 mm."""
    job = written(tmp_path, f"{USUAL}\npanels = 'left'")
    target = tmp_path / "a.svg"
    assert run("cutfile", job, "--out", target).exit_code == 0
    [panel] = json.loads(run("plan", job, "--json").stdout)["windows"][0]["panels"]
    # A left panel's leading edge is its right one, from which the plan measures.
    centers = sorted(panel["width_mm"] - center for center in panel["centers_mm"])
    found = sorted(circles_by_inkscape(target, "HOLES"))
    assert [x for x, _, _ in found] == pytest.approx(centers, abs=0.01)
    assert [y for _, y, _ in found] == pytest.approx([50.8] * len(centers), abs=0.01)
    assert [wide for *_, wide in found] == pytest.approx([panel["hole_mm"]] * len(found), abs=0.01)


@pytest.mark.parametrize("start", STARTS)
def test_same_bytes(job: Path, tmp_path: Path, start: Start) -> None:
    """Whatever the hash seed, the locale and the day, the same job gives the same bytes."""
    for n, env in enumerate(
        (
            {"PYTHONHASHSEED": "1", "LC_ALL": "C", "TZ": "UTC"},
            {"PYTHONHASHSEED": "2", "LC_ALL": "C.UTF-8", "TZ": "Asia/Tokyo"},
        )
    ):
        for ending in ("dxf", "svg"):
            words = ("cutfile", job.name, "--window", "East", "--out", f"{n}.{ending}")
            assert start(*words, cwd=tmp_path, env=env).returncode == 0
    for ending in ("dxf", "svg"):
        assert (tmp_path / f"0.{ending}").read_bytes() == (tmp_path / f"1.{ending}").read_bytes()


def test_strip_says_what_it_is(job: Path, tmp_path: Path) -> None:
    """On the strip itself: its letter, whose it is, how it lies, its length, window and job."""
    assert run("cutfile", job, "--out", tmp_path / "a.dxf").exit_code == 0
    words = " ".join(read_dxf(tmp_path / "a-C.dxf")["TEXT"].words)
    for expected in (
        "Strip C: LEFT + RIGHT panel",
        "seen from the face, top edge above",
        "left panel 90 in end to end",
        "West",
        "Heron Point, linen store",
    ):
        assert expected in words


def test_words_off_the_band_are_left_out(tmp_path: Path) -> None:
    """On a band hardly higher than its eyelets numbers have no room, and none is cut off."""
    tight = '[band]\nheight = "2 1/4"'
    job = written(tmp_path, f"{USUAL}\npanels = 'left'", tables=f"{WALL}\n{tight}")
    assert run("cutfile", job, "--out", tmp_path / "a.dxf").exit_code == 0
    words = read_dxf(tmp_path / "a.dxf")["TEXT"].words
    assert "1" not in words
    assert {"F", "B"} <= set(words)


def test_what_is_doubtful_is_said_though_it_is_written(tmp_path: Path) -> None:
    """A warning of the plan goes along with a file that is cut by all the same."""
    job = written(tmp_path, USUAL, tables='[pole]\nprojection = 4\ndiameter = "3/4"')
    done = run("cutfile", job, "--out", tmp_path / "a.dxf")
    assert done.exit_code == 0
    assert [line.split(": ")[1:3] for line in done.stderr.splitlines()] == [["warn", "tight-turn"]]
