"""Everything one PDF holds, page by page, before any PDF exists."""
