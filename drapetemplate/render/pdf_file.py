"""The objects of a PDF, over reportlab's document, which numbers them and says where they stand.

reportlab's own streams, information and identity aren't used: a stream of it has no end of line
before `endstream`, which PDF/A asks for (ISO 19005-3, 6.1.7.1), its information has dates, and its
identity is of the drawing alone.
"""

from __future__ import annotations

import zlib
from hashlib import md5

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import (
    PDFArrayCompact,
    PDFDictionary,
    PDFDocument,
    PDFInfo,
    PDFName,
    PDFObject,
    PDFObjectReference,
    PDFString,
    PDFText,
)

VERSION = (1, 7)
PRODUCER = PDFInfo.producer
"""What wrote the file, by its own name for itself."""
PACKING = 9
"""zlib's level: the pages of a job take a millisecond more than at its usual 6."""

_UNSAID = b"[<" + b"0" * 32 + b"><" + b"0" * 32 + b">]"
"""The identity while the file is written; it is of all bytes, and as long."""

Value = PDFObject | PDFObjectReference | str | bytes | float
"""What may stand in a dictionary or an array: a str as it is, so a name or a key word."""


class _Dictionary(PDFDictionary):
    multiline = False  # else a user's own reportlab settings would change the bytes


class _Stream(PDFObject):
    """A stream's entries and its bytes as they are to stand in the file."""

    __RefOnly__ = 1

    def __init__(self, entries: dict[str, Value], data: bytes) -> None:
        self._entries = entries | {"Length": len(data)}
        self._data = data

    def format(self, document: PDFDocument) -> bytes:
        """The stream as it is written; reportlab asks for it."""
        head = _Dictionary(self._entries).format(document)
        return head + b"\nstream\n" + self._data + b"\nendstream\n"


class _Document(PDFDocument):
    def ID(self) -> bytes:  # noqa: N802  # reportlab's name
        """A place for the identity; reportlab asks for it."""
        return _UNSAID


class PdfFile:
    """A PDF to be: objects are added to it, each of which gives what others name it by."""

    def __init__(self) -> None:
        rl_config.pdfComments = 0  # a user's own setting, which would add a line to each object
        self._document = _Document(invariant=1, pdfVersion=VERSION)

    def add(self, value: PDFObject) -> PDFObjectReference:
        """Put an object into the file by itself; a reference to it."""
        held: PDFObjectReference = self._document.Reference(value)  # type: ignore[no-untyped-call]
        return held

    def stream(
        self, data: bytes, *, packed: bool = True, drawing: bool = False, **entries: Value
    ) -> PDFObjectReference:
        """Put a stream into the file, packed unless another program is to find its text there.

        A `drawing` is numbers that seldom repeat: packed as such it is a hundredth smaller.
        """
        if packed:
            entries["Filter"] = name("FlateDecode")
            packing = zlib.compressobj(
                PACKING, strategy=zlib.Z_FILTERED if drawing else zlib.Z_DEFAULT_STRATEGY
            )
            data = packing.compress(data) + packing.flush()
        return self.add(_Stream(entries, data))

    def finish(self, catalogue: PDFDictionary, information: PDFDictionary) -> bytes:
        """The whole file. Other bytes have another identity (ISO 32000-1, 14.4), never a clock's.

        The identity is told before any encryption or date, of which there are none.
        """
        self._document.Catalog = catalogue  # type: ignore[attr-defined]  # the stubs forgot it
        self._document.info = information  # type: ignore[assignment]  # reportlab's has dates
        before, _, after = self._document.format().rpartition(_UNSAID)
        identity = md5(before + after, usedforsecurity=False).hexdigest().encode()
        return before + b"[<" + identity + b"><" + identity + b">]" + after


def dictionary(**entries: Value) -> PDFDictionary:
    """A dictionary of these keys, written in their order of the alphabet."""
    return _Dictionary(entries)


def array(*values: Value) -> PDFObject:
    """An array."""
    return PDFArrayCompact(values)


def name(text: str) -> str:
    """A name (ISO 32000-1, 7.3.5); a media type's stroke, which would begin another, as a number.

    >>> name("application/toml")
    '/application#2Ftoml'
    """
    return "/" + PDFName(text)[1:].replace("/", "#2F")


def byte_string(data: bytes) -> PDFObject:
    """A string that is no text."""
    return PDFText(data)


def text_string(text: str) -> PDFObject:
    r"""A text that every reader takes for the same: ASCII as it is, all else in UTF-16.

    So nothing begins like another encoding's mark by chance (ISO 32000-2:2020, 7.9.2.2).

    >>> text_string("linen (2)").format(PDFDocument()), text_string("þÿ").format(PDFDocument())
    (b'(linen \\(2\\))', b'<feff00fe00ff>')
    """
    # ASCII's control signs are accents in the one-byte encoding.
    if text.isascii() and text.isprintable():
        return PDFString(text)
    return PDFText(b"\xfe\xff" + text.encode("utf-16-be"))
