"""A strip in, its sheets out: where they join, how they lie on paper, what each carries."""

from drapetemplate.sheets.sheet import Sheet, SheetSet, StripPart, sheet_set

__all__ = ["Sheet", "SheetSet", "StripPart", "sheet_set"]
