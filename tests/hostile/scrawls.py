"""PDFs whose pages are drawn with what no reader should have to draw; see `strangers`."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pikepdf
from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

from tests.hostile.strangers import BIG, Edit, edited


def _content(data: bytes, edit: Edit | None = None) -> bytes:
    """A PDF whose third page draws this."""

    def change(pdf: Pdf) -> None:
        pdf.pages[2].obj.Contents = Stream(pdf, data)
        if edit is not None:
            edit(pdf)

    return edited(change)


def contents() -> Iterator[tuple[str, bytes]]:
    """Pages drawn with odd tokens, with no end of them, or with forms that draw themselves."""
    for name, data in {
        "open-text": b"BT (" + b"(" * 100_000,
        "closed-text": b")" * 100_000,
        "quote-marks": b"\\" * 100_001,
        "open-hex": b"<" * 100_000,
        "open-name": b"/" * 100_000,
        "comments": b"%" * 100_000,
        "arrays": b"[" * 100_000,
        "arrays-closed": b"[" * 50_000 + b"]" * 50_000 + b" 0 d",
        "dictionaries-drawn": b"<</a " * 50_000,
        "saved": b"q " * 300_000,
        "restored": b"Q " * 300_000,
        "huge-numbers": b"1e999 -1e999 m 9" + b"9" * 5000 + b" 0 l S nan inf m S",
        "odd-numbers": b"--5 +-3 m 1.2.3 4..5 l 0x10 - l . .. l S",
        "no-operands": b"m l c h re S f B Tf Tm Tj Td TL w d J j M g G cm n " * 1000,
        "wrong-operands": b"(a) (b) m /x [1] l << >> << >> c true null l S (x) w [(a)] (b) d",
        "many-operands": b"1 " * 500_000 + b"m",
        "flat-matrix": b"0 0 0 0 0 0 cm 0 0 m 9 9 l S BT /R0 0 Tf 0 0 0 0 0 0 Tm (ee) Tj ET",
        "far-matrix": b"1e30 0 0 1e30 1e30 1e30 cm " * 20 + b"0 0 m 9 9 l S",
        "no-font": b"BT /NoFont 9 Tf (abc) Tj ET BT (abc) Tj ET",
        "image": b"BI /W 1000000000 /H 1000000000 /BPC 8 ID " + b"x" * 1000,
        "marked": b"/A BMC " * 50_000,
        "strings": b"BT /R0 9 Tf " + b"(" + b"e" * 1_000_000 + b") Tj ET",
        "strokes": b"0 0 m 9 9 l S\n" * 1_100_000,
        "one-path": b"0 0 m\n" + b"9 9 l\n" * 2_000_000 + b"S",
        "dashes": b"[" + b"1 " * 1_000_000 + b"] 0 d 0 0 m 9 9 l S",
    }.items():
        yield f"drawn-{name}", _content(data)

    def forms(pdf: Pdf) -> None:
        held = pdf.make_indirect(Stream(pdf, b"/X Do /X Do"))
        held.Type, held.Subtype, held.BBox = Name.XObject, Name.Form, Array([0, 0, 9, 9])
        held.Resources = Dictionary(XObject=Dictionary(X=held))
        pdf.pages[2].obj.Resources = Dictionary(XObject=Dictionary(X=held))

    yield "forms", _content(b"/X Do", forms)
    # An operator that no page has keeps a page from being read further; this one hides.
    yield "forms-hidden", _content(b"/X D#6f", forms)

    def appearance(pdf: Pdf) -> None:
        forms(pdf)
        form = pdf.pages[2].obj.Resources.XObject.X
        pdf.pages[2].obj.Annots = Array([Dictionary(Subtype=Name.Stamp, AP=Dictionary(N=form))])

    yield "forms-laid-over", _content(b"0 0 m 9 9 l S", appearance)


CMAP = b"/CIDInit /ProcSet findresource begin 12 dict begin begincmap /CMapName /X def\n%s\nendcmap"


def fonts() -> Iterator[tuple[str, bytes]]:  # noqa: C901, PLR0915  # a row of small edits
    """Fonts whose maps, widths and programs lie."""

    def font(change: Callable[[Pdf, Object], None]) -> bytes:
        def edit(pdf: Pdf) -> None:
            found = pdf.pages[2].obj.Resources.Font
            for key in list(found.keys()):
                change(pdf, found[key])

        return edited(edit)

    def map_of(text: bytes) -> bytes:
        def change(pdf: Pdf, one: Object) -> None:
            one.ToUnicode = pdf.make_indirect(Stream(pdf, CMAP % text))

        return font(change)

    yield "cmap-range", map_of(b"1 beginbfrange <00000000> <ffffffff> <0000> endbfrange")
    yield "cmap-range-4", map_of(b"1 beginbfrange <0000> <7fffffff> <d83d> endbfrange")
    yield "cmap-cid-range", map_of(b"1 begincidrange <00000000> <ffffffff> 0 endcidrange")
    yield "cmap-backwards", map_of(b"1 beginbfrange <ff> <00> <0041> endbfrange")
    yield "cmap-words", map_of(b"1 beginbfrange (a) /b [ << >> endbfrange 9 beginbfchar endbfchar")
    yield "cmap-uses-itself", map_of(b"/X usecmap /../../../etc/passwd usecmap /Identity-H usecmap")
    yield "cmap-escapes", map_of(b"1 beginbfrange <00> <ff> <001b> endbfrange")
    yield "cmap-brackets", map_of(b"[" * 100_000)

    def encoded(encoding: object) -> Callable[[Pdf, Object], None]:
        def change(_: Pdf, one: Object) -> None:
            below = Dictionary(
                Type=Name.Font,
                Subtype=Name.CIDFontType2,
                BaseFont=Name("/X"),
                CIDSystemInfo=Dictionary(Registry="../../etc", Ordering="passwd", Supplement=0),
            )
            one.Subtype, one.DescendantFonts = Name.Type0, Array([below])
            one.Encoding = encoding

        return change

    yield "font-path", font(encoded(Name("/../../../../etc/passwd")))
    yield "font-absolute", font(encoded(Name("//etc/passwd")))

    def ranges(pdf: Pdf, one: Object) -> None:
        encoded(Name("/Identity-H"))(pdf, one)
        one.DescendantFonts[0].W = Array([0, BIG, 500])

    def ranges_odd(pdf: Pdf, one: Object) -> None:
        encoded(Name("/Identity-H"))(pdf, one)
        one.DescendantFonts[0].W = Array([Name("/a"), Array([Array([])]), -5, pikepdf.String("x")])

    def below_itself(pdf: Pdf, one: Object) -> None:
        encoded(Name("/Identity-H"))(pdf, one)
        one.DescendantFonts = Array([one])

    def no_widths(_: Pdf, one: Object) -> None:
        one.Widths, one.FirstChar, one.LastChar = Array([]), -BIG, BIG

    def many_widths(_: Pdf, one: Object) -> None:
        one.Widths, one.FirstChar = Array([500] * 1_000_000), 0

    def odd_widths(_: Pdf, one: Object) -> None:
        one.Widths = Array([Name("/x"), pikepdf.String("y"), Array([]), None])

    def differences(_: Pdf, one: Object) -> None:
        one.Encoding = Dictionary(
            Differences=Array([-BIG, Name("/u1F600"), Name("/uni"), Name("/uniFFFFFFFF"), "x"])
        )

    def type3(pdf: Pdf, one: Object) -> None:
        one.Subtype, one.FontMatrix = Name.Type3, Array([0, 0, 0, 0, 0, 0])
        one.FontBBox, one.CharProcs = Array([0, 0, 0, 0]), Dictionary(a=Stream(pdf, b"/a Do"))

    def programs(key: str, data: bytes) -> Callable[[Pdf, Object], None]:
        def change(pdf: Pdf, one: Object) -> None:
            described = one.FontDescriptor
            for name in ("/FontFile", "/FontFile2", "/FontFile3"):
                if name in described:
                    del described[name]
            described[key] = pdf.make_indirect(Stream(pdf, data))
            if "/ToUnicode" in one:
                del one["/ToUnicode"]
            if key == "/FontFile":
                one.Subtype, one.Encoding = Name.Type1, Name.WinAnsiEncoding

        return change

    for change in (
        ranges,
        ranges_odd,
        below_itself,
        no_widths,
        many_widths,
        odd_widths,
        differences,
        type3,
    ):
        yield f"font-{change.__name__}", font(change)
    yield "font-program-1", font(programs("/FontFile", b"dup 1000000000 /a put " * 50_000))
    table = b"\x00\x01\x00\x00\xff\xff" + bytes(6) + b"cmap" + b"\xff" * 12
    yield "font-program-2", font(programs("/FontFile2", table + b"\xff" * 9999))
    yield "font-program-3", font(programs("/FontFile3", b"\x01\x00\x04\x01" + b"\xff" * 9999))


PARTS = (contents, fonts)
"""What is wrong with what pages draw: each gives names and PDFs."""
