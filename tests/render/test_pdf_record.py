"""What a lasting PDF holds beside its pages, object by object, as another library has it."""

from __future__ import annotations

from io import BytesIO

import pikepdf

from drapetemplate.render.lasting import Attachment, Bookmark, Lasting
from drapetemplate.render.pdf import PdfBackend

LASTING = Lasting(
    description=b"<described/>",
    grey=("Grey of a kind", b"a profile"),
    labels=("i", "ii", "Ж 3"),
    bookmarks=(
        Bookmark("First", 0),
        Bookmark("Two (of them)", 1, (Bookmark("one", 1), Bookmark("other", 2))),
        Bookmark("Last Ж", 2),
    ),
    information={"Kept": "so"},
    attachment=Attachment(
        name="a.txt", data=b"held", kind="text/plain", description="A file", checksum=b"0123"
    ),
)


def opened(lasting: Lasting | None) -> pikepdf.Pdf:
    """A file of three empty pages with it."""
    backend = PdfBackend("A title", "A subject", lasting)
    for _ in range(3):
        backend.start_page(100.0, 200.0)
    data = backend.finish()
    assert data.startswith(b"%PDF-1.7\n")
    assert data.rstrip().endswith(b"%%EOF")
    return pikepdf.open(BytesIO(data))


def chain(above: pikepdf.Object) -> list[pikepdf.Object]:
    """What stands under an entry of the outline, by its own way from first to last and back."""
    items = [above.First]
    while "/Next" in items[-1]:
        items.append(items[-1].Next)
    back = [above.Last]
    while "/Prev" in back[-1]:
        back.append(back[-1].Prev)
    assert [item.objgen for item in back[::-1]] == [item.objgen for item in items]
    assert all(item.Parent.objgen == above.objgen for item in items)
    return items


def named(*names: pikepdf.Object) -> list[str]:
    """Names as texts."""
    return [str(name) for name in names]


def test_outline() -> None:
    """Entries in their order, each to the whole of its page; those with others in them closed."""
    with opened(LASTING) as pdf:
        root = pdf.Root.Outlines
        assert root.Type == "/Outlines"
        assert root.Count == 3
        items = chain(root)
        assert [str(item.Title) for item in items] == ["First", "Two (of them)", "Last Ж"]
        inside = chain(items[1])
        assert [str(item.Title) for item in inside] == ["one", "other"]
        assert items[1].Count == -2
        for item, page in zip((*items, *inside), (0, 1, 2, 1, 2), strict=True):
            assert item.A.S == "/GoTo"
            assert item.A.D[0].objgen == pdf.pages[page].obj.objgen
            assert item.A.D[1] == "/Fit"
            assert ("/Count" in item) == ("/First" in item) == (item.Title == "Two (of them)")


def test_all_else() -> None:
    """Labels, grey, description, the file inside and what the information says besides."""
    with opened(LASTING) as pdf:
        root = pdf.Root
        assert [page.label for page in pdf.pages] == ["i", "ii", "Ж 3"]
        assert list(root.PageLabels.Nums[::2]) == [0, 1, 2]
        [intent] = root.OutputIntents
        assert named(intent.Type, intent.S) == ["/OutputIntent", "/GTS_PDFA1"]
        assert (str(intent.Info), str(intent.OutputConditionIdentifier)) == (
            "Grey of a kind",
            "Custom",
        )
        assert intent.DestOutputProfile.read_bytes() == b"a profile"
        assert intent.DestOutputProfile.N == 1
        # Not packed, so that other programs find it.
        assert root.Metadata.read_raw_bytes() == b"<described/>"
        assert named(root.Metadata.Type, root.Metadata.Subtype) == ["/Metadata", "/XML"]
        assert str(pdf.docinfo.Kept) == "so"
        name, spec = root.Names.EmbeddedFiles.Names
        assert str(name) == str(spec.F) == str(spec.UF) == "a.txt"
        assert named(spec.Type, spec.AFRelationship) == ["/Filespec", "/Source"]
        assert str(spec.Desc) == "A file"
        assert [one.objgen for one in root.AF] == [spec.objgen]
        assert spec.EF.F.objgen == spec.EF.UF.objgen
        held = spec.EF.F
        assert held.read_bytes() == b"held"
        assert named(held.Type, held.Subtype) == ["/EmbeddedFile", "/text/plain"]
        assert held.Params.Size == 4
        assert bytes(held.Params.CheckSum) == b"0123"


def test_no_record() -> None:
    """Without one a file has its pages alone."""
    with opened(None) as pdf:
        assert [list(map(float, page.mediabox)) for page in pdf.pages] == [
            [0, 0, 283.4646, 566.9291]
        ] * 3
        for key in ("/Names", "/AF", "/Outlines", "/Metadata", "/OutputIntents", "/PageLabels"):
            assert key not in pdf.Root
