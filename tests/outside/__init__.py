"""What outside this project's own code holds each figure that is printed, and how near.

One `Figure` for each that the ticket, the cutting pages or a sheet prints, and one `Check` for each
thing that holds it. `test_outside_checks.py` proves that every test named here is there, and that
no figure of the ticket is forgotten.

"Hand-worked" is arithmetic written out beside the test; it shares no code with the tool, but its
formula is ours. "Exact" means equal as fractions. What is read from the PDF is read by pdfplumber;
sheets are taped by their marks.
"""

from __future__ import annotations

from tests.outside.cloth import THE_CLOTH
from tests.outside.panel import THE_PANEL
from tests.outside.paper import THE_PAPER

FIGURES = (*THE_PANEL, *THE_CLOTH, *THE_PAPER)
"""Every figure: of the panel, its cloth, and its pages."""

WORDS = ("Number", "Client", "Room", "Notes", "Warnings", "Hung", "Figures, holes")
"""Names on the ticket that stand beside words, or point to another window's figures."""
