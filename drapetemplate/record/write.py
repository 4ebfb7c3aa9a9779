"""A PDF in, a lasting one out: PDF/A-3b, described, with its job file inside."""

from __future__ import annotations

import json
from codecs import BOM_UTF8, BOM_UTF16_BE, BOM_UTF16_LE
from collections.abc import Sequence
from html import escape
from io import BytesIO
from itertools import groupby

from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    TextStringObject,
)

from drapetemplate.document.model import Document, Page, Settings, titled
from drapetemplate.record.attachment import NAME, SETTINGS, checksum
from drapetemplate.record.grey_profile import NAME as GREY
from drapetemplate.record.grey_profile import grey_profile

_MARKS = (BOM_UTF16_BE, BOM_UTF16_LE, BOM_UTF8)
"""What strings begin with that aren't one byte a letter, the second by habit of some readers."""


def as_record(pdf: bytes, document: Document, job: bytes) -> bytes:
    """The PDF with the job file and the rest in it. The same bytes in, the same bytes out.

    `document` is what it was drawn from: its pages' parts become bookmarks, their short labels
    what a viewer shows in place of page numbers; `job` is the job file's bytes.
    """
    return _lasting(pdf, document, job)


def as_lasting(pdf: bytes, document: Document) -> bytes:
    """The same without a job file, for pages that are no one job's."""
    return _lasting(pdf, document, None)


def _lasting(pdf: bytes, document: Document, job: bytes | None) -> bytes:
    writer = PdfWriter(clone_from=BytesIO(pdf))
    writer.pdf_header = "%PDF-1.7"
    root = writer.root_object
    for page in writer.pages:
        page.pop("/Trans", None)  # how a page comes onto a screen, left there empty by the renderer
    _describe(writer, root, document)
    _intend(writer, root)
    if job is not None:
        _attach(writer, root, job)
    _bookmark(writer, root, document.pages)
    # Another job's bytes, another identity (ISO 32000-1, 14.4); never the clock's.
    identity = ByteStringObject(checksum(pdf + (job or b"")))
    writer._ID = ArrayObject([identity, identity])  # noqa: SLF001  # no public way to set it
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _describe(writer: PdfWriter, root: DictionaryObject, document: Document) -> None:
    """The document's information, the same again in XMP, and the settings."""
    info = dict(writer.metadata or {})
    kept = {key: str(info[key]) for key in ("/Title", "/Subject", "/Creator", "/Producer")}
    # The document's own: one that begins like another encoding isn't read out of the drawn PDF.
    kept["/Title"] = document.title
    settings_text = _settings_text(document.settings)
    # All else goes: empty entries, and the dates, since the day a job is due is the job's own.
    entries = kept | ({f"/{SETTINGS}": settings_text} if settings_text else {})
    writer.metadata = dict.fromkeys(entries, "")
    held = writer._info  # noqa: SLF001  # no public way to say how a text is written
    if held is not None:
        held.update({NameObject(key): as_text_string(text) for key, text in entries.items()})
    packet = PACKET.format(
        title=escape(kept["/Title"], quote=False),
        subject=escape(kept["/Subject"], quote=False),
        creator=escape(kept["/Creator"], quote=False),
        producer=escape(kept["/Producer"], quote=False),
        language=escape(str(root["/Lang"]), quote=False),
    )
    held = _stream(packet.encode(), Type="/Metadata", Subtype="/XML")
    root[NameObject("/Metadata")] = writer._add_object(held)  # noqa: SLF001  # no public way


# XMP (ISO 16684-1) with the parts that PDF/A-3 asks for (ISO 19005-3, 6.6). Readers look for the
# packet by these very first and last lines, so it isn't compressed.
PACKET = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{subject}</rdf:li></rdf:Alt></dc:description>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<xmp:CreatorTool>{creator}</xmp:CreatorTool>
<pdf:Producer>{producer}</pdf:Producer>
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>
"""


def _intend(writer: PdfWriter, root: DictionaryObject) -> None:
    """Which grey the ink is meant in."""
    profile = _stream(grey_profile(), N=1).flate_encode()
    intent = _dictionary(
        Type=NameObject("/OutputIntent"),
        S=NameObject("/GTS_PDFA1"),
        OutputConditionIdentifier=TextStringObject("Custom"),
        Info=TextStringObject(GREY),
        DestOutputProfile=writer._add_object(profile),  # noqa: SLF001  # no public way
    )
    root[NameObject("/OutputIntents")] = ArrayObject([intent])


def _attach(writer: PdfWriter, root: DictionaryObject, job: bytes) -> None:
    """The job file's bytes, as the one embedded file."""
    packed = _stream(job, Type="/EmbeddedFile", Subtype="/application/toml").flate_encode()
    packed[NameObject("/Params")] = _dictionary(
        Size=NumberObject(len(job)), CheckSum=ByteStringObject(checksum(job))
    )
    held = writer._add_object(packed)  # noqa: SLF001  # no public way to add an object
    spec = _dictionary(
        Type=NameObject("/Filespec"),
        F=TextStringObject(NAME),
        UF=TextStringObject(NAME),
        Desc=TextStringObject("The job file this PDF was made from"),
        AFRelationship=NameObject("/Source"),
        EF=_dictionary(F=held, UF=held),
    )
    place = writer._add_object(spec)  # noqa: SLF001  # likewise
    names = _dictionary(Names=ArrayObject([TextStringObject(NAME), place]))
    root[NameObject("/Names")] = _dictionary(EmbeddedFiles=names)
    root[NameObject("/AF")] = ArrayObject([place])


def _bookmark(writer: PdfWriter, root: DictionaryObject, pages: Sequence[Page]) -> None:
    """A bookmark for each part, closed over one for each of its pages; and the pages' labels."""
    for part, group in groupby(enumerate(pages), key=lambda numbered: numbered[1].part):
        inside = list(group)
        above = writer.add_outline_item(title="", page_number=inside[0][0], is_open=False)
        _entitle(above, part)
        for number, page in inside if len(inside) > 1 else ():
            inner = writer.add_outline_item(title="", page_number=number, parent=above)
            _entitle(inner, page.bookmark)
    labels = ArrayObject()
    for number, page in enumerate(pages):
        labels.append(NumberObject(number))
        labels.append(_dictionary(P=as_text_string(page.short)))
    root[NameObject("/PageLabels")] = _dictionary(Nums=labels)


def _entitle(item: IndirectObject, text: str) -> None:
    held = item.get_object()
    if isinstance(held, DictionaryObject):
        held[NameObject("/Title")] = as_text_string(titled(text))


def as_text_string(text: str) -> TextStringObject:
    r"""Return a text as a PDF's string that every reader takes for the same text.

    One byte a letter where that can be; in UTF-16 where it can't, and where the letters' bytes
    would begin like another encoding's mark (ISO 32000-2:2020, 7.9.2.2).

    >>> as_text_string("þÿlinen").get_encoded_bytes()[:4], as_text_string("linen").original_bytes
    (b'\xfe\xff\x00\xfe', b'linen')
    """
    held = TextStringObject(text)
    if held.get_encoded_bytes().startswith(_MARKS):
        held.autodetect_utf16, held.utf16_bom = True, BOM_UTF16_BE
    return held


def _dictionary(**entries: PdfObject) -> DictionaryObject:
    return DictionaryObject({NameObject(f"/{key}"): value for key, value in entries.items()})


def _stream(data: bytes, **entries: str | int) -> DecodedStreamObject:
    stream = DecodedStreamObject()
    stream.set_data(data)
    for key, value in entries.items():
        held = NumberObject(value) if isinstance(value, int) else NameObject(value)
        stream[NameObject(f"/{key}")] = held
    return stream


def _settings_text(settings: Settings) -> str:
    """Settings as JSON, only what isn't the usual; "" where all is."""
    entries: dict[str, object] = {}
    if (factors := settings.factors) is not None:
        entries["printer"] = {
            "name": factors.name,
            "across": str(factors.across),
            "down": str(factors.down),
        }
    if settings.accepted:
        entries["accepted"] = sorted(settings.accepted)
    if settings.only:
        entries["windows"] = list(settings.only)
    if settings.of > 1:
        entries["pdf"] = [settings.number, settings.of]
    return json.dumps(entries, ensure_ascii=True) if entries else ""
