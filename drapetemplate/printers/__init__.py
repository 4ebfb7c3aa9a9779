"""Printers kept, what each one's factors are, and the sheet that shows them."""

from drapetemplate.printers.store import find, forget, keep, known

__all__ = ["find", "forget", "keep", "known"]
