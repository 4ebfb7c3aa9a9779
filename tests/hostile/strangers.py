"""PDFs that nobody should have to read: each a made PDF with one thing about it turned hostile."""

from __future__ import annotations

import re
import zlib
from collections.abc import Callable, Iterator
from io import BytesIO

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

from tests.helpers.jobfiles import job_toml
from tests.helpers.made import made, with_job

JOB = job_toml("width = 12\ncount = 2\npanels = 'left'\nname = 'Pantry'")
PDF = made(JOB)[0]
BIG = 10**9

Edit = Callable[[Pdf], None]


def edited(edit: Edit, pdf: bytes = PDF, *, packed: bool = False) -> bytes:
    """A PDF after an edit; `packed`: its objects in object streams."""
    mode = pikepdf.ObjectStreamMode
    out = BytesIO()
    with pikepdf.open(BytesIO(pdf)) as opened:
        edit(opened)
        kind = mode.generate if packed else mode.disable
        opened.save(out, object_stream_mode=kind, fix_metadata_version=False)
    return out.getvalue()


def _nothing(_: Pdf) -> None:
    """No edit: written again by another library."""


PLAIN = edited(_nothing)
PACKED = edited(_nothing, packed=True)


def patched(old: bytes, new: bytes, pdf: bytes = PLAIN) -> bytes:
    """A PDF with some bytes changed wherever they are; they must be there."""
    found = re.sub(old, lambda _: new, pdf, flags=re.DOTALL)
    assert found != pdf, f"{old!r} isn't in it"
    return found


def appended(objects: bytes, trailer: bytes, pdf: bytes = PLAIN) -> bytes:
    """A PDF with an update at its end; AT in the trailer is where its cross references start."""
    at = len(pdf) + len(objects)
    after = trailer.replace(b"AT", str(at).encode())
    return pdf + objects + after + b"\nstartxref\n" + str(at).encode() + b"\n%%EOF\n"


def root_of(pdf: bytes) -> bytes:
    """The trailer's entry for the catalogue."""
    found = re.findall(rb"/Root \d+ 0 R", pdf)
    assert found
    return bytes(found[-1])


def xref_stream(entries: bytes, data: bytes, pdf: bytes = PLAIN) -> bytes:
    """A PDF with a stream of cross references at its end, these its entries and its rows."""
    packed = zlib.compress(data)
    head = b"9999 0 obj\n<< /Type /XRef /Filter /FlateDecode %s %s /Length %d >>\nstream\n" % (
        entries,
        root_of(pdf),
        len(packed),
    )
    at = len(pdf)
    end = b"\nendstream\nendobj\nstartxref\n%d\n%%%%EOF\n" % at
    return pdf + head + packed + end


def cross_references() -> Iterator[tuple[str, bytes]]:
    """Tables of cross references that lie, loop, or have no end."""
    root = root_of(PLAIN)
    size = b"<< /Size 99 " + root
    yield "xref-self", appended(b"", b"xref\n0 0\ntrailer\n" + size + b" /Prev AT >>")
    first = len(PLAIN)
    one = b"xref\n0 0\ntrailer\n" + size + b" /Prev %d >>\n" % (first + 80)
    two = b"xref\n0 0\ntrailer\n" + size + b" /Prev %d >>\n" % first
    both = one.ljust(80) + two
    yield "xref-ring", PLAIN + both + b"startxref\n%d\n%%%%EOF\n" % first
    yield (
        "xref-count",
        appended(b"", b"xref\n0 %d\n0000000000 65535 f \ntrailer\n" % BIG + size + b">>"),
    )
    yield "xref-negative", appended(b"", b"xref\n-5 -9\ntrailer\n" + size + b">>")
    yield "xref-prev-word", appended(b"", b"xref\n0 0\ntrailer\n" + size + b" /Prev (x) >>")
    yield "xref-hybrid-self", appended(b"", b"xref\n0 0\ntrailer\n" + size + b" /XRefStm AT >>")
    yield (
        "xref-stream-nothing",
        xref_stream(b"/Size %d /W [0 0 0] /Index [0 %d]" % (BIG, BIG), b""),
    )
    yield (
        "xref-stream-zeros",
        xref_stream(b"/Size %d /W [1 0 0] /Index [0 %d]" % (BIG, BIG), bytes(50_000_000)),
    )
    yield "xref-stream-wide", xref_stream(b"/Size 9 /W [%d 1 1]" % BIG, bytes(100))
    yield "xref-stream-negative", xref_stream(b"/Size 9 /W [-1 2 -1] /Index [0 9]", bytes(100))
    yield "xref-stream-words", xref_stream(b"/Size (9) /W [/a /b /c] /Index /x", bytes(100))
    yield (
        "xref-stream-prev-self",
        xref_stream(b"/Size 9 /W [1 2 1] /Prev %d" % len(PLAIN), bytes(36)),
    )
    yield "xref-stream-bomb", xref_stream(b"/Size 9 /W [1 2 1]", bytes(2_000_000_000 // 4))
    yield "startxref-far", patched(rb"startxref\s+\d+", b"startxref\n%d" % BIG)
    yield "startxref-negative", patched(rb"startxref\s+\d+", b"startxref\n-1")
    yield "startxref-word", patched(rb"startxref\s+\d+", b"startxref\nabc")
    yield "no-startxref", patched(rb"startxref\s+\d+\s+%%EOF", b"")
    yield "no-trailer", patched(rb"trailer", b"tr")
    yield "no-xref-table", patched(rb"xref\n0 .*?trailer", b"trailer")
    yield "many-eofs", PLAIN + b"%%EOF\n" * 100_000
    yield "no-root", patched(rb"/Root \d+ 0 R", b"/Root 9999 0 R")
    yield "size-huge", patched(rb"/Size \d+", b"/Size %d" % BIG)


def cuts() -> Iterator[tuple[str, bytes]]:
    """PDFs that end early, begin late, or have a hole in them."""
    for share in (2, 10, 50, 90, 99):
        yield f"cut-{share}", PDF[: len(PDF) * share // 100]
        yield f"cut-packed-{share}", PACKED[: len(PACKED) * share // 100]
    yield "tail-only", PDF[len(PDF) // 2 :]
    middle = len(PDF) // 3
    yield "hole", PDF[:middle] + bytes(3000) + PDF[middle + 3000 :]
    yield "junk-first", b"\x1b[31m" * 400 + PDF
    yield "twice", PDF + PDF
    yield "words", b"%PDF-1.7\n" + b"obj endobj stream " * 50_000
    yield "brackets", b"%PDF-1.7\n1 0 obj\n" + b"[" * 200_000
    yield "dictionaries", b"%PDF-1.7\n1 0 obj\n" + b"<</a" * 200_000
    yield "brackets-in-trailer", patched(rb"trailer <<", b"trailer << /X " + b"[" * 200_000)
    yield "brackets-in-root", patched(rb"/Type /Catalog", b"/Type /Catalog /X " + b"[" * 100_000)
    yield (
        "objects",
        b"%PDF-1.7\n" + b"".join(b"%d 0 obj\n<<>>\nendobj\n" % n for n in range(99_999)),
    )
    yield "lengths", patched(rb"/Length \d+", b"/Length %d" % BIG)
    yield "lengths-negative", patched(rb"/Length \d+", b"/Length -7")
    yield "lengths-word", patched(rb"/Length \d+", b"/Length (x)")


def packing() -> Iterator[tuple[str, bytes]]:
    """Streams that unpack to far more than they are, or not at all."""

    def pages_content(data: bytes, packing: object = Name.FlateDecode) -> Edit:
        def edit(pdf: Pdf) -> None:
            pdf.pages[2].obj.Contents = Stream(pdf, b"")
            pdf.pages[2].obj.Contents.write(data, filter=packing)

        return edit

    zeros = zlib.compress(b" " * 300_000_000, 9)
    yield "bomb-content", edited(pages_content(zeros))
    yield (
        "bomb-twice",
        edited(pages_content(zlib.compress(zeros), Array([Name.FlateDecode, Name.FlateDecode]))),
    )
    yield "filters", edited(pages_content(b"", Array([Name.FlateDecode] * 10_000)))
    for name in ("LZWDecode", "RunLengthDecode", "ASCII85Decode", "ASCIIHexDecode", "JBIG2Decode"):
        yield f"filter-{name}", edited(pages_content(b"\x80" * 3000, Name(f"/{name}")))
    yield "filter-unknown", edited(pages_content(b"x", Name("/NoSuch")))
    yield "not-packed", edited(pages_content(b"not packed at all"))

    def repeated(pdf: Pdf) -> None:
        held = pdf.make_indirect(Stream(pdf, b"0 0 m 9 9 l S\n" * 500_000))
        pdf.pages[2].obj.Contents = Array([held] * 5000)

    yield "content-repeated", edited(repeated)

    def predictors(pdf: Pdf) -> None:
        held = pdf.pages[2].obj.Contents
        held.DecodeParms = Dictionary(Predictor=15, Columns=BIG, Colors=BIG, BitsPerComponent=BIG)

    yield "predictors", edited(predictors)
    bomb = zlib.compress(b" " * 500_000_000, 9)
    inside = b"<< /Type /ObjStm /N 1 /First 9 /Filter /FlateDecode /Length %d >>" % len(bomb)
    packed = b"5000 0 obj\n" + inside + b"\nstream\n" + bomb + b"\nendstream\nendobj\n"
    row = b"\x02\x13\x88\x00"  # object 9998 is the first in object stream 5000
    whole = PLAIN + packed
    yield "bomb-object-stream", xref_stream(b"/Size 9999 /W [1 2 1] /Index [9998 1]", row, whole)
    yield "object-stream-count", patched(rb"/N \d+", b"/N %d" % BIG, PACKED)
    yield "object-stream-first", patched(rb"/First \d+", b"/First %d" % BIG, PACKED)
    yield "object-stream-words", patched(rb"/N \d+", b"/N (x)", PACKED)


def trees() -> Iterator[tuple[str, bytes]]:  # noqa: C901  # a row of small edits
    """Trees of pages and names that have loops, or more branches than atoms."""

    def pages(change: Callable[[Pdf, Object], None]) -> bytes:
        return edited(lambda pdf: change(pdf, pdf.Root.Pages))

    def own_child(_: Pdf, tree: Object) -> None:
        tree.Kids = Array([tree])

    def page_for_kid(_: Pdf, tree: Object) -> None:
        tree.Kids[0].Kids = Array([tree])
        tree.Kids[0].Type = Name.Pages

    def parents(_: Pdf, tree: Object) -> None:
        tree.Parent = tree
        del tree.Kids[0].MediaBox

    def counts(_: Pdf, tree: Object) -> None:
        tree.Count = BIG

    def count_negative(_: Pdf, tree: Object) -> None:
        tree.Count = -5

    def doubling(pdf: Pdf, tree: Object) -> None:
        held = tree.Kids[0]
        for _ in range(40):
            held = pdf.make_indirect(Dictionary(Type=Name.Pages, Count=BIG, Kids=Array([held] * 2)))
        tree.Kids = Array([held])

    def same_page(_: Pdf, tree: Object) -> None:
        tree.Kids = Array([tree.Kids[0]] * 100_000)

    for change in (
        own_child,
        page_for_kid,
        parents,
        counts,
        count_negative,
        doubling,
        same_page,
    ):
        yield f"pages-{change.__name__}", pages(change)
    yield "pages-deep", _deep()

    def names(change: Callable[[Pdf, Object], None]) -> bytes:
        return edited(lambda pdf: change(pdf, pdf.Root.Names))

    def names_loop(pdf: Pdf, tree: Object) -> None:
        held = pdf.make_indirect(Dictionary())
        held.Kids = Array([held])
        tree.EmbeddedFiles = held

    def names_huge(_: Pdf, tree: Object) -> None:
        tree.EmbeddedFiles.Names = Array(list(tree.EmbeddedFiles.Names) * 50_000)

    def names_of_itself(pdf: Pdf, tree: Object) -> None:
        held = pdf.make_indirect(Dictionary())
        held.Names = Array([pikepdf.String("job.toml"), held])
        tree.EmbeddedFiles = held

    def file_is_page(pdf: Pdf, tree: Object) -> None:
        tree.EmbeddedFiles.Names[1].EF.F = pdf.pages[0].obj.Contents

    def file_is_itself(_: Pdf, tree: Object) -> None:
        tree.EmbeddedFiles.Names[1].EF.F = tree.EmbeddedFiles.Names[1]

    for change in (names_loop, names_huge, names_of_itself, file_is_page, file_is_itself):
        yield change.__name__, names(change)


def _deep() -> bytes:
    """Pages under 5,000 trees of one: too deep for the library that the others are edited with."""
    found = re.search(rb"/Pages (\d+) 0 R", PLAIN)
    assert found is not None
    first, count = int(found[1]), 5000
    objects, rows = b"", b""
    for n in range(count):
        number, below = (first, 1000) if n == 0 else (999 + n, 1000 + n)
        rows += b"%d 1\n%010d 00000 n \n" % (number, len(PLAIN) + len(objects))
        objects += b"%d 0 obj\n<< /Type /Pages /Count 1 /Kids [%d 0 R] >>\nendobj\n" % (
            number,
            below,
        )
    trailer = b"xref\n%strailer\n<< /Size 9999 %s >>" % (rows, root_of(PLAIN))
    return appended(objects, trailer)


def settings() -> Iterator[tuple[str, bytes]]:
    """Settings said to be what a PDF was made with."""
    for name, text in {
        "half": '{"pdf": [1.5, 2]}',
        "true": '{"pdf": [true, true]}',
        "huge": '{"pdf": [1e400, 1e400]}',
        "nan": '{"pdf": [NaN, NaN]}',
        "words": '{"pdf": ["1", "2"]}',
        "three": '{"pdf": [1, 2, 3]}',
        "second": '{"pdf": [2, 2]}',
        "deep": "[" * 9999,
        "list": "[]",
        "null": "null",
        "digits": '{"pdf": [' + "9" * 9000 + ", 2]}",
        "accepted": '{"accepted": {"odd-count": 1}}',
        "accepted-deep": '{"accepted": [["odd-count"]]}',
        "printer": '{"printer": {"name": "\\u001b[31m", "across": "1", "down": "1"}}',
        "printer-list": '{"printer": [1]}',
        "printer-zero": '{"printer": {"name": "x", "across": "1/0", "down": "1"}}',
        "printer-large": '{"printer": {"name": "x", "across": "103/100", "down": "97/100"}}',
        "escapes": "\x1b[31m\u202e",
    }.items():

        def edit(pdf: Pdf, text: str = text) -> None:
            pdf.docinfo["/MadeWith"] = text
            pdf.docinfo["/Creator"] = "\x1b]0;x\x07\u202e\u009b31m\n\0"

        yield f"settings-{name}", edited(edit)


def jobs() -> Iterator[tuple[str, bytes]]:
    """Whole PDFs whose job file is not what anybody made."""
    for name, data in {
        "empty": b"",
        "zeros": bytes(1000),
        "escapes": b"\x1b[31m = \xc2\x9b",
        "brackets": b"a = " + b"[" * 100_000,
        "dots": b"a" + b".a" * 100_000 + b" = 1",
        "no-window": b"[job]\nname = 'x'\n",
        "odd": job_toml("width = 40\ncount = 7").encode(),
        "large": job_toml("width = 3900\ncount = 2000", tables="[paper]\nsize='a4'").encode(),
        "many": job_toml(*(f"width = {40 + n}" for n in range(999))).encode(),
        "printer": job_toml("width = 40", tables="[paper]\nprinter = '\\u001b'").encode(),
    }.items():
        yield f"job-{name}", with_job(data)


def kinds() -> Iterator[tuple[str, bytes]]:
    """Every entry of what is read of a PDF, of a kind it can't have; one kind each, in turn."""
    for turn, (place, entry) in enumerate(entries()):
        yield f"kind-{place}-{entry}", of_kind(place, entry, turn)


PLACES: dict[str, Callable[[Pdf], Object]] = {
    "trailer": lambda pdf: pdf.trailer,
    "root": lambda pdf: pdf.Root,
    "info": lambda pdf: pdf.trailer.Info,
    "views": lambda pdf: pdf.Root.ViewerPreferences,
    "pages": lambda pdf: pdf.Root.Pages,
    "page": lambda pdf: pdf.pages[2].obj,
    "content": lambda pdf: pdf.pages[2].obj.Contents,
    "resources": lambda pdf: pdf.pages[2].obj.Resources,
    "fonts": lambda pdf: pdf.pages[2].obj.Resources.Font,
    "font": lambda pdf: pdf.pages[2].obj.Resources.Font["/R0"],
    "names": lambda pdf: pdf.Root.Names,
    "files": lambda pdf: pdf.Root.Names.EmbeddedFiles,
    "spec": lambda pdf: pdf.Root.Names.EmbeddedFiles.Names[1],
    "held": lambda pdf: pdf.Root.Names.EmbeddedFiles.Names[1].EF,
    "file": lambda pdf: pdf.Root.Names.EmbeddedFiles.Names[1].EF.F,
    "params": lambda pdf: pdf.Root.Names.EmbeddedFiles.Names[1].EF.F.Params,
}
"""Where a reader of PDFs looks."""

KINDS = 9


def entries() -> list[tuple[str, str]]:
    """Every place and each of its keys; and keys that are not there, but could be."""
    missing = {
        "root": ("/AcroForm", "/OCProperties", "/Extensions"),
        "page": ("/Rotate", "/UserUnit", "/CropBox", "/Annots", "/Group"),
        "content": ("/DecodeParms", "/F", "/FFilter"),
        "trailer": ("/Encrypt", "/Prev", "/XRefStm"),
        "files": ("/Kids", "/Limits"),
        "file": ("/DecodeParms",),
    }
    with pikepdf.open(BytesIO(PDF)) as pdf:
        return [
            (place, key)
            for place, found in PLACES.items()
            for key in (*found(pdf).keys(), *missing.get(place, ()))
            # Another library keeps these three itself, and writes no file without them.
            if (place, key) not in {("trailer", "/Root"), ("trailer", "/Size"), ("root", "/Pages")}
            and key not in {"/Length", "/Filter"}
        ]


def of_kind(place: str, key: str, kind: int) -> bytes:
    """The PDF with an entry of another kind: a word, a number, a loop, nothing, and so on."""

    def edit(pdf: Pdf) -> None:
        at = PLACES[place](pdf)
        loop = pdf.make_indirect(Array([]))
        loop.append(loop)
        kinds: list[object] = [
            pikepdf.String("\x1b[31m"),
            -BIG,
            Name("/Odd"),
            Array([]),
            Dictionary(),
            loop,
            Array([loop, Name("/x"), 1, pikepdf.String("y")]),
            True,
            pdf.make_indirect(Stream(pdf, b"\x1b[31m")),
        ]
        at[key] = kinds[kind % KINDS]

    return edited(edit)


PARTS = (cuts, cross_references, packing, trees, settings, jobs, kinds)
"""What is wrong with a file, not with what its pages draw: each gives names and PDFs."""
