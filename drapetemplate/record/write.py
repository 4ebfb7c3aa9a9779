"""A document in, a PDF that lasts out: PDF/A-3b, described, with its job file inside."""

from __future__ import annotations

import json
from collections.abc import Sequence
from html import escape
from itertools import groupby

from drapetemplate.document.model import Document, Page, Settings, titled
from drapetemplate.record.attachment import NAME, SETTINGS, checksum
from drapetemplate.record.grey_profile import NAME as GREY
from drapetemplate.record.grey_profile import grey_profile
from drapetemplate.render.backend import render
from drapetemplate.render.lasting import Attachment, Bookmark, Lasting
from drapetemplate.render.pdf import CREATOR, LANGUAGE, PdfBackend
from drapetemplate.render.pdf_file import PRODUCER


def as_record(document: Document, job: bytes) -> bytes:
    """The document's PDF with the job file and the rest in it: the same in, the same bytes out.

    Its pages' parts become bookmarks, their short labels what a viewer shows in place of page
    numbers; `job` is the job file's bytes.
    """
    attachment = Attachment(
        name=NAME,
        data=job,
        kind="application/toml",
        description="The job file this PDF was made from",
        checksum=checksum(job),
    )
    return _lasting(document, attachment)


def as_lasting(document: Document) -> bytes:
    """The same without a job file, for pages that are no one job's."""
    return _lasting(document, None)


def _lasting(document: Document, attachment: Attachment | None) -> bytes:
    settings_text = _settings_text(document.settings)
    lasting = Lasting(
        description=_packet(document),
        grey=(GREY, grey_profile()),
        labels=tuple(page.short for page in document.pages),
        bookmarks=_bookmarks(document.pages),
        information={SETTINGS: settings_text} if settings_text else {},
        attachment=attachment,
    )
    return render(document, PdfBackend(document.title, document.subject, lasting))


def _packet(document: Document) -> bytes:
    """The document's information again, in XMP."""
    texts = {
        "title": document.title,
        "subject": document.subject,
        "creator": CREATOR,
        "producer": PRODUCER,
        "language": LANGUAGE,
    }
    return PACKET.format_map(
        {key: escape(text, quote=False) for key, text in texts.items()}
    ).encode()


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


def _bookmarks(pages: Sequence[Page]) -> tuple[Bookmark, ...]:
    """A bookmark for each part, over one for each of its pages where it has several."""
    found = []
    for part, group in groupby(enumerate(pages), key=lambda numbered: numbered[1].part):
        inside = tuple(Bookmark(titled(page.bookmark), number) for number, page in group)
        found.append(Bookmark(titled(part), inside[0].page, inside if len(inside) > 1 else ()))
    return tuple(found)


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
