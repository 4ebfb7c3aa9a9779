"""Printers kept, what each must be corrected by, and the sheet that shows it."""

from drapetemplate.printers.store import find, forget, keep, known

__all__ = ["find", "forget", "keep", "known"]
