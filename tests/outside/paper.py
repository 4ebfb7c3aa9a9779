"""Outside checks of figures of the pages it is printed on."""

from __future__ import annotations

from tests.outside.table import DRAWN, EXACT, WHOLE_JOBS, Figure, check

THE_PAPER = (
    Figure(
        "pictures' scale and measures",
        (
            check(
                "hand-worked from the marks laid out; not read from the PDF (`drapetemplate "
                "measure` holds those to the layout)",
                "1e-6 or so of the length",
                "ticket/test_panel_pictures.py",
                "ticket/test_from_above.py",
            ),
        ),
    ),
    Figure(
        "template sheets, rows, lanes",
        (
            check("counted in the PDF", EXACT, "printed/test_strips.py::test_sheets"),
            check("all places of joins tried on a grid", EXACT, "sheets/test_joins_searched.py"),
        ),
        ("Template sheets",),
        whole_way=True,
    ),
    Figure(
        "what a template takes of a roll",
        (
            check(
                "page size and pages of the PDF, worked by hand",
                DRAWN,
                "printed/test_shared_rolls.py::test_pages",
                "report/test_rolls.py",
            ),
            check(
                "every way to deal a few sheets out to lanes and pages tried",
                EXACT,
                "sheets/test_roll_packing.py::test_least_of_all",
            ),
        ),
    ),
    Figure(
        "joins",
        (
            check(
                "registration marks read from the PDF; two sheets' distances to the eyelets add up",
                DRAWN,
                "printed/test_laps.py::test_same_strip_point",
            ),
        ),
        whole_way=True,
    ),
    Figure(
        "check bars",
        (
            check("read from the PDF", DRAWN, "printed/test_laps.py::test_check_bars"),
            check(
                "pixels after Debian's print filters at 600 dpi",
                "2 pixels",
                "printed/test_pixels.py::test_print_pipeline",
            ),
        ),
        whole_way=True,
    ),
    Figure(
        "closing dimension",
        (
            WHOLE_JOBS,
            check(
                "hand-worked words", "as printed", "printed/test_laps.py::test_closing_dimension"
            ),
            check(
                "panel ends of the taped strip read from the PDF",
                DRAWN,
                "printed/test_strips.py::test_panel_ends",
            ),
        ),
    ),
    Figure(
        "correction for a printer",
        (check("read from the PDF, divided by the factors", DRAWN, "printed/test_factors.py"),),
        whole_way=True,
    ),
    Figure(
        "page sizes",
        (
            check(
                "PWG 5101.1-2013, ISO 216, ASME Y14.1",
                EXACT,
                "published/test_trade_facts.py::test_paper_sizes",
            ),
            check(
                "PDF unit (ISO 32000-1)",
                "0.002 units",
                "published/test_trade_facts.py::test_page_in_pdf_units",
            ),
            check(
                "14,400 units (ISO 32000-1)",
                EXACT,
                "published/test_standards.py::test_longest_side_of_a_page",
            ),
        ),
    ),
    Figure(
        "default margin",
        (
            check(
                "common unprintable edges, 6.35 and 11.68 mm (IPP samples)",
                "nothing drawn nearer",
                "published/test_standards.py::test_unprintable_edges",
            ),
        ),
    ),
)
