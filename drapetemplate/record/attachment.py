"""What the job file is called inside a PDF, and what is kept of it against damage."""

from __future__ import annotations

from hashlib import md5

NAME = "job.toml"
SETTINGS = "MadeWith"
"""Under which name the document's information has what the PDF was made with."""
MOST_PDF = 50_000_000
"""Bytes of a PDF that is read whole: one of 2,000 sheets has 14 million."""
PDF_TO_READ = "PDF of this tool's"


def checksum(data: bytes) -> bytes:
    """An embedded file's checksum, against damage: ISO 32000-2 Table 45 wants MD5."""
    return md5(data, usedforsecurity=False).digest()
