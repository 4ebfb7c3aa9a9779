"""A PDF made a lasting record: its job file inside it, and all a later reader needs.

The job file is the PDF's one embedded file (ISO 32000-2:2020, 7.11.4), byte for byte, associated
with the whole document as its source (14.13). What a command line added to it, a printer's factors
say, stands in the document's information. The file is PDF/A-3b (ISO 19005-3:2012): metadata in
XMP, its grey tied to a profile, nothing in it that a later reader may lack.

A PDF from elsewhere is not to be trusted: what is read of it is one attachment of one name and a
job file's size, never a path, and a few settings that are checked like any input.
"""

from __future__ import annotations

import logging
import zlib
from io import BytesIO

from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DictionaryObject,
    IndirectObject,
    StreamObject,
    TextStringObject,
)

from drapetemplate.document.model import Settings
from drapetemplate.errors import Fault, FileError
from drapetemplate.measures import printable
from drapetemplate.record.attachment import NAME, SETTINGS, checksum
from drapetemplate.record.made_with import read_settings

# What readers of PDFs have to say of a stranger's bytes repeats them, and is for no user's eyes.
for _reader in ("pypdf", "pdfminer", "pdfplumber"):
    logging.getLogger(_reader).addHandler(logging.NullHandler())

LONGEST_CREATOR = 80


def job_in(pdf: bytes, source: str, most: int) -> bytes:
    """The job file's bytes out of a PDF; `source` names it in messages, `most` is their limit.

    FileError in one line for what is no PDF, damaged or encrypted, and where there isn't just one
    attachment of the right name and size.
    """
    try:
        attached = _attached(PdfReader(BytesIO(pdf), strict=False), source)
        data = unpacked(attached, most)
    except FileError:
        raise
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise _refusal(source, UNREADABLE) from error
    if data is None:
        raise _refusal(source, "its attachment can't be unpacked, or is too large for a job file")
    entry = _get(_get(attached, "/Params"), "/CheckSum")
    stated = isinstance(entry, ByteStringObject | TextStringObject) and entry.original_bytes
    # What is packed has a checksum of its own, so that another writer may leave this one out.
    if stated != checksum(data) and not (entry is None and _get(attached, "/Filter") is not None):
        raise _refusal(source, "its attachment is damaged: it isn't the bytes that were put in")
    return data


UNREADABLE = "can't be read as a PDF: damaged, or no PDF"


def settings_text_in(pdf: bytes, source: str) -> str:
    """The text of the settings a PDF was made with, empty for none; FileError for no PDF."""
    try:
        info = PdfReader(BytesIO(pdf), strict=False).metadata
        text = None if info is None else info.get(f"/{SETTINGS}")
        return "" if text is None else str(text)
    except Exception as error:  # a stranger's bytes can break a reader in any way
        raise _refusal(source, UNREADABLE) from error


def settings_in(pdf: bytes, source: str) -> Settings:
    """The settings a PDF was made with, by its own word; FileError where they can't be read."""
    return read_settings(settings_text_in(pdf, source), source)


def made_by(pdf: bytes) -> str:
    """What made a PDF, by its own word, printable; "nothing it names" where it says none."""
    try:
        info = PdfReader(BytesIO(pdf), strict=False).metadata
        creator = None if info is None else info.creator
    except Exception:  # noqa: BLE001  # a stranger's bytes can break a reader in any way
        creator = None
    return printable(creator[:LONGEST_CREATOR]) if creator else "nothing it names"


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
    return None if _get(stream, "/DecodeParms") else inflated(stream, most)


def inflated(stream: StreamObject, most: int) -> bytes | None:
    """The same with a predictor's bytes still among them, as streams of cross references have."""
    raw: bytes = stream._data  # noqa: SLF001  # get_data would unpack it whole, however large
    packing = _get(stream, "/Filter")
    if packing is None:
        return raw if len(raw) <= most else None
    if packing not in ("/FlateDecode", ["/FlateDecode"]):
        return None
    try:
        unpacking = zlib.decompressobj()
        data = unpacking.decompress(raw, most + 1)
    except zlib.error:
        return None
    return data if len(data) <= most and unpacking.eof else None
