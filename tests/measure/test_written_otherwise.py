"""What a page's marks don't tell: fonts, resources, boxes, how lines end, what a file does.

Each change is planted by another library in a PDF that is true, and is one that leaves every mark
where it was; each must be told in a sentence of its own. What only packs a file anew stays true.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Object, Pdf, String

import drapetemplate
from drapetemplate.errors import JobError
from tests.helpers import edits
from tests.helpers.edits import Edit, content, set_, sheet_of
from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made

JOB = job_toml("width = 12\ncount = 2\npanels = 'left'\nname = 'Pantry'")
PDF = made(JOB)[0]
ROLL = job_toml("width = 12\ncount = 2", tables='[paper]\nsize = "24 in roll"')


def said(pdf: bytes) -> str:
    """All that is wrong, a line each; "" where nothing is."""
    return "\n".join(map(str, drapetemplate.measure_pdf(pdf, "held.pdf").flaws))


def edited(edit: Edit, pdf: bytes = PDF) -> bytes:
    """The small PDF after an edit, or another."""
    return edits.edited(edit, pdf)


def fonts(change: Callable[[TTFont], None]) -> Edit:
    """Every font's program, changed and put back."""

    def edit(pdf: Pdf) -> None:
        for font in pdf.pages[0].obj.Resources.Font.values():
            held = font.FontDescriptor.FontFile2
            program = TTFont(BytesIO(held.read_bytes()), recalcTimestamp=False)
            change(program)
            out = BytesIO()
            program.save(out)
            held.write(out.getvalue())
            held.Length1 = len(out.getvalue())

    return edit


def glyphs_swapped(one: str, other: str) -> Edit:
    """The outlines of two characters, each drawn as the other; as wide as before."""

    def change(program: TTFont) -> None:
        # A letter of ASCII has its own code; a face that hasn't drawn both stays as it is.
        glyphs, drawn = program["glyf"], program["cmap"].tables[0].cmap
        if not {ord(one), ord(other)} <= set(drawn):
            return
        a, b = drawn[ord(one)], drawn[ord(other)]
        assert glyphs[a] != glyphs[b]
        glyphs[a], glyphs[b] = glyphs[b], glyphs[a]

    return fonts(change)


def em_halved(program: TTFont) -> None:
    """Letters drawn twice as large as they are spaced."""
    program["head"].unitsPerEm //= 2


def of_fonts(change: Callable[[Pdf, Object], None]) -> Edit:
    """A change to every font's dictionary."""

    def edit(pdf: Pdf) -> None:
        for font in pdf.pages[0].obj.Resources.Font.values():
            change(pdf, font)

    return edit


def program_gone(_: Pdf, font: Object) -> None:
    """A viewer puts a font of its own in place."""
    del font.FontDescriptor.FontFile2


def otherwise_encoded(_: Pdf, font: Object) -> None:
    """Code 70, F, drawn as B."""
    font.Encoding = Dictionary(Type=Name.Encoding, Differences=Array([70, Name.B]))


def of_resources(kind: str, entry: Callable[[Pdf], Object]) -> Edit:
    """A first sheet with resources of another kind."""

    def edit(pdf: Pdf) -> None:
        pdf.pages[sheet_of(pdf)].obj.Resources[kind] = entry(pdf)

    return edit


def default_grey(pdf: Pdf) -> Object:
    """Every grey drawn white."""
    white = Dictionary(FunctionType=2, Domain=[0, 1], C0=[1], C1=[1], N=1)
    space = Array([Name.Separation, Name.All, Name.DeviceGray, pdf.make_indirect(white)])
    return Dictionary(DefaultGray=space)


def thin_lines(_: Pdf) -> Object:
    """A graphics state with lines as thin as can be."""
    return Dictionary(GS0=Dictionary(Type=Name.ExtGState, LW=0.01, LC=2))


def before(words: bytes) -> Edit:
    """The first sheet with words of content before its own."""
    return lambda pdf: content(pdf, sheet_of(pdf), lambda held: words + b"\n" + held)


def hidden(words: bytes) -> Edit:
    """The same in a place that looks like a comment, and is a string's end and words after it."""
    return before(b"BT /R0 1 Tf ( (a)% ) Tj ET " + words)


def graphics_state(pdf: Pdf) -> None:
    """Thin lines, called for where a careless reader sees a comment."""
    of_resources("/ExtGState", thin_lines)(pdf)
    hidden(b"/GS0 gs")(pdf)


def phase_moved(held: bytes) -> bytes:
    """All dashes begun 3 points later."""
    return re.sub(rb"\] ([\d.]+) d\b", lambda found: b"] %.4f d" % (float(found[1]) + 3), held)


def script() -> Dictionary:
    """An action that prints."""
    return Dictionary(S=Name.JavaScript, JS=String("this.print()"))


def of_root(key: str, entry: object) -> Edit:
    """The catalogue with an entry of its own."""

    def edit(pdf: Pdf) -> None:
        pdf.Root[key] = entry

    return edit


def script_named(pdf: Pdf) -> None:
    """A program that runs as the file is opened."""
    pdf.Root.Names.JavaScript = Dictionary(Names=Array([String("a"), script()]))


def bookmark_astray(pdf: Pdf) -> None:
    """The ticket's bookmark leads to a sheet."""
    pdf.Root.Outlines.First.A.D[0] = pdf.pages[sheet_of(pdf)].obj


def bookmark_acts(pdf: Pdf) -> None:
    """A bookmark that prints."""
    pdf.Root.Outlines.First.A = script()


def page_named(pdf: Pdf) -> None:
    """The first two pages each under the other's name."""
    names = pdf.Root.PageLabels.Nums
    names[1], names[3] = Dictionary(P=names[3].P), Dictionary(P=names[1].P)


def profile_changed(pdf: Pdf) -> None:
    """Another grey meant: its gamma doubled."""
    held = pdf.Root.OutputIntents[0].DestOutputProfile
    data = held.read_bytes()
    held.write(data.replace(b"curv" + bytes(4) + b"\0\0\0\1\2\x33", b"curv\0\0\0\0\0\0\0\1\4\x66"))
    assert held.read_bytes() != data


def titled(pdf: Pdf) -> None:
    """Another job's title in the window's bar."""
    pdf.docinfo["/Title"] = "Heron Point, attic"


FONT = r'page 1 \(ticket 1\): has font "DejaVuSans" otherwise than this tool writes it: its letters'
SHEET = r"page 4 \(Pantry, left panel, sheet 1 of \d\): "
PLANTED: dict[str, tuple[Edit, str]] = {
    "F-as-B": (glyphs_swapped("F", "B"), FONT),
    "6-as-8": (glyphs_swapped("6", "8"), FONT + r".* \(so on 5 other pages\)$"),
    "em": (fonts(em_halved), FONT),
    "font-gone": (of_fonts(program_gone), FONT),
    "font-encoded": (of_fonts(otherwise_encoded), FONT),
    "default-grey": (
        of_resources("/ColorSpace", default_grey),
        SHEET + r'has "Resources/ColorSpace", which no page of this tool has: its greys may',
    ),
    "state-unused": (
        of_resources("/ExtGState", thin_lines),
        SHEET + r'has "Resources/ExtGState", which no page of this tool has: its ink may',
    ),
    "form-of-fields": (
        of_root("/AcroForm", Dictionary(Fields=Array())),
        'the file has "AcroForm", which no PDF of this tool has: a form may print over a page$',
    ),
    "form-unused": (
        of_resources("/XObject", lambda pdf: Dictionary(Fx=pdf.pages[0].as_form_xobject())),
        SHEET + r'has "Resources/XObject", which no page of this tool has: it may print$',
    ),
    "state-hidden": (graphics_state, SHEET + r"is drawn with words that can’t be read, which no"),
    "caps": (before(b"2 J"), SHEET + "sets the ends of lines otherwise than this tool does$"),
    "joins": (before(b"1 j"), SHEET + "sets the joins of lines otherwise than this tool does$"),
    "mitres": (before(b"1 M"), SHEET + "sets the joins of lines otherwise than this tool does$"),
    "phase": (
        lambda pdf: content(pdf, sheet_of(pdf), phase_moved),
        SHEET + "sets the dashes of lines otherwise than this tool does$",
    ),
    "grey": (
        lambda pdf: content(
            pdf, sheet_of(pdf), lambda held: held.replace(b"\n0 g\n", b"\n.004 g\n")
        ),
        SHEET + "sets the grey of areas and letters otherwise than this tool does$",
    ),
    "even-odd": (
        lambda pdf: content(pdf, sheet_of(pdf), lambda held: re.sub(rb"\bf\*", b"f", held)),
        SHEET + "is drawn in another order than this tool draws it, which may print otherwise$",
    ),
    "size-by-0.01-pt": (
        set_("/MediaBox", [0, 0, 612.01, 792]),
        r"page 2 \(ticket 2\): has a MediaBox of 215\.9035 × 279\.4000 mm, not 215\.9000 × 279\.40",
    ),
    "origin-by-0.01-pt": (
        set_("/MediaBox", [0, 0.01, 612, 792]),
        r"page 2 .*: has a MediaBox of 215\.9000 × 279\.3965 mm from 0\.0000, 0\.0035, not 215\.9",
    ),
    **{
        f"{box}-as-large": (
            set_(f"/{box}", [0, 0, 612, 792]),
            rf"page 2 .*: has an? {box} of 215\.90 × 279\.40 mm, which no page of this tool has$",
        )
        for box in ("CropBox", "BleedBox", "TrimBox", "ArtBox")
    },
    "not-turned": (
        set_("/Rotate", 360),
        r'page 2 .*: has "Rotate", which no page of this tool has',
    ),
    "page-acts": (
        set_("/AA", Dictionary(O=script())),
        r'page 2 .*: has "AA", which no page of this tool has: it acts as the page is opened$',
    ),
    "group": (
        set_("/Group", Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)),
        r'page 2 .*: has "Group", which no page of this tool has: its inks may be mixed$',
    ),
    "tabs": (set_("/Tabs", Name.S), r'page 2 .*: has "Tabs", which no page of this tool has$'),
    "opened": (
        of_root("/OpenAction", script()),
        r'^the file has "OpenAction", which no PDF of this tool has: it acts as the file is',
    ),
    "file-acts": (
        of_root("/AA", Dictionary(WP=script())),
        r'^the file has "AA", which no PDF of this tool has: it acts as the file is opened or',
    ),
    "script": (
        script_named,
        r'^the file has "Names/JavaScript", which no PDF of this tool has: it is a program that',
    ),
    "form": (of_root("/AcroForm", Dictionary(Fields=Array())), r'^the file has "AcroForm", which'),
    "layers": (
        of_root("/OCProperties", Dictionary(OCGs=Array(), D=Dictionary())),
        r'^the file has "OCProperties", which no PDF of this tool has: layers may hide what is',
    ),
    "copies": (
        lambda pdf: pdf.Root.ViewerPreferences.__setitem__("/NumCopies", 3),
        r'^the file has "ViewerPreferences/NumCopies", which no PDF of this tool has$',
    ),
    "duplex": (
        lambda pdf: pdf.Root.ViewerPreferences.__setitem__("/Duplex", Name.DuplexFlipLongEdge),
        r"^the printing hint Duplex isn’t /Simplex any more$",
    ),
    "hints": (
        lambda pdf: pdf.Root.__delitem__("/ViewerPreferences"),
        r"^the printing hints are gone: viewers may fit pages to the paper$",
    ),
    "grey-meant": (profile_changed, r'^the file has "OutputIntents/DestOutputProfile" otherwise'),
    "bookmark-astray": (bookmark_astray, r'^the file has "Outlines/First/A/D" otherwise than this'),
    "bookmark-acts": (
        bookmark_acts,
        r'^the file has "Outlines/First/A/JS", which no PDF of this tool has: it is a program',
    ),
    "page-names": (page_named, r'^the file has "PageLabels/Nums/P" otherwise than this tool'),
    "title": (titled, r'^the file has "Title" otherwise than this tool writes it$'),
}


@pytest.mark.parametrize(("edit", "expected"), PLANTED.values(), ids=PLANTED)
def test_planted(edit: Edit, expected: str) -> None:
    """Every mark is where it was, and yet the PDF isn't true: a sentence says why."""
    assert re.search(expected, said(edited(edit)), re.MULTILINE), said(edited(edit))


def test_planted_on_a_roll() -> None:
    """A roll's two PDFs are each held to their own fonts."""
    for pdf in made(ROLL):
        assert said(edited(glyphs_swapped("6", "8"), pdf)).startswith("page 1 (")


def nothing(_: Pdf) -> None:
    """No edit."""


def shared_by_parent(pdf: Pdf) -> None:
    """What all pages have in common said once, by the tree they stand in."""
    tree = pdf.Root.Pages
    tree.Resources, tree.MediaBox = pdf.pages[0].obj.Resources, pdf.pages[0].obj.MediaBox
    for page in pdf.pages:
        del page.obj.Resources
        del page.obj.MediaBox


def inside_out(pdf: Pdf) -> None:
    """What stood by itself inside what refers to it, and the other way round."""
    page = pdf.pages[0].obj
    resources = Dictionary()
    for key, held in page.Resources.items():
        resources[key] = held
    page.Resources = pdf.make_indirect(resources)
    page.MediaBox = pdf.make_indirect(Array(list(page.MediaBox)))
    pdf.Root.Outlines.First.A = pdf.make_indirect(pdf.Root.Outlines.First.A)


def in_parts(pdf: Pdf) -> None:
    """A page's content in two streams, parted between two words."""
    page = pdf.pages[sheet_of(pdf)].obj
    pdf.pages[sheet_of(pdf)].contents_coalesce()
    held = page.Contents.read_bytes()
    at = held.index(b"\n", len(held) // 2)
    page.Contents = Array([pdf.make_stream(held[:at]), pdf.make_stream(held[at:])])


MODE = pikepdf.ObjectStreamMode
PACKED: dict[str, tuple[Edit, dict[str, object]]] = {
    "as-it-is": (nothing, {}),
    "linear": (nothing, {"linearize": True}),
    "object-streams": (nothing, {"object_stream_mode": MODE.generate}),
    "no-object-streams": (nothing, {"object_stream_mode": MODE.disable}),
    "unpacked": (
        nothing,
        {"compress_streams": False, "stream_decode_level": pikepdf.StreamDecodeLevel.all},
    ),
    "packed-anew": (nothing, {"recompress_flate": True}),
    "words-put-in-order": (nothing, {"normalize_content": True}),
    "to-be-read": (nothing, {"qdf": True}),
    "shared-by-parent": (shared_by_parent, {}),
    "inside-out": (inside_out, {}),
    "in-parts": (in_parts, {}),
}


@pytest.mark.parametrize(("edit", "parts"), PACKED.values(), ids=PACKED)
@pytest.mark.parametrize("toml", [JOB, ROLL], ids=["sheets", "roll"])
def test_packed_otherwise(toml: str, edit: Edit, parts: dict[str, object]) -> None:
    """However another program packs it, a PDF that says the same is as true."""
    pdf = made(toml)[0]
    if toml == ROLL and edit is in_parts:
        return  # a roll's first PDF has no sheet of that name
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        edit(opened)
        opened.save(out, **parts)  # type: ignore[arg-type]
    assert out.getvalue() != pdf
    assert said(out.getvalue()) == ""


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf isn't installed")
@pytest.mark.parametrize(
    "option",
    ["--linearize", "--object-streams=generate", "--compress-streams=n", "--qdf"],
)
def test_through_qpdf(option: str, tmp_path: Path) -> None:
    """The program itself rewrites a PDF as true as it was."""
    held, out = tmp_path / "held.pdf", tmp_path / "out.pdf"
    held.write_bytes(PDF)
    subprocess.run(["qpdf", option, str(held), str(out)], check=True)
    assert said(out.read_bytes()) == ""


def by_version(version: str, pdf: Pdf) -> None:
    """Another version's name in the file."""
    pdf.docinfo["/Creator"] = f"drapetemplate {version}"


def test_of_another_version() -> None:
    """What another version made is true where it is the same, and named where it isn't."""
    assert drapetemplate.measure_pdf(edited(lambda pdf: by_version("0.0.9", pdf)), "x").true

    def edit(pdf: Pdf) -> None:
        by_version("0.0.9", pdf)
        pdf.pages[0], pdf.pages[1] = pdf.pages[1], pdf.pages[0]

    last = drapetemplate.measure_pdf(edited(edit), "held.pdf").lines("held.pdf")[-1]
    assert last.startswith("made by drapetemplate 0.0.9, measured by drapetemplate ")
    assert last.endswith("Measure it with the version that made it, or make it again")


def test_job_of_another_version() -> None:
    """Where this version can't even read the job inside, the version that made it is named too."""
    data = JOB.replace("[job]", "[job]\nshade = 3").encode()

    def edit(pdf: Pdf) -> None:
        by_version("9.0.0", pdf)
        pdf.attachments["job.toml"] = pikepdf.AttachedFileSpec(pdf, data, filename="job.toml")

    with pytest.raises(JobError) as error:
        drapetemplate.measure_pdf(edited(edit), "held.pdf")
    first, *_, last = map(str, error.value.faults)
    assert "shade" in first
    assert last.startswith("held.pdf: made by drapetemplate 9.0.0, measured by drapetemplate ")
