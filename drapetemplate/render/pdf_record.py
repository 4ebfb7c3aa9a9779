"""What a lasting PDF holds beside its pages, as entries of its catalogue.

The file is PDF/A-3b (ISO 19005-3:2012): described in XMP, its grey tied to a profile; an attachment
is the source of all of it (ISO 32000-2:2020, 14.13).
"""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFObjectReference

from drapetemplate.render.lasting import Attachment, Bookmark, Lasting
from drapetemplate.render.pdf_file import (
    PdfFile,
    Value,
    array,
    byte_string,
    dictionary,
    name,
    text_string,
)


def record_entries(
    file: PdfFile, lasting: Lasting, pages: Sequence[PDFObjectReference]
) -> dict[str, Value]:
    """Put all of a record into a file of these pages; the catalogue's entries that lead to it."""
    grey, profile = lasting.grey
    intent = dictionary(
        Type=name("OutputIntent"),
        S=name("GTS_PDFA1"),
        OutputConditionIdentifier=text_string("Custom"),
        Info=text_string(grey),
        DestOutputProfile=file.stream(profile, N=1),
    )
    # Programs look for a description by its first and last line, so it isn't packed.
    description = file.stream(
        lasting.description, packed=False, Type=name("Metadata"), Subtype=name("XML")
    )
    entries: dict[str, Value] = {
        "Metadata": description,
        "OutputIntents": array(intent),
        "PageLabels": _labels(lasting.labels),
    }
    if lasting.attachment is not None:
        entries |= _attached(file, lasting.attachment)
    if lasting.bookmarks:
        outline = dictionary(Type=name("Outlines"))
        entries["Outlines"] = file.add(outline)
        _outline(file, outline, entries["Outlines"], lasting.bookmarks, pages)
        outline["Count"] = len(lasting.bookmarks)
    return entries


def _labels(labels: Sequence[str]) -> PDFDictionary:
    """What each page is called: a label is a page's own, so each begins a range (12.4.2)."""
    numbers: list[Value] = []
    for number, label in enumerate(labels):
        numbers += [number, dictionary(P=text_string(label))]
    return dictionary(Nums=array(*numbers))


def _attached(file: PdfFile, attachment: Attachment) -> dict[str, Value]:
    """The one embedded file (ISO 32000-2, 7.11.4)."""
    held = file.stream(
        attachment.data,
        Type=name("EmbeddedFile"),
        Subtype=name(attachment.kind),
        Params=dictionary(Size=len(attachment.data), CheckSum=byte_string(attachment.checksum)),
    )
    own_name = text_string(attachment.name)
    place = file.add(
        dictionary(
            Type=name("Filespec"),
            F=own_name,
            UF=own_name,
            Desc=text_string(attachment.description),
            AFRelationship=name("Source"),
            EF=dictionary(F=held, UF=held),
        )
    )
    files = dictionary(Names=array(own_name, place))
    return {"Names": dictionary(EmbeddedFiles=files), "AF": array(place)}


def _outline(
    file: PdfFile,
    above: PDFDictionary,
    place: Value,
    bookmarks: Sequence[Bookmark],
    pages: Sequence[PDFObjectReference],
) -> None:
    """Put bookmarks into a file, in their order under `above`, which stands at `place` (12.3.3)."""
    items = [
        dictionary(
            Title=text_string(bookmark.title),
            Parent=place,
            A=dictionary(S=name("GoTo"), D=array(pages[bookmark.page], name("Fit"))),
        )
        for bookmark in bookmarks
    ]
    places = [file.add(item) for item in items]
    above["First"], above["Last"] = places[0], places[-1]
    for number, (item, bookmark) in enumerate(zip(items, bookmarks, strict=True)):
        if number > 0:
            item["Prev"] = places[number - 1]
        if number + 1 < len(items):
            item["Next"] = places[number + 1]
        if bookmark.inside:
            # Negative for one that is closed, so that the outline's own count has none of these.
            item["Count"] = -len(bookmark.inside)
            _outline(file, item, places[number], bookmark.inside, pages)
