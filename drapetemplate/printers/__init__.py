"""Printers kept, what each one's factors are, and the sheet that shows them."""
