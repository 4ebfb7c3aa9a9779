"""What `drapetemplate new` asks of a window's cloth and its lining: nearly the same of both."""

from __future__ import annotations

from drapetemplate.interview.question import (
    Condition,
    InWords,
    Question,
    answer_is,
    answer_is_not,
    any_of,
    branch,
    counts_here,
    first_window_does_not_say,
    first_window_says,
    has_answer,
    in_first_window,
    in_later_window,
)
from drapetemplate.interview.window_questions import BY_WIDTHS, CLOTH_ASKED, NOT_KNOWN, ON_POLE
from drapetemplate.job import defaults

_FABRIC, _LINING = "The cloth", "The lining"
_SIDE_HEM = "How much cloth does each side hem take, all its turns?"
_BOTTOM_HEM = "How much cloth does the bottom hem take, all its turns?"


def _cloth(
    name: str,
    section: str,
    *when: Condition,
    motif: tuple[Question, ...] = (),
    made: tuple[Question, ...] = (),
    hems: tuple[Question, ...],
) -> tuple[Question, ...]:
    """Return the questions of the table `name`, fabric or lining, asked where all of `when` hold.

    `section` is also what they call it: The cloth, The lining. `motif` are about its motifs, `made`
    about how it is made, and `hems` about its hems: whether they are to be asked, and each of them.
    """
    it = section.lower()
    otherwise = (*when, answer_is(f"?hems {name}", "yes"))
    more = (*when, answer_is(f"?more {name}", "yes"))
    pattern = f"?pattern {name}"
    patterned = (*when, answer_is(pattern, "yes"))

    return (
        Question(
            f"{name}.name",
            section,
            f"What is {it} called?",
            "Its name or number, as it is to stand on the ticket and the order.",
            default=InWords("no name"),
            kind="text",
            when=when,
        ),
        Question(
            f"{name}.width",
            section,
            f"How wide is {it}, from selvage to selvage?",
            "Measure across the roll, selvages included.",
            default=InWords("not known, so no seams, drops or order"),
            when=when,
        ),
        branch(
            pattern,
            section,
            f"Has {it} a pattern that must match (yes or no)?",
            "Its repeats are asked then: drops are cut in whole repeats, and seams stand where the "
            "pattern runs on.",
            *when,
            first_window_does_not_say(pattern, "yes"),
        ),
        branch(
            pattern,
            section,
            f"Has {it} a pattern that must match (yes or no)?",
            "The first window's has one. Say no for a plain cloth, which then has none of that "
            "one's repeats.",
            *when,
            first_window_says(pattern, "yes"),
            default="yes",
        ),
        Question(
            f"{name}.repeat_down",
            section,
            "Repeat down, along the cloth?",
            "From one motif to the next along the selvage; none where it has none that way.",
            default=InWords("none"),
            when=patterned,
        ),
        Question(
            f"{name}.repeat_across",
            section,
            "Repeat across the cloth?",
            "From one motif to the next from selvage to selvage; none where it has none that way.",
            default=InWords("none"),
            when=patterned,
        ),
        *motif,
        *made,
        *hems,
        Question(
            f"{name}.seam",
            section,
            "Seam allowance, on each side of a seam?",
            "Cloth of one width, from its edge as far as the stitching line.",
            default=defaults.SEAM,
            when=otherwise,
        ),
        Question(
            f"{name}.allowance",
            section,
            "How much of it to buy over what is cut, to square the start and cut round flaws?",
            "Once for the whole job. 0 for none. With a repeat down the cloth, one repeat more is "
            "bought in any case, to begin at a chosen place of the pattern.",
            default=defaults.ALLOWANCE,
            when=otherwise,
        ),
        branch(
            f"?more {name}",
            section,
            f"More about {it}: railroading, weight, shrinkage (yes or no)?",
            "Whether it is turned on its side; what it weighs; what it shrinks.",
            *when,
        ),
        Question(
            f"{name}.railroad",
            section,
            f"Is {it} railroaded, turned so that its width runs down (yes or no)?",
            "A wide cloth turned on its side gives a panel in one run, without seams. What is cut "
            "must fit into the cloth's width.",
            default="no",
            kind="yes or no",
            when=more,
        ),
        Question(
            f"{name}.weight",
            section,
            f"What does {it} weigh?",
            "With its unit, such as 250 gsm or 8 oz/yd2, for the weight of the panel.",
            default=NOT_KNOWN,
            kind="area weight",
            when=more,
        ),
        Question(
            f"{name}.shrinkage",
            section,
            "What does it shrink?",
            "Of its length, such as 3 %: it is cut that much longer.",
            default=defaults.SHRINKAGE.words,
            kind="share",
            when=more,
        ),
    )


def _hems_of_face(*when: Condition) -> tuple[Question, ...]:
    """Return what is asked of the face's hems."""
    otherwise = (*when, answer_is("?hems fabric", "yes"))
    return (
        branch(
            "?hems fabric",
            _FABRIC,
            "Are the cloth's hems, heading, seams or allowance other than these (yes or no)?",
            "No takes all of them as they stand here. Yes asks for each: what side hems, bottom "
            "hem and heading take of it, its seam allowance, and what to buy over.",
            *when,
            shows=(
                ("fabric.side_hem", "each side hem"),
                ("fabric.bottom_hem", "bottom hem"),
                ("fabric.heading", "heading"),
                ("fabric.seam", "seam allowance"),
                ("fabric.allowance", "bought over"),
            ),
        ),
        Question(
            "fabric.side_hem",
            _FABRIC,
            _SIDE_HEM,
            "A double hem of 1 1/2 in takes 3 in; one of 40 mm takes 80 mm.",
            default=defaults.SIDE_HEM,
            when=otherwise,
        ),
        Question(
            "fabric.bottom_hem",
            _FABRIC,
            _BOTTOM_HEM,
            "A double hem of 4 in takes 8 in; one of 100 mm takes 200 mm.",
            default=defaults.BOTTOM_HEM,
            when=otherwise,
        ),
        Question(
            "fabric.heading",
            _FABRIC,
            "How much cloth does the heading take, beyond the finished length?",
            "What is turned down at the top to hold the stiffener band.",
            default=InWords("twice the stiffener band"),
            when=otherwise,
        ),
    )


def _where_motifs_are(*when: Condition) -> tuple[Question, ...]:
    """Return what is asked of a face's motifs, for folds and heights that they are to be at."""
    across, down = counts_here("fabric.repeat_across"), counts_here("fabric.repeat_down")
    placed = (*when, any_of(across, down), answer_is("?motif fabric", "yes"))
    return (
        branch(
            "?motif fabric",
            _FABRIC,
            "Is a motif or stripe to stand in the middle of front folds, or at one height (yes or "
            "no)?",
            "Yes asks where its centre is on the cloth. Panels are then cut by it, where a window "
            "has its pattern on the folds, or says how far below its top a motif is to hang.",
            *when,
            any_of(across, down),
        ),
        Question(
            "fabric.motif",
            _FABRIC,
            "How far is the centre of the first whole motif or stripe from the left selvage?",
            "With the cloth face up and the motif's top at the far end.",
            default=NOT_KNOWN,
            when=(*placed, across),
        ),
        Question(
            "fabric.mirrored",
            _FABRIC,
            "Is a motif's centre as far from the right selvage (yes or no)?",
            "Say yes only if it is: a pair's panels are then cut as mirror images of each other.",
            default="no",
            kind="yes or no",
            when=(*placed, across, has_answer("fabric.motif")),
        ),
        Question(
            "fabric.motif_down",
            _FABRIC,
            "How far is the centre of the first motif from the roll's squared start?",
            "Along the cloth, from where it is cut first. Measure it before the first cut.",
            default=NOT_KNOWN,
            when=(*placed, down),
        ),
    )


def _how_lined(*when: Condition) -> tuple[Question, ...]:
    """Return how a lining is joined to its face."""
    return (
        Question(
            "lining.joined",
            _LINING,
            "Is the lining loose, or bagged (loose or bagged)?",
            "A loose one is hemmed by itself: it stops short of the face's side edges and of its "
            "foot. A bagged one is sewn to the face's edges and turned out, as wide and as long.",
            default=defaults.JOINED.words,
            kind="text",
            when=when,
        ),
    )


def _hems_of_lining(*when: Condition) -> tuple[Question, ...]:
    """Return what is asked of a lining's hems: of a bagged one its seams at the edges."""
    loose = (*when, answer_is_not("lining.joined", "bagged"))
    bagged = (*when, answer_is("lining.joined", "bagged"))
    otherwise = answer_is("?hems lining", "yes")
    alike = (
        ("lining.heading", "heading"),
        ("lining.seam", "seam allowance"),
        ("lining.allowance", "bought over"),
    )
    a_seam = InWords("the seam, its seam allowance")
    return (
        branch(
            "?hems lining",
            _LINING,
            "Are the lining's hems, heading, seams or allowance other than these (yes or no)?",
            "No takes all of them as they stand here. Yes asks for each: how far it stays within "
            "the face, what its hems and a heading of its own take, its seam allowance, and what "
            "to buy over.",
            *loose,
            shows=(
                ("lining.set_in", "set in from each side edge of the face"),
                ("lining.short", "short of the face's foot"),
                ("lining.side_hem", "each side hem"),
                ("lining.bottom_hem", "bottom hem"),
                *alike,
            ),
        ),
        branch(
            "?hems lining",
            _LINING,
            "Is what the lining takes at its edges other than these (yes or no)?",
            "Bagged, it takes its seam allowance at the sides and at the foot. Yes asks for each, "
            "for a heading of its own, and for what to buy over.",
            *bagged,
            shows=alike,
        ),
        Question(
            "lining.set_in",
            _LINING,
            "How far is it set in from each side edge of the face?",
            "Finished edge to finished edge, at each side.",
            default=defaults.SET_IN,
            when=(*loose, otherwise),
        ),
        Question(
            "lining.short",
            _LINING,
            "How far does it hang above the face's foot?",
            "So that it doesn't show below the face.",
            default=defaults.SHORT,
            when=(*loose, otherwise),
        ),
        Question(
            "lining.side_hem",
            _LINING,
            _SIDE_HEM,
            "A double hem of 3/4 in takes 1 1/2 in; one of 20 mm takes 40 mm.",
            default=defaults.LINING_SIDE_HEM,
            when=(*loose, otherwise),
        ),
        Question(
            "lining.side_hem",
            _LINING,
            "How much cloth does the seam at each side take?",
            "Where it is sewn to the face's side edges.",
            default=a_seam,
            when=(*bagged, otherwise),
        ),
        Question(
            "lining.bottom_hem",
            _LINING,
            _BOTTOM_HEM,
            "A double hem of 2 in takes 4 in; one of 50 mm takes 100 mm.",
            default=defaults.LINING_BOTTOM_HEM,
            when=(*loose, otherwise),
        ),
        Question(
            "lining.bottom_hem",
            _LINING,
            "How much cloth does the seam or hem at the foot take?",
            "Where it is sewn to the face's foot, or hemmed by itself.",
            default=a_seam,
            when=(*bagged, otherwise),
        ),
        Question(
            "lining.heading",
            _LINING,
            "How much cloth does a top turn of its own take?",
            "None where its top edge is caught under the face's heading.",
            default=defaults.LINING_HEADING,
            when=(*when, otherwise),
        ),
    )


_NOT_TURNED = answer_is_not("fabric.railroad", "yes", "y")
_ASKED = (CLOTH_ASKED, any_of(in_later_window, BY_WIDTHS, answer_is("?cloth", "yes")))
_LINED = (*_ASKED, answer_is("?lining", "yes"))

THE_CLOTH = (
    branch(
        "?cloth",
        _FABRIC,
        "Plan the cloth too: seams, drops and what to buy (yes or no)?",
        "Say yes and you are asked how wide the cloth is, and about its pattern and its hems. "
        "Without it the template is the same.",
        in_first_window,
        answer_is_not("?route", "widths"),
    ),
    *_cloth(
        "fabric", _FABRIC, *_ASKED, motif=_where_motifs_are(*_ASKED), hems=_hems_of_face(*_ASKED)
    ),
    Question(
        "pattern",
        _FABRIC,
        "Must the pattern match at the seams alone, or be alike on every front fold (seams or "
        "folds)?",
        "On the folds every one that comes forward shows the same stripe or motif. Eyelets then "
        "stand whole halves of the repeat apart, and the panel's width follows.",
        default=defaults.PATTERN.words,
        kind="text",
        when=(ON_POLE, counts_here("fabric.repeat_across"), _NOT_TURNED),
    ),
    Question(
        "motif_below",
        _FABRIC,
        "How far below the finished top is a motif's centre to hang?",
        "Every drop is then cut so that one hangs there.",
        default=InWords("wherever it falls"),
        when=(counts_here("fabric.repeat_down"), has_answer("fabric.motif_down"), _NOT_TURNED),
    ),
    Question(
        "extra_seams",
        _FABRIC,
        "How many seams a panel more than it needs, where each saves a drop?",
        "Part widths of several panels may then be cut from fewer drops. They are hidden like all "
        "others. The plan says where one would save a drop.",
        default=defaults.EXTRA_SEAMS.words,
        kind="whole",
        when=(*_ASKED, answer_is("?more fabric", "yes")),
    ),
    branch(
        "?lining",
        _LINING,
        "Is it lined (yes or no)?",
        "The lining's widths, seams and drops are planned too, and what of it to buy.",
        *_ASKED,
        first_window_does_not_say("?lining", "yes"),
    ),
    branch(
        "?lining",
        _LINING,
        "Is it lined (yes or no)?",
        "The first window is. Say no and this one has no lining.",
        *_ASKED,
        first_window_says("?lining", "yes"),
        default="yes",
    ),
    *_cloth("lining", _LINING, *_LINED, made=_how_lined(*_LINED), hems=_hems_of_lining(*_LINED)),
)
