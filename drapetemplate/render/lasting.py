"""What makes a PDF a lasting record, as plain data that a backend writes beside its pages."""

from __future__ import annotations

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True, kw_only=True)
class Attachment:
    """A file inside, as the PDF's source: its `kind` is a media type, `checksum` MD5."""

    name: str
    data: bytes
    kind: str
    description: str
    checksum: bytes


@dataclass(frozen=True, slots=True)
class Bookmark:
    """An entry of the outline that leads to a page, numbered from 0; closed over those inside."""

    title: str
    page: int
    inside: tuple[Bookmark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Lasting:
    """All of it: `description` is in XMP, `grey` a profile with its name.

    `labels` are what a viewer shows in place of page numbers, one a page; `information` what the
    document's information says beside the usual.
    """

    description: bytes
    grey: tuple[str, bytes]
    labels: tuple[str, ...]
    bookmarks: tuple[Bookmark, ...]
    information: dict[str, str] = field(default_factory=dict)
    attachment: Attachment | None = None
