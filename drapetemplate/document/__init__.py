"""Everything one PDF holds, page by page, before any PDF exists."""

from drapetemplate.document.job_document import document, documents
from drapetemplate.document.model import Document, Page, Settings, titled

__all__ = ["Document", "Page", "Settings", "document", "documents", "titled"]
