"""A PDF made a lasting record: its job file inside it, and all a later reader needs.

The job file is the PDF's one embedded file (ISO 32000-2:2020, 7.11.4), byte for byte, associated
with the whole document as its source (14.13). What a command line added to it, a printer's factors
say, stands in the document's information. The file is PDF/A-3b (ISO 19005-3:2012): metadata in
XMP, its grey tied to a profile, nothing in it that a later reader may lack.

A PDF from elsewhere is not to be trusted: what is read of it is one attachment of one name and a
job file's size, never a path, and a few settings that are checked like any input.
"""

from __future__ import annotations

import json
import logging
import zlib
from collections.abc import Sequence
from hashlib import md5
from io import BytesIO
from itertools import groupby
from xml.sax.saxutils import escape

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    StreamObject,
    TextStringObject,
)

from drapetemplate.document import Document, Page, Settings, titled
from drapetemplate.errors import Fault, FileError
from drapetemplate.greyprofile import NAME as GREY
from drapetemplate.greyprofile import grey_profile
from drapetemplate.planning.findings import STOP_CODES
from drapetemplate.printers import factors_of

# What readers of PDFs have to say of a stranger's bytes repeats them, and is for no user's eyes.
for _reader in ("pypdf", "pdfminer", "pdfplumber"):
    logging.getLogger(_reader).addHandler(logging.NullHandler())

NAME = "job.toml"
MOST_SETTINGS = 2_000_000
SETTINGS = "/MadeWith"


def as_record(pdf: bytes, document: Document, job: bytes) -> bytes:
    """The PDF with the job file and the rest in it. The same bytes in, the same bytes out.

    `document` is what it was drawn from: its pages' parts become bookmarks, their short labels
    what a viewer shows in place of page numbers; `job` is the job file's bytes.
    """
    writer = PdfWriter(clone_from=BytesIO(pdf))
    writer.pdf_header = "%PDF-1.7"
    root = writer.root_object
    for page in writer.pages:
        page.pop("/Trans", None)  # how a page comes onto a screen, left there empty by the renderer
    _describe(writer, root, document.settings)
    _intend(writer, root)
    _attach(writer, root, job)
    _bookmark(writer, root, document.pages)
    # Another job's bytes, another identity (ISO 32000-1, 14.4); never the clock's.
    identity = ByteStringObject(_sum(pdf + job))
    writer._ID = ArrayObject([identity, identity])  # noqa: SLF001  # no public way to set it
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _describe(writer: PdfWriter, root: DictionaryObject, settings: Settings) -> None:
    """The document's information, the same again in XMP, and the settings."""
    info = dict(writer.metadata or {})
    kept = {key: str(info[key]) for key in ("/Title", "/Subject", "/Creator", "/Producer")}
    settings_text = _settings_text(settings)
    # All else goes: empty entries, and the dates, since the day a job is due is the job's own.
    writer.metadata = kept | ({SETTINGS: settings_text} if settings_text else {})
    packet = PACKET.format(
        title=escape(kept["/Title"]),
        subject=escape(kept["/Subject"]),
        creator=escape(kept["/Creator"]),
        producer=escape(kept["/Producer"]),
        language=escape(str(root["/Lang"])),
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
        Size=NumberObject(len(job)), CheckSum=ByteStringObject(_sum(job))
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
    numbered = enumerate(pages)
    for part, group in groupby(numbered, key=lambda one: one[1].part):
        inside = list(group)
        above = writer.add_outline_item(title=titled(part), page_number=inside[0][0], is_open=False)
        for number, page in inside if len(inside) > 1 else ():
            name = titled(page.label.removeprefix(f"{part}, "))
            writer.add_outline_item(title=name, page_number=number, parent=above)
    labels = ArrayObject()
    for number, page in enumerate(pages):
        labels.append(NumberObject(number))
        labels.append(_dictionary(P=TextStringObject(page.short)))
    root[NameObject("/PageLabels")] = _dictionary(Nums=labels)


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
    found: dict[str, object] = {}
    if (fix := settings.correction) is not None:
        found["printer"] = {"name": fix.name, "across": str(fix.across), "down": str(fix.down)}
    if settings.accepted:
        found["accepted"] = sorted(settings.accepted)
    if settings.only:
        found["windows"] = list(settings.only)
    if settings.of > 1:
        found["pdf"] = [settings.number, settings.of]
    return json.dumps(found, ensure_ascii=True) if found else ""


def job_in(pdf: bytes, source: str, most: int) -> bytes:
    """The job file's bytes out of a PDF; `source` names it in messages, `most` is their limit.

    FileError in one line for what is no PDF, damaged or encrypted, and where there isn't just one
    attachment of the right name and size.
    """
    try:
        found = _attached(PdfReader(BytesIO(pdf), strict=False), source)
        data = unpacked(found, most)
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise _refusal(source, UNREADABLE) from error
    if data is None:
        raise _refusal(source, "its attachment can't be unpacked, or is too large for a job file")
    kept = _get(_get(found, "/Params"), "/CheckSum")
    held = isinstance(kept, ByteStringObject | TextStringObject) and kept.original_bytes
    # What is packed has a checksum of its own, so that another writer may leave this one out.
    if held != _sum(data) and not (kept is None and _get(found, "/Filter") is not None):
        raise _refusal(source, "its attachment is damaged: it isn't the bytes that were put in")
    return data


UNREADABLE = "can't be read as a PDF: damaged, or no PDF"


def settings_in(pdf: bytes, source: str) -> Settings:
    """The settings a PDF was made with, by its own word; FileError where they can't be read."""
    try:
        info = PdfReader(BytesIO(pdf), strict=False).metadata
        held = None if info is None else info.get(SETTINGS)
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise _refusal(source, UNREADABLE) from error
    if held is None:
        return Settings()
    try:
        return _settings(str(held))
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        text = "the settings it was made with can't be read: damaged, or not made by this tool"
        raise _refusal(source, text) from error


def _settings(text: str) -> Settings:
    """Settings out of their JSON; ValueError, TypeError or KeyError for anything else."""
    found = json.loads(text[:MOST_SETTINGS])
    correction = None
    if (fix := found.get("printer")) is not None:
        correction = factors_of(str(fix["name"]), fix)
    accepted = frozenset(found.get("accepted", ()))
    number, of = found.get("pdf", (1, 1))
    if not (isinstance(number, int) and isinstance(of, int)):
        raise TypeError("no such numbers")
    if not accepted <= set(STOP_CODES) or not 1 <= number <= of <= 2:
        raise ValueError("no such settings")
    only = tuple(map(str, found.get("windows", ())))
    return Settings(correction, accepted, number, of, only)


def _sum(data: bytes) -> bytes:
    """An embedded file's checksum, against damage: ISO 32000-2 Table 45 wants MD5."""
    return md5(data, usedforsecurity=False).digest()


def _refusal(source: str, text: str) -> FileError:
    return FileError([Fault(source, text)])


def _attached(reader: PdfReader, source: str) -> StreamObject:
    """The one embedded file's stream."""
    if reader.is_encrypted:
        raise _refusal(source, "is encrypted: give a copy without a password")
    names = _get(_get(reader.root_object, "/Names"), "/EmbeddedFiles")
    listed = _get(names, "/Names")
    if not isinstance(listed, ArrayObject) or len(listed) != 2:
        raise _refusal(source, f"has no job file in it, or more than {NAME}: not made by this tool")
    name, spec = listed[0], _resolved(listed[1])
    stream = _get(_get(spec, "/EF"), "/F")
    if str(name) != NAME or not isinstance(stream, StreamObject):
        raise _refusal(source, f"has no {NAME} in it: not made by this tool")
    return stream


def _resolved(value: object) -> object:
    return value.get_object() if isinstance(value, IndirectObject) else value


def _get(value: object, key: str) -> object:
    """A dictionary's entry, resolved; None where there is neither."""
    held = _resolved(value)
    return _resolved(held.get(key)) if isinstance(held, DictionaryObject) else None


def unpacked(stream: StreamObject, most: int) -> bytes | None:
    """The stream's bytes, no more than `most`; None where there are more, or they can't be had."""
    raw = stream._data  # noqa: SLF001  # get_data would unpack it whole, however large
    packing = _get(stream, "/Filter")
    if packing is None:
        return raw if len(raw) <= most else None
    if packing not in ("/FlateDecode", ["/FlateDecode"]) or _get(stream, "/DecodeParms"):
        return None
    try:
        unpacking = zlib.decompressobj()
        data = unpacking.decompress(raw, most + 1)
    except zlib.error:
        return None
    return data if len(data) <= most and unpacking.eof else None
