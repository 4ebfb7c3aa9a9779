"""What outside this project's own code holds each figure that is printed, and how near.

One `Figure` for each that the ticket, the cutting pages or a sheet prints, and one `Check` for each
thing that holds it. `test_outside_checks.py` proves that every test named here is there, and that
no figure of the ticket is forgotten.

"Hand-worked" is arithmetic written out beside the test; it shares no code with the tool, but its
formula is ours. "Exact" means equal as fractions. What is read from the PDF is read by pdfplumber;
sheets are taped by their marks.
"""

from __future__ import annotations

from dataclasses import dataclass

WHOLE_WAY = "test_whole_way.py::test_what_was_planned_is_what_is_printed"
EXACT = "exact"
DRAWN = "0.01 mm"


@dataclass(frozen=True)
class Check:
    """One outside check: what it is held against, how near, and the tests that do it.

    A test is named from `tests/` on, "folder/file.py::function"; a file alone stands for all of it.
    """

    outside: str
    tolerance: str
    tests: tuple[str, ...]


@dataclass(frozen=True)
class Figure:
    """A figure that is printed, and its checks.

    `labels` are the names beside it on the ticket. `whole_way`: random jobs hold it from their file
    to their PDF, printed as planned; marks within 0.01 mm, measures within their rounding (1/32 in,
    0.05 mm).
    """

    name: str
    checks: tuple[Check, ...]
    labels: tuple[str, ...] = ()
    whole_way: bool = False


def check(outside: str, tolerance: str, *tests: str) -> Check:
    """One row's check, its tests at the end."""
    return Check(outside, tolerance, tests)


WHOLE_JOBS = check(
    "two jobs by hand, from the window's measures to their pages",
    "as printed",
    "test_whole_jobs_by_hand.py::test_every_page",
)

FIGURES = (
    Figure(
        "finished width",
        (
            check(
                "2, 2 1/2 and 3 times the rod and ends (UFGS-12 22 00)",
                EXACT,
                "published/test_standards.py::test_fullness_of_the_rod",
            ),
            check(
                "hand-worked",
                EXACT,
                "planning/test_plan.py::test_width_from_covers_and_fullness",
                "planning/test_plan.py::test_width_from_widths",
            ),
            check("panel ends read from the PDF", DRAWN, "printed/test_strips.py::test_panel_ends"),
        ),
        whole_way=True,
    ),
    Figure(
        "finished length",
        (
            check(
                "clears the floor by 1 in (UFGS-12 22 00)",
                EXACT,
                "published/test_standards.py::test_floor_length",
            ),
            check("hand-worked", EXACT, "planning/test_eyelets.py::test_length_from_the_pole"),
        ),
        ("Finished length",),
    ),
    Figure(
        "eyelets a panel",
        (
            check(
                "common practice: 10 or 8 on 75 in, 12 hooks on 72 in, even",
                EXACT,
                "published/test_trade_facts.py::test_ten_eyelets",
                "published/test_trade_facts.py::test_one_eyelet_apart",
                "published/test_trade_facts.py::test_shower_curtain",
                "published/test_trade_facts.py::test_even_count",
            ),
            check(
                "all even counts tried",
                EXACT,
                "planning/test_eyelets.py::test_nobody_is_nearer_the_target",
            ),
        ),
        whole_way=True,
    ),
    Figure(
        "gap, pitch",
        (
            check(
                "common practice: 3 1/2 and 7 1/4 in",
                EXACT,
                "published/test_trade_facts.py::test_ten_eyelets",
            ),
            check(
                "common practice: 5 1/2 and 9 1/4 in",
                "1/8 in",
                "published/test_trade_facts.py::test_eight_eyelets",
            ),
            check("circles read from the PDF", DRAWN, "printed/test_strips.py::test_circles"),
        ),
        whole_way=True,
    ),
    Figure(
        "hole centres, on strip and ticket",
        (
            check(
                "circles read from the PDF at hand-worked places",
                DRAWN,
                "printed/test_strips.py::test_circles",
                "printed/test_lanes.py::test_circles",
                "printed/test_rolls.py::test_circles",
                "printed/test_shared_rolls.py::test_circles",
            ),
            check(
                "pixels of two renderers at 600 dpi",
                "1 pixel (0.042 mm)",
                "printed/test_pixels.py::test_holes",
            ),
        ),
        whole_way=True,
    ),
    Figure(
        "line of the holes below the top",
        (
            check(
                "circles' height over the band's lines, read from the PDF",
                DRAWN,
                "printed/test_strips.py::test_circles",
            ),
        ),
        ("Top to eyelet",),
        whole_way=True,
    ),
    Figure(
        "eyelet outside, hole to cut",
        (
            check(
                "circles' diameters, read from the PDF",
                DRAWN,
                "printed/test_strips.py::test_circles",
            ),
            check(
                "pixels of two renderers at 600 dpi",
                "1 pixel (0.042 mm)",
                "printed/test_pixels.py::test_holes",
            ),
        ),
        ("Eyelet outside", "Hole to cut"),
        whole_way=True,
    ),
    Figure(
        "opening",
        (
            check(
                "none outside: as the job says it",
                "as printed",
                "ticket/test_every_key.py::test_every_key_is_on_the_ticket",
            ),
        ),
        ("Opening",),
    ),
    Figure(
        "band height",
        (check("band lines read from the PDF", DRAWN, "printed/test_strips.py::test_band_lines"),),
        ("Band height",),
        whole_way=True,
    ),
    Figure(
        "leading, return; return fold",
        (
            check(
                "the closed fold drawn: the return reaches the wall, and a step less doesn't",
                EXACT,
                "planning/test_set_out.py::test_it_reaches_the_wall_and_a_step_less_does_not",
            ),
            check("fold read from the PDF", DRAWN, "printed/test_strips.py::test_return_folds"),
        ),
        ("Leading", "Return", "Return, both ends"),
        whole_way=True,
    ),
    Figure(
        "front and back gaps, F and B",
        (
            check(
                "common practice: both ends to the wall",
                EXACT,
                "published/test_trade_facts.py::test_even_count",
            ),
            check(
                "letters read between their flanges",
                EXACT,
                "printed/test_strips.py::test_letters",
            ),
        ),
        ("Gaps",),
        whole_way=True,
    ),
    Figure(
        "covers, fullness",
        (
            check(
                "fullness of the rod (UFGS-12 22 00)",
                EXACT,
                "published/test_standards.py::test_fullness_of_the_rod",
            ),
            check(
                "a magazine's project",
                EXACT,
                "published/test_trade_facts.py::test_fullness_of_a_magazine_project",
            ),
            check("hand-worked", EXACT, "planning/test_plan.py::test_fullness_from_covers"),
        ),
        ("Pole covered", "Fullness"),
    ),
    Figure(
        "folds, closed",
        (
            check(
                "K and E (OEIS A093341, A257407), lemniscate B (A076390)",
                "5e-7 of the pitch as published",
                "published/test_folds.py",
            ),
            check("SciPy", "1e-9", "planning/test_folds.py::test_scipy_legendre"),
            check("an ODE integrated", "1e-8", "planning/test_folds.py::test_integrated_curve"),
            check(
                "a strip bent by least energy",
                "2e-3 (the strip is in 60 steps)",
                "planning/test_folds.py::test_least_energy",
            ),
            check(
                "triangle inequality",
                EXACT,
                "published/test_folds.py::test_no_fold_is_deeper_than_its_cloth_is_long",
            ),
        ),
        ("Folds, closed",),
        whole_way=True,
    ),
    Figure(
        "folds, stacked",
        (
            check(
                "triangle inequality",
                EXACT,
                "published/test_folds.py::test_no_fold_is_deeper_than_its_cloth_is_long",
            ),
        ),
        ("Folds, stacked",),
        whole_way=True,
    ),
    Figure(
        "free to the wall",
        (
            check(
                "hand-worked only: projection less depth, wall to cloth",
                EXACT,
                "planning/test_hanging.py::test_wall_room",
            ),
            check(
                "common practice: the finding keeps folds off the wall",
                EXACT,
                "published/test_trade_facts.py::test_back_folds_stay_off_the_wall",
            ),
        ),
        ("Free to the wall",),
    ),
    Figure(
        "rings turn",
        (
            check(
                "a ring searched in space", "0.01°", "planning/test_rings.py::test_turn_in_space"
            ),
            check(
                "45° (common practice)",
                "0.001 in of pole",
                "published/test_trade_facts.py::test_operable_panels_turn",
            ),
            check(
                "1 3/8 in through 1 9/16 in (magazine)",
                "takes it",
                "published/test_trade_facts.py::test_rod_of_a_magazine_project",
            ),
        ),
        ("Rings turn", "Rings jam"),
        whole_way=True,
    ),
    Figure(
        "stack",
        (
            check(
                "none: 1 1/4 in an eyelet is the job's or ours (common practice); times the count "
                "hand-worked",
                EXACT,
                "planning/test_plan.py::test_usual_panel",
            ),
        ),
        ("Stack",),
        whole_way=True,
    ),
    Figure(
        "glass covered and the pole that clears it",
        (
            WHOLE_JOBS,
            check(
                "counted along a pole laid out on a line",
                EXACT,
                "planning/test_pole_stand.py::test_laid_out_on_a_line",
            ),
            check(
                "hand-worked, of a pair and of one panel",
                EXACT,
                "planning/test_pole_stand.py::test_pair_over_glass",
                "planning/test_pole_stand.py::test_one_panel_over_glass",
                "planning/test_pole_stand.py::test_pole_worked_out",
            ),
            check(
                "every pole up to it tried",
                "1/16 in",
                "planning/test_pole_stand.py::test_pole_for_the_same_fullness",
            ),
        ),
        ("Glass, drawn open", "Pole worked out"),
    ),
    Figure(
        "brackets",
        (
            WHOLE_JOBS,
            check(
                "each eyelet walked along a line from open to closed",
                EXACT,
                "planning/test_pole_stand.py::test_laid_out_on_a_line",
            ),
            check(
                "hand-worked places, and the lever for what they bear",
                EXACT,
                "planning/test_pole_stand.py::test_brackets_evenly",
                "planning/test_pole_stand.py::test_shares_by_the_lever",
                "planning/test_pole_stand.py::test_what_brackets_bear",
            ),
        ),
        ("Brackets",),
    ),
    Figure(
        "pole past its end bracket",
        (
            WHOLE_JOBS,
            check(
                "hand-worked from the ring's angle",
                "1/16 in",
                "planning/test_pole_stand.py::test_past_the_bracket",
            ),
        ),
        ("Pole past bracket",),
    ),
    Figure(
        "lower edge over the floor",
        (
            check(
                "hand-worked from the pole's height",
                EXACT,
                "planning/test_pole_stand.py::test_on_floor",
                "planning/test_pole_stand.py::test_break_on_the_floor",
            ),
        ),
        ("Lower edge",),
    ),
    Figure(
        "weight",
        (
            WHOLE_JOBS,
            check(
                "exact definitions of yard and ounce",
                EXACT,
                "published/test_standards.py::test_a_square_yard_weighs_its_ounces",
            ),
            check(
                "hand-worked with lining and eyelets",
                EXACT,
                "planning/test_hanging.py::test_weight",
            ),
        ),
        ("Weight, each panel",),
        whole_way=True,
    ),
    Figure(
        "drops",
        (
            check(
                "published: 5 widths of 54 in for 225 in",
                EXACT,
                "published/test_cloth.py::test_five_widths",
            ),
            check(
                "rounded up (Damour)",
                EXACT,
                "published/test_cloth.py::test_widths_cut_and_yards",
            ),
            check("all places of seams tried on a grid", EXACT, "planning/test_seams_searched.py"),
        ),
        ("Fabric", "Lining"),
    ),
    Figure(
        "cut length",
        (
            check(
                "published: 88 in; 125 in for 116 in and a 25 in repeat",
                EXACT,
                "published/test_cloth.py::test_widths_cut_and_yards",
                "published/test_cloth.py::test_published_repeat",
            ),
            check(
                "8 in band and hem",
                EXACT,
                "published/test_standards.py::test_band_and_hem_as_usual",
            ),
            check(
                "a workroom's own sum over random jobs, upright and railroaded",
                EXACT,
                "planning/test_cuts_reckoned.py::test_every_cut_and_total",
            ),
        ),
        ("Fabric", "Lining"),
    ),
    Figure(
        "lining finished",
        (
            WHOLE_JOBS,
            check(
                "common practice, hand-worked, loose and bagged",
                EXACT,
                "planning/test_plan_cloth.py::test_lining_as_it_is_made",
                "planning/test_plan_cloth.py::test_lining_of_a_metric_job",
            ),
            check(
                "reckoned a second time over random jobs",
                EXACT,
                "test_reckoned.py::test_every_figure",
            ),
        ),
        ("Lining finished",),
    ),
    Figure(
        "amount to order",
        (
            WHOLE_JOBS,
            check(
                "published: 440 in are 12.22 yd, so 12 1/4",
                "published to 0.01 yd; unit exact",
                "published/test_cloth.py::test_five_widths",
            ),
            check(
                "a workroom's own sum over random jobs, allowance and repeat included",
                EXACT,
                "planning/test_cuts_reckoned.py::test_every_order",
            ),
        ),
        ("Fabric", "Lining"),
    ),
    Figure(
        "seams",
        (
            check(
                "common practice: 50 1/2 in is in front, moved behind an eyelet",
                EXACT,
                "published/test_cloth.py::test_the_panel_of_common_practice",
            ),
            check("all places tried", EXACT, "planning/test_seams_searched.py"),
            check(
                "lines read from the PDF",
                DRAWN,
                "printed/test_cutting.py::test_seams_on_the_sheets",
            ),
        ),
        ("Fabric seams", "Lining seams"),
        whole_way=True,
    ),
    Figure(
        "pieces, slits, repeats on the cutting pages",
        (
            WHOLE_JOBS,
            check(
                "hand-worked, read from the PDF at the scale that it states",
                "0.01 mm on paper",
                "printed/test_cutting.py",
            ),
        ),
    ),
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
    Figure(
        "pattern on the folds",
        (
            check(
                "a search of every count and every pitch of whole half repeats",
                EXACT,
                "planning/test_pattern_folds.py::test_the_nearest_of_all",
            ),
            check(
                "the second reckoning, from the trade's rules alone",
                EXACT,
                "test_reckoned.py::test_every_figure",
            ),
        ),
        ("Pattern",),
    ),
    Figure(
        "motif's centre",
        (
            WHOLE_JOBS,
            check(
                "the panel laid flat from its pieces as cut: a motif at every F, seams matched",
                DRAWN,
                "planning/test_motif_seams.py::test_a_motif_at_every_front_fold",
            ),
            check(
                "every place of every seam tried on a grid of 1/16 in",
                EXACT,
                "planning/test_motif_seams.py::test_the_middle_is_had_where_it_can_be",
            ),
            check(
                "the roll walked along: every drop begins at its motif",
                EXACT,
                "planning/test_motif_heights.py::test_every_drop_begins_at_its_motif",
            ),
        ),
        ("Motif", "Fabric motif"),
    ),
    Figure(
        "eyelets, packs, band in all",
        (
            check(
                "hand-worked only",
                EXACT,
                "planning/test_plan.py::test_job_totals",
                "planning/test_cuts_and_orders.py::test_eyelets",
                "planning/test_band.py::test_heights_and_rolls_apart",
            ),
        ),
        ("Eyelets", "Band"),
    ),
    Figure(
        "band: each panel's cut, rolls, splices",
        (
            check(
                "every way to cut a small job's panels from rolls, one roll after another",
                EXACT,
                "planning/test_band.py::test_no_way_is_better",
            ),
        ),
        ("Band cut",),
    ),
    Figure(
        "advice in findings",
        (
            check(
                "each followed as printed, and the finding is gone",
                EXACT,
                "planning/test_findings.py",
                "planning/test_hanging_findings.py",
                "planning/test_seam_findings.py",
            ),
        ),
    ),
    Figure(
        "fire, cloth tests",
        (
            check(
                "the ticket only points to NFPA 701 and EN 13773 (their scopes); no class, no ASTM "
                "D3776 figure",
                "words",
                "published/test_standards.py::test_cloth_and_fire",
            ),
        ),
    ),
)
"""Every figure, in the order of the ticket and then of the sheets."""

WORDS = ("Number", "Client", "Room", "Notes", "Warnings", "Hung", "Figures, holes")
"""Names on the ticket that stand beside words, or point to another window's figures."""
