"""What `drapetemplate new` asks of a window's cloth and its lining: nearly the same of both."""

from __future__ import annotations

from drapetemplate.interview.question import (
    YES_NO,
    Question,
    Test,
    Worked,
    as_first,
    chose,
    either,
    first,
    gate,
    later,
    unless,
    unless_first,
)
from drapetemplate.interview.window_questions import BY_WIDTHS, NOT_KNOWN, OWN_CLOTH
from drapetemplate.job import defaults

_FABRIC, _LINING = "The cloth", "The lining"


def _cloth(name: str, section: str, *when: Test) -> tuple[Question, ...]:
    """The questions of [fabric] or [lining]; `section` is also what they call it."""
    it = section.lower()
    more = (*when, chose(f"?more {name}", "yes"))
    patterned = (*when, chose(f"?pattern {name}", "yes"))

    def ask(key: str, asks: str, explains: str, default: Worked) -> Question:
        return Question(f"{name}.{key}", section, asks, explains, default, when=patterned)

    return (
        Question(
            f"{name}.name",
            section,
            f"What is {it} called?",
            "Its name or number, as it is to stand on the ticket and the order.",
            Worked("no name"),
            "text",
            when,
        ),
        Question(
            f"{name}.width",
            section,
            f"How wide is {it}, from selvage to selvage?",
            "Measure across the roll, selvages included.",
            Worked("not known, so no seams, drops or order"),
            when=when,
        ),
        gate(
            f"?pattern {name}",
            section,
            f"Has {it} a pattern that must match (yes or no)?",
            "Its repeats are asked then: drops are cut in whole repeats, and seams stand where the "
            "pattern runs on.",
            *when,
        ),
        ask(
            "repeat_down",
            "Repeat down, along the cloth?",
            "From one motif to the next along the selvage.",
            Worked("none"),
        ),
        ask(
            "repeat_across",
            "Repeat across the cloth?",
            "From one motif to the next from selvage to selvage.",
            Worked("none"),
        ),
        gate(
            f"?more {name}",
            section,
            f"More about {it}: hems, heading, seams, weight, shrinkage (yes or no)?",
            "What hems, heading and seams take of it; whether it is railroaded; what it weighs; "
            "what it shrinks.",
            *when,
        ),
        Question(
            f"{name}.side_hem",
            section,
            "How much cloth does each side hem take?",
            "All of it: a double hem of 1 1/2 in takes 3 in.",
            defaults.SIDE_HEM.value,
            when=more,
        ),
        Question(
            f"{name}.bottom_hem",
            section,
            "How much cloth does the bottom hem take?",
            "All of it: a double hem of 4 in takes 8 in.",
            defaults.BOTTOM_HEM.value,
            when=more,
        ),
        Question(
            f"{name}.heading",
            section,
            "How much cloth does the heading take?",
            "What is turned down at the top to hold the stiffener band, beyond the finished "
            "length.",
            Worked("twice the stiffener band"),
            when=more,
        ),
        Question(
            f"{name}.seam",
            section,
            "How much cloth does a seam take on each side?",
            "The seam allowance of one width, as far as the stitching line.",
            defaults.SEAM.value,
            when=more,
        ),
        Question(
            f"{name}.railroad",
            section,
            f"Is {it} railroaded, turned so that its width runs down (yes or no)?",
            "A wide cloth turned on its side gives a panel in one run, without seams. What is cut "
            "must fit into the cloth's width.",
            "no",
            "yes or no",
            more,
        ),
        Question(
            f"{name}.weight",
            section,
            f"What does {it} weigh?",
            "With its unit, such as 250 gsm or 8 oz/yd2, for the weight of the panel.",
            NOT_KNOWN,
            "area weight",
            more,
        ),
        Question(
            f"{name}.shrinkage",
            section,
            "What does it shrink?",
            "Of its length, such as 3 %: it is cut that much longer.",
            defaults.SHRINKAGE.words,
            "share",
            more,
        ),
    )


_ASKED = (OWN_CLOTH, either(later, BY_WIDTHS, chose("?cloth", "yes")))
# What the file's own [lining] lines, no window can have unlined.
_LINED = (*_ASKED, either(chose("?lining", "yes"), as_first("?lining", "yes")))

THE_CLOTH = (
    Question(
        "?cloth",
        _FABRIC,
        "Plan the cloth too: seams, drops and what to buy (yes or no)?",
        "Say yes and you are asked how wide the cloth is, and about its pattern and its hems. "
        "Without it the template is the same.",
        "no",
        "choice",
        (first, unless("?route", "widths")),
        YES_NO,
    ),
    *_cloth("fabric", _FABRIC, *_ASKED),
    gate(
        "?lining",
        _LINING,
        "Is it lined (yes or no)?",
        "The lining's widths, seams and drops are planned too, and what of it to buy.",
        *_ASKED,
        unless_first("?lining", "yes"),
    ),
    *_cloth("lining", _LINING, *_LINED),
)
