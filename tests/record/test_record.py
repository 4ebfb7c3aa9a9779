"""The job file inside its PDF: in and out byte for byte, and strangers' PDFs refused in a line."""

from __future__ import annotations

import shutil
import subprocess
from contextlib import suppress
from fractions import Fraction
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.document.model import Document, Page
from drapetemplate.errors import FileError
from drapetemplate.record.attachment import NAME
from drapetemplate.record.read import job_in
from drapetemplate.record.write import as_record
from tests.helpers.commands import run
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import damaged, with_job
from tests.helpers.searching import searched

MOST = 100_000


def blank(**parts: object) -> bytes:
    """A PDF of one empty page, by a library that the tool doesn't use."""
    out = BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(out, **parts)  # type: ignore[arg-type]
    return out.getvalue()


def attached(files: dict[str, bytes], **parts: object) -> bytes:
    """A PDF with these attachments, by a library that the tool doesn't use."""
    out = BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        for name, data in files.items():
            pdf.attachments[name] = pikepdf.AttachedFileSpec(pdf, data, filename=name)
        pdf.save(out, **parts)  # type: ignore[arg-type]
    return out.getvalue()


def refused(pdf: bytes) -> str:
    """What is said of a PDF that holds no job file."""
    with pytest.raises(FileError) as error:
        job_in(pdf, "found.pdf", MOST)
    [fault] = error.value.faults
    assert fault.where == "found.pdf"
    assert "\n" not in fault.text
    return fault.text


@searched(50)
@given(st.binary(max_size=3000))
def test_byte_for_byte(job: bytes) -> None:
    """What goes in comes out, whatever the bytes; twice the same gives the same PDF."""
    made = with_job(job)
    assert job_in(made, "x", MOST) == job
    assert with_job(job) == made


def test_read_by_others() -> None:
    """Another library finds one attachment of that name and those bytes, as the PDF's source.

    The name is the one in PDFs made long ago, by which their jobs are found.
    """
    assert NAME == "job.toml"
    job = job_toml("width = 40").encode()
    with pikepdf.open(BytesIO(with_job(job))) as pdf:
        assert list(pdf.attachments) == [NAME]
        assert pdf.attachments[NAME].get_file().read_bytes() == job
        [spec] = list(pdf.Root.AF)
        assert spec.AFRelationship == "/Source"
        assert spec.EF.F.Params.Size == len(job)
        assert spec.EF.F.Subtype == "/application/toml"


@pytest.mark.skipif(shutil.which("pdfdetach") is None, reason="poppler's pdfdetach isn't installed")
def test_detached_by_poppler(tmp_path: Path) -> None:
    """Poppler's tool gives the job file back too."""
    job = job_toml("width = 40").encode()
    held = tmp_path / "held.pdf"
    held.write_bytes(with_job(job))
    subprocess.run(
        ["pdfdetach", "-save", "1", "-o", str(tmp_path / "out.toml"), str(held)], check=True
    )
    assert (tmp_path / "out.toml").read_bytes() == job


@pytest.mark.parametrize(
    "title",
    ["þÿlinen", "ÿþ linen", "ï»¿linen", "Pantry – “left”", "Żółta 窓", "linen"],
)
def test_titles_read_by_others(title: str) -> None:
    """A title, a bookmark and a page's name read as they are, whatever their first bytes are."""
    page = Page("page 1", (), title, title)
    side = Fraction(100)
    document = Document(title, side, side, (page,), ())
    with pikepdf.open(BytesIO(as_record(document, b"x = 1"))) as pdf:
        assert str(pdf.docinfo.Title) == title
        with pdf.open_metadata() as described:
            assert described["dc:title"] == title
        with pdf.open_outline() as outline:
            assert [item.title for item in outline.root] == [title]
        assert str(pdf.Root.PageLabels.Nums[1].P) == title


def test_by_another_writer() -> None:
    """A job file attached by another library is as good."""
    assert job_in(attached({NAME: b"x = 1"}), "x", MOST) == b"x = 1"


@pytest.mark.parametrize(
    ("pdf", "said"),
    [
        pytest.param(b"", "can't be read as a PDF", id="empty"),
        pytest.param(b"units = 1", "can't be read as a PDF", id="text"),
        pytest.param(b"%PDF-1.7\n" + bytes(5000), "can't be read as a PDF", id="zeros"),
        pytest.param(blank(), "has no job file in it", id="none"),
        pytest.param(attached({"other.toml": b"x"}), f"has no {NAME} in it", id="other-name"),
        pytest.param(attached({NAME: b"x", "b": b"y"}), "has no job file in it", id="two"),
        pytest.param(attached({"../job.toml": b"x"}), f"has no {NAME} in it", id="path"),
        pytest.param(attached({NAME: bytes(MOST + 1)}), "too large", id="too-large"),
        pytest.param(attached({NAME: bytes(50_000_000)}), "too large", id="bomb"),
        pytest.param(
            attached({NAME: b"x"}, encryption=pikepdf.Encryption(owner="a", user="b")),
            "is encrypted",
            id="encrypted",
        ),
    ],
)
def test_refused(pdf: bytes, said: str) -> None:
    """What isn't a PDF of this tool's is refused in one line that says why."""
    assert said in refused(pdf)


@searched(150)
@given(data=st.data())
def test_damage_is_a_line(data: st.DataObject) -> None:
    """A PDF cut short or with a byte changed gives the job file whole, or one line."""
    job = b"units = 'in'\n" * 20
    for pdf in data.draw(damaged(with_job(job))):
        found: bytes | None = None
        with suppress(FileError):
            found = job_in(pdf, "x", MOST)
        assert found in {None, job}


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        pytest.param(b"/FlateDecode", b"/ASCIIHexDec", "can't be unpacked", id="another-way"),
        pytest.param(b"/Filter", b"/Filtre", "is damaged", id="taken-as-plain"),
        pytest.param(b"/CheckSum", b"/CheckSum <00> /X", "is damaged", id="checksum"),
    ],
)
def test_odd_packing(old: bytes, new: bytes, said: str) -> None:
    """An attachment packed in another way, or not what was put in, is refused."""
    made = with_job(b"x = 1")
    assert old in made
    assert said in refused(made.replace(old, new))


@pytest.mark.parametrize("size", ["letter", "24 in roll"])
def test_recalled_and_made_again(tmp_path: Path, size: str) -> None:
    """Made, recalled and made again: the same job file and the same PDF, ticket of a roll too."""
    job = tmp_path / "linen.toml"
    text = job_toml("width = 40", tables=f'[paper]\nsize = "{size}"') + "# crème, as it stands\r\n"
    job.write_bytes(text.encode())
    first, second = tmp_path / "first", tmp_path / "second"
    for folder in (first, second):
        folder.mkdir()
    assert run("make", job, "--out", first).exit_code == 0
    names = [path.name for path in sorted(first.iterdir())]
    assert names == (["linen.pdf"] if size == "letter" else ["linen-ticket.pdf", "linen.pdf"])
    for name in names:
        again = tmp_path / f"{name}.toml"
        done = run("recall", first / name, "--out", again)
        assert (done.exit_code, done.stdout) == (0, f"{again}\n")
        assert again.read_bytes() == job.read_bytes()
    assert run("make", again, "--out", second / "linen.pdf").exit_code == 0
    for name in names:
        assert (first / name).read_bytes() == (second / name).read_bytes()


def test_recall_replaces_nothing(tmp_path: Path) -> None:
    """A file that is there already stands, unless it holds the very same; a folder takes it."""
    held = tmp_path / "held.pdf"
    held.write_bytes(with_job(b"x = 1"))
    target = tmp_path / "mine.toml"
    target.write_bytes(b"y = 2")
    done = run("recall", held, "--out", target)
    assert (done.exit_code, target.read_bytes()) == (2, b"y = 2")
    assert done.stderr.splitlines() == [f"{target}: is there already: name another file with --out"]
    target.write_bytes(b"x = 1")
    before = target.stat()  # reading it may change when it was last read, and no more
    done = run("recall", held, "--out", target)
    after = target.stat()
    assert (done.exit_code, after.st_ino, after.st_mtime_ns) == (
        0,
        before.st_ino,
        before.st_mtime_ns,
    )
    assert done.stdout == f"{target} is this job file already, byte for byte: nothing written\n"
    assert run("recall", held, "--out", tmp_path).exit_code == 0
    assert (tmp_path / "held.toml").read_bytes() == b"x = 1"


def test_recalled_in_this_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Without --out the job file goes where make puts a PDF: in this folder, whatever the PDF's."""
    here, kept = tmp_path / "here", tmp_path / "kept"
    for folder in (here, kept):
        folder.mkdir()
    (kept / "held.pdf").write_bytes(with_job(b"x = 1"))
    monkeypatch.chdir(here)
    done = run("recall", kept / "held.pdf")
    assert (done.exit_code, done.stdout) == (0, "held.toml\n")
    assert (here / "held.toml").read_bytes() == b"x = 1"
    assert [path.name for path in kept.iterdir()] == ["held.pdf"]


def test_recall_of_nothing(tmp_path: Path) -> None:
    """No such file, or a folder, is one line and exit 2."""
    for path in (tmp_path / "none.pdf", tmp_path):
        done = run("recall", path, "--out", tmp_path / "x.toml")
        assert done.exit_code == 2
        assert len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "x.toml").exists()
