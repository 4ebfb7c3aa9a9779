"""A job file into its PDF and out again, byte for byte, so that the PDF is the record.

It is the PDF's one embedded file (ISO 32000-2:2020, 7.11.4), associated with the whole document as
its source (14.13). A PDF from elsewhere is not to be trusted: what is read of it is one attachment
of one name and a job file's size, and never a path.
"""

from __future__ import annotations

import zlib
from hashlib import md5
from io import BytesIO

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

from drapetemplate.errors import Fault, FileError

NAME = "job.toml"
MOST_PDF = 500_000_000


def with_job(pdf: bytes, job: bytes) -> bytes:
    """The PDF with the job file's bytes in it. The same bytes in, the same bytes out."""
    writer = PdfWriter(clone_from=BytesIO(pdf))
    stream = DecodedStreamObject()
    stream.set_data(job)
    packed = stream.flate_encode()
    packed[NameObject("/Type")] = NameObject("/EmbeddedFile")
    packed[NameObject("/Subtype")] = NameObject("/application/toml")
    packed[NameObject("/Params")] = DictionaryObject(
        {
            NameObject("/Size"): NumberObject(len(job)),
            NameObject("/CheckSum"): ByteStringObject(_sum(job)),
        }
    )
    held = writer._add_object(packed)  # noqa: SLF001  # no public way to add an object
    files = DictionaryObject({NameObject("/F"): held, NameObject("/UF"): held})
    spec = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Filespec"),
            NameObject("/F"): TextStringObject(NAME),
            NameObject("/UF"): TextStringObject(NAME),
            NameObject("/Desc"): TextStringObject("The job file this PDF was made from"),
            NameObject("/AFRelationship"): NameObject("/Source"),
            NameObject("/EF"): files,
        }
    )
    place = writer._add_object(spec)  # noqa: SLF001  # likewise
    names = DictionaryObject({NameObject("/Names"): ArrayObject([TextStringObject(NAME), place])})
    root = writer.root_object
    root[NameObject("/Names")] = DictionaryObject({NameObject("/EmbeddedFiles"): names})
    root[NameObject("/AF")] = ArrayObject([place])
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def job_in(pdf: bytes, source: str, most: int) -> bytes:
    """The job file's bytes out of a PDF; `source` names it in messages, `most` is their limit.

    FileError in one line for what is no PDF, damaged or encrypted, and where there isn't just one
    attachment of the right name and size.
    """
    try:
        found = _attached(PdfReader(BytesIO(pdf), strict=False), source)
        data = _unpacked(found, most)
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise _refusal(source, "can't be read as a PDF: damaged, or no PDF") from error
    if data is None:
        raise _refusal(source, "its attachment can't be unpacked, or is too large for a job file")
    kept = _get(_get(found, "/Params"), "/CheckSum")
    if isinstance(kept, ByteStringObject | TextStringObject) and kept.original_bytes != _sum(data):
        raise _refusal(source, "its attachment is damaged: it isn't the bytes that were put in")
    return data


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


def _unpacked(stream: StreamObject, most: int) -> bytes | None:
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
