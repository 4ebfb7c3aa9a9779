"""A PDF made a lasting record: its job file inside it, and all a later reader needs.

The job file is the PDF's one embedded file (ISO 32000-2:2020, 7.11.4), byte for byte, associated
with the whole document as its source (14.13). What a command line added to it, a printer's factors
say, stands in the document's information. The file is PDF/A-3b (ISO 19005-3:2012): metadata in
XMP, its grey tied to a profile, nothing in it that a later reader may lack.

A PDF from elsewhere is not to be trusted: what is read of it is one attachment of one name and a
job file's size, never a path, and a few settings that are checked like any input.
"""

from __future__ import annotations

from pypdf import PdfReader
from pypdf.generic import ArrayObject, ByteStringObject, StreamObject, TextStringObject

from drapetemplate.document.model import Settings
from drapetemplate.errors import Fault, FileError
from drapetemplate.measures import printable
from drapetemplate.record.attachment import NAME, SETTINGS, checksum
from drapetemplate.record.budget import Budget, bounded
from drapetemplate.record.counted_reader import CountedReader
from drapetemplate.record.made_with import read_settings
from drapetemplate.record.unpacking import entry_of, resolved, unpacked

LONGEST_CREATOR = 80
UNREADABLE = "can't be read as a PDF: damaged, or no PDF"


class StrangePdf:
    """A PDF from elsewhere, as far as it is read; `source` names it in messages.

    FileError in one line for what is no PDF, or is damaged. All that is read of it is counted on
    one `budget`, within a block that is `bounded`.
    """

    def __init__(self, pdf: bytes, source: str, budget: Budget) -> None:
        self._source = source
        self._budget = budget
        try:
            self.reader = CountedReader(pdf, budget)
        except Exception as error:  # a stranger's bytes can break a reader in any way
            raise _refusal(source, UNREADABLE) from error

    def job(self, most: int) -> bytes:
        """The job file's bytes, at most so many.

        FileError in one line for what is encrypted, and where there isn't just one attachment of
        the right name and size.
        """
        source = self._source
        try:
            attached = _attached(self.reader, source)
            data = unpacked(attached, most, self._budget)
        except FileError:
            raise
        except Exception as error:
            raise _refusal(source, UNREADABLE) from error
        if data is None:
            text = "its attachment can't be unpacked, or is too large for a job file"
            raise _refusal(source, text)
        entry = entry_of(entry_of(attached, "/Params"), "/CheckSum")
        stated = isinstance(entry, ByteStringObject | TextStringObject) and entry.original_bytes
        # What is packed has a checksum of its own, so that another writer may leave this one out.
        left_out = entry is None and entry_of(attached, "/Filter") is not None
        if stated != checksum(data) and not left_out:
            text = "its attachment is damaged: it isn't the bytes that were put in"
            raise _refusal(source, text)
        return data

    def settings_text(self) -> str:
        """The text of the settings it was made with, empty for none."""
        try:
            info = self.reader.metadata
            text = None if info is None else info.get(f"/{SETTINGS}")
            return "" if text is None else str(text)
        except Exception as error:
            raise _refusal(self._source, UNREADABLE) from error

    def settings(self) -> Settings:
        """The settings it was made with, by its own word; FileError where they can't be read."""
        return read_settings(self.settings_text(), self._source)

    def made_by(self) -> str:
        """What made it, by its own word, printable; "nothing it names" where it says none."""
        try:
            info = self.reader.metadata
            creator = None if info is None else info.creator
        except Exception:  # noqa: BLE001
            creator = None
        return printable(creator[:LONGEST_CREATOR]) if creator else "nothing it names"


def job_in(pdf: bytes, source: str, most: int) -> bytes:
    """The job file's bytes out of a PDF; `source` names it in messages, `most` is their limit.

    FileError in one line for what is no PDF, damaged or encrypted, where there isn't just one
    attachment of the right name and size, and for what asks for too much work.
    """
    with bounded(source):
        return StrangePdf(pdf, source, Budget(len(pdf))).job(most)


def job_and_settings_text(pdf: bytes, source: str, most: int) -> tuple[bytes, str]:
    """The same, and the text of the settings the PDF was made with, empty for none."""
    with bounded(source):
        strange = StrangePdf(pdf, source, Budget(len(pdf)))
        return strange.job(most), strange.settings_text()


def _refusal(source: str, text: str) -> FileError:
    return FileError([Fault(source, text)])


def _attached(reader: PdfReader, source: str) -> StreamObject:
    """The one embedded file's stream."""
    if reader.is_encrypted:
        raise _refusal(source, "is encrypted: give a copy without a password")
    names = entry_of(entry_of(reader.root_object, "/Names"), "/EmbeddedFiles")
    listed = entry_of(names, "/Names")
    if not isinstance(listed, ArrayObject) or len(listed) != 2:
        raise _refusal(source, f"has no job file in it, or more than {NAME}: not made by this tool")
    name, spec = listed[0], resolved(listed[1])
    stream = entry_of(entry_of(spec, "/EF"), "/F")
    if str(name) != NAME or not isinstance(stream, StreamObject):
        raise _refusal(source, f"has no {NAME} in it: not made by this tool")
    return stream
