"""A strip in, its sheets out: where they join, how they lie on paper, what each carries."""

from drapetemplate.sheets.sheet import Part, Sheet, SheetSet, sheet_set

__all__ = ["Part", "Sheet", "SheetSet", "sheet_set"]
