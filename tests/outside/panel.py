"""Outside checks of figures of the panel and how it hangs."""

from __future__ import annotations

from tests.outside.table import DRAWN, EXACT, WHOLE_JOBS, Figure, check

THE_PANEL = (
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
            check(
                "hand-worked: half the pole less a ring",
                EXACT,
                "words/test_standing.py::test_rings_take_their_share_of_the_pole",
            ),
        ),
        ("Pole covered", "Fullness", "On this pole"),
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
        "glass that closed panels leave bare",
        (
            check(
                "counted along a pole laid out on a line",
                "3/16 in: each edge to 1/32 in, what leads past a ring up to 1/16 in",
                "planning/test_pole_stand.py::test_laid_out_on_a_line",
            ),
            check(
                "hand-worked, of a pair, of one panel and of cloth that can't reach",
                "1/8 in",
                "planning/test_pole_stand.py::test_glass_left_bare",
                "planning/test_pole_stand.py::test_one_panel_leaves_glass_bare",
                "planning/test_pole_stand.py::test_cloth_that_cant_reach",
            ),
        ),
        ("Glass, closed",),
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
)
