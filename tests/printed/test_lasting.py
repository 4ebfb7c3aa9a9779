"""The PDF as a lasting record: PDF/A-3b, described, with bookmarks and page labels; by others."""

from __future__ import annotations

import shutil
import subprocess
from io import BytesIO
from pathlib import Path
from struct import unpack

import pikepdf
import pypdfium2
import pytest
from pikepdf import pdfa
from PIL import Image, ImageCms

from drapetemplate.record.grey_profile import NAME as GREY
from drapetemplate.record.grey_profile import grey_profile
from drapetemplate.version import __version__
from tests.helpers.cases import CASES
from tests.helpers.jobfiles import NAME, job_toml
from tests.helpers.made import made

ROLL = job_toml("width = 40", tables='[paper]\nsize = "24 in roll"')
PAIR = job_toml("width = 40\nname = 'Pantry'")
ODD = (
    "\\u202eabc <b>x</b> <img src='file:///etc/passwd'/> &amp; %s {0} (x) \\\\ \\u0007\\u001b[31m"
    " \\U0001D54F \\U0001F600 \\U00010330 中文 עברית ёЖ"
)
JOBS = {
    **{name: case.toml for name, case in CASES.items()},
    "pair": PAIR,
    "roll": ROLL,
    "odd": PAIR.replace(NAME, ODD).replace("Pantry", "Ж中\U0001d54f"),
    "long": PAIR.replace(NAME, "Heron Point " * 60),
}


@pytest.mark.parametrize("toml", JOBS.values(), ids=JOBS)
def test_pdfa(toml: str) -> None:
    """An independent validator approves every PDF as PDF/A-3b."""
    for pdf in made(toml):
        report = pdfa.validate_written(BytesIO(pdf), "3b")
        assert [str(found) for found in report.findings] == []
        assert report.passed
        assert pdf.startswith(b"%PDF-1.7\n")


@pytest.mark.parametrize("key", ["/OutputIntents", "/Metadata"])
def test_pdfa_can_fail(key: str) -> None:
    """The validator refuses the same PDF without what the record adds."""
    out = BytesIO()
    with pikepdf.open(BytesIO(made(PAIR)[0])) as pdf:
        del pdf.Root[key]
        pdf.save(out)
    assert not pdfa.validate_written(out, "3b").passed


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf isn't installed")
@pytest.mark.parametrize("toml", [PAIR, ROLL, JOBS["odd"]], ids=["pair", "roll", "odd"])
def test_qpdf_finds_no_fault(toml: str, tmp_path: Path) -> None:
    """Another reader, qpdf, reads every object and stream without a word of warning."""
    for pdf in made(toml):
        held = tmp_path / "held.pdf"
        held.write_bytes(pdf)
        done = subprocess.run(
            ["qpdf", "--check", str(held)], capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stdout + done.stderr
        assert "WARNING" not in done.stdout + done.stderr


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo isn't installed")
def test_pdfinfo(tmp_path: Path) -> None:
    """Poppler reads the title, no date, and metadata."""
    held = tmp_path / "held.pdf"
    held.write_bytes(made(PAIR)[0])
    said = subprocess.run(["pdfinfo", str(held)], capture_output=True, text=True, check=True)
    found = dict(line.split(":", 1) for line in said.stdout.splitlines())
    assert found["Title"].strip() == NAME
    assert found["Metadata Stream"].strip() == "yes"
    assert found["PDF version"].strip() == "1.7"
    assert not {"CreationDate", "ModDate"} & set(found)


def test_described_twice_alike() -> None:
    """Title, subject and programs stand in the information and in XMP, the same; the language too.

    No date stands in either: the day a job is due is the job's own.
    """
    for toml in (PAIR, JOBS["odd"], JOBS["long"]):
        with pikepdf.open(BytesIO(made(toml)[0])) as pdf:
            info = pdf.docinfo
            assert set(info.keys()) == {"/Title", "/Subject", "/Creator", "/Producer"}
            with pdf.open_metadata() as xmp:
                assert xmp["dc:title"] == str(info.Title)
                assert xmp["dc:description"] == str(info.Subject)
                assert xmp["xmp:CreatorTool"] == str(info.Creator) == f"drapetemplate {__version__}"
                assert xmp["pdf:Producer"] == str(info.Producer)
                assert xmp["dc:language"] == {"en"}
                assert not any("Date" in key for key in xmp)
            assert str(pdf.Root.Lang) == "en"


def test_title_shows_what_it_can() -> None:
    """A title keeps every script; what would turn or hide is a replacement; a long one is cut."""
    with pikepdf.open(BytesIO(made(JOBS["odd"])[0])) as pdf:
        title = str(pdf.docinfo.Title)
    assert title.startswith(
        "\ufffdabc <b>x</b> <img src='file:///etc/passwd'/> &amp; %s {0} (x) \\"
    )
    assert title.endswith("\U0001d54f \U0001f600 \U00010330 中文 עברית ёЖ")
    with pikepdf.open(BytesIO(made(JOBS["long"])[0])) as pdf:
        title = str(pdf.docinfo.Title)
    assert title == (("Heron Point " * 60)[:199] + "…")


def test_bookmarks_and_labels() -> None:
    """A bookmark for the ticket and each strip, over their pages, and a label for every page."""
    with pikepdf.open(BytesIO(made(PAIR)[0])) as pdf:
        count = len(pdf.pages)
        labels = [page.label for page in pdf.pages]
        texts = [_text(made(PAIR)[0], n) for n in range(count)]
        places = {page.obj.objgen: n for n, page in enumerate(pdf.pages)}
        found = []
        with pdf.open_outline() as outline:
            for item in outline.root:
                inside = [(one.title, places[_aim(one)]) for one in item.children]
                found.append((item.title, places[_aim(item)], inside))
    assert [title for title, _, _ in found] == [
        "Job ticket",
        "Pantry, left and right panel",
        "Hanging",
    ]
    assert found[0][1] == 0
    shown = []
    for title, start, inside in found:
        assert all(place >= start for _, place in inside)
        shown += [place for _, place in inside] or [start]
        for name, place in inside:
            if name.startswith("sheet "):
                assert f"Sheet {name.removeprefix('sheet ')}" in texts[place], (title, name)
    assert shown == list(range(count))
    tickets = [label for label in labels if label.startswith("ticket ")]
    assert tickets == [f"ticket {n}" for n in range(1, len(tickets) + 1)]
    assert labels[len(tickets) :][:2] == ["strip 1 assembly 1", "strip 1 sheet 1"]
    strips = [label for label in labels if label.startswith("strip ")]
    assert strips[-1].startswith("strip 1 sheet ")
    assert labels[len(tickets) + len(strips) :] == ["hanging 1"]
    assert len(set(labels)) == count


def _aim(item: pikepdf.OutlineItem) -> tuple[int, int]:
    """The page a bookmark goes to."""
    assert item.action is not None
    assert item.action.S == "/GoTo"
    return item.action.D[0].objgen


def _text(pdf: bytes, number: int) -> str:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return str(document[number].get_textpage().get_text_bounded())
    finally:
        document.close()


def test_text_is_text() -> None:
    """Markup in a name is drawn as it stands, and letters beyond U+FFFF are found again."""
    text = " ".join(_text(made(JOBS["odd"])[0], 0).split())
    assert "<b>x</b> <img src='file:///etc/passwd'/> &amp; %s {0} (x) \\" in text
    assert "\U0001d54f \U0001f600" in text
    assert "Ж\ufffd\U0001d54f" in text  # the font has no 中


def test_each_job_has_its_own_identity() -> None:
    """Two jobs' PDFs have different identifiers, the same job's the same."""
    found = []
    for toml in (PAIR, PAIR, ROLL):
        with pikepdf.open(BytesIO(made(toml)[0])) as pdf:
            first, second = (bytes(part) for part in pdf.trailer.ID)
            assert first == second
            found.append(first)
    assert found[0] == found[1] != found[2]


def test_grey_profile() -> None:
    """A colour library opens the profile: grey, by its name, of gamma 2.2 from black to white."""
    profile = ImageCms.ImageCmsProfile(BytesIO(grey_profile()))
    assert ImageCms.getProfileDescription(profile).strip() == GREY
    assert profile.profile.xcolor_space.strip() == "GRAY"
    ramp = Image.frombytes("L", (3, 1), bytes([0, 128, 255]))
    linear = ImageCms.buildTransform(profile, ImageCms.createProfile("sRGB"), "L", "RGB")
    shown = ImageCms.applyTransform(ramp, linear)
    assert shown is not None
    reds = list(shown.tobytes()[::3])
    # 0.502^2.2 = 0.2195 linear, in sRGB 1.055 x 0.2195^(1/2.4) - 0.055 = 0.506: 129 of 255.
    assert reds == [0, pytest.approx(129, abs=1), 255]


def test_grey_profile_in_fours() -> None:
    """Each part begins at a fourth byte, where the one before ends (ICC.1:2004-10, 7.1)."""
    profile = grey_profile()
    (size, count), ends = unpack(">I124xI", profile[:132]), 132 + 12 * 4
    assert (size, count) == (len(profile), 4)
    for n in range(count):
        at, length = unpack(">4xII", profile[132 + 12 * n :][:12])
        assert at == ends
        ends = at + length + -length % 4
    assert ends == size
