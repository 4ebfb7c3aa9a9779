"""Outside checks of figures of its cloth, and what is bought."""

from __future__ import annotations

from tests.outside.table import DRAWN, EXACT, WHOLE_JOBS, Figure, check

THE_CLOTH = (
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
                "the panel sewn from what is printed alone: a motif at every F",
                EXACT,
                "ticket/test_pattern_as_cut.py::test_a_motif_at_each_f",
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
