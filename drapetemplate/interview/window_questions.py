"""What `drapetemplate new` asks of each window: itself, its width, pole, finish and eyelets.

The order is that of a measure sheet: THE_WINDOW, THE_WIDTH, THE_POLE, THE_FINISH, THE_EYELETS. Of
every group the needed few come first; the rest stands behind one yes or no, a `branch`. Where a
key is asked in two places, or with another default, `when` lets one of them through.
"""

from __future__ import annotations

from drapetemplate.interview.question import (
    Condition,
    Default,
    InWords,
    Question,
    answer_is,
    answer_is_not,
    any_of,
    asked_here,
    branch,
    has_answer,
    has_no_answer,
    has_own_answer,
    in_later_window,
)
from drapetemplate.job import defaults

ON_POLE = answer_is_not("eyelet.hung", "hooks")
BY_WIDTHS = answer_is("?route", "widths")
BY_COVERS = answer_is("?route", "covers")
POLE_ASKED = asked_here("pole")
EYELET_ASKED = asked_here("eyelet")
CLOTH_ASKED = asked_here("cloth")
HEIGHT_ASKED = (ON_POLE, has_no_answer("length"), any_of(POLE_ASKED, has_no_answer("pole.top")))
_MORE_POLE = answer_is("?pole", "yes")
_MORE_EYELET = answer_is("?eyelet", "yes")
NOT_KNOWN = InWords("not known")

_WINDOW, _WIDTH, _POLE = "The window", "The panel's width", "The pole"
_FINISH, _EYELET = "Length and edges", "The eyelets"


def _same(what: str, text: str, words: str) -> Question:
    """Return the question whether a later window has the first one's `what`: `words` of it."""
    explanation = (
        f"Say no if {words} of this window differ from the first window's. You are then asked, and "
        "an empty line takes what the first window has."
    )
    when = (in_later_window, answer_is("?same", "no"))
    return branch(f"?same {what}", _WINDOW, text, explanation, *when, default="yes")


def _covers(section: str, default: Default, *when: Condition) -> Question:
    """Return the question for `covers`, whose default rests on what is known of the pole."""
    explanation = (
        "Along the pole, from the centre of the panel's first eyelet to the centre of its last, "
        "with the panel drawn closed. What turns back to the wall is not in it."
    )
    text = "How much pole does one closed panel cover?"
    return Question("covers", section, text, explanation, default=default, when=when)


def _glass(section: str, *when: Condition) -> Question:
    """Return the question for `glass`."""
    explanation = (
        "The width to be seen through with the panels drawn open. It says how much of it they "
        "cover, and how long a pole clears it. An empty line leaves that out."
    )
    text = "How wide is the glass that is to be seen through?"
    return Question("glass", section, text, explanation, default=NOT_KNOWN, when=when)


def _how_full(default: Default, *when: Condition) -> Question:
    """Return the question for `fullness` beside a width, where `covers` wasn't answered."""
    return Question(
        "fullness",
        _POLE,
        "Then how full does it hang closed, how many times the pole is the flat cloth?",
        "2 means twice as much flat cloth as pole. It says how deep the folds are.",
        default=default,
        kind="times",
        when=(_MORE_POLE, answer_is_not("?route", "covers"), has_no_answer("covers"), *when),
    )


def _return(default: Default, *when: Condition) -> Question:
    """Return the question for `return`, whose default rests on whether the projection is known."""
    explanation = (
        "Cloth that turns back from the last eyelet to the wall, measured from that eyelet's edge. "
        "A single panel has one at both ends."
    )
    text = "Return, from the edge at the wall to the nearest eyelet?"
    return Question("return", _FINISH, text, explanation, default=default, when=when)


THE_WINDOW = (
    Question(
        "name",
        _WINDOW,
        "What is this window called?",
        "A name that tells it from the others on the ticket and the template, such as North "
        "window. Without one it is numbered.",
        default=InWords("Window {window}"),
        kind="text",
    ),
    Question(
        "quantity",
        _WINDOW,
        "How many windows exactly like it?",
        "The cloth and eyelets to buy are for all of them; the template is printed once.",
        default=defaults.QUANTITY.words,
        kind="whole",
    ),
    Question(
        "panels",
        _WINDOW,
        "Its panels: pair, left, right or single?",
        "As seen from the room. A pair meets in the middle. A left panel hangs at the left of the "
        "window and turns back to the wall at its left edge, a right one at its right. A single "
        "panel meets no other and turns back to the wall at both ends.",
        default=defaults.PANELS.words,
        kind="text",
    ),
    branch(
        "?same",
        _WINDOW,
        "The same pole, eyelets and cloth as the first window (yes or no)?",
        "Say yes and none of them is asked again. Say no if any differs.",
        in_later_window,
        default="yes",
    ),
    _same("pole", "The same pole (yes or no)?", "the measures of the pole"),
    _same("eyelet", "The same eyelets and stiffener band (yes or no)?", "the eyelets or the band"),
    _same("cloth", "The same cloth and lining (yes or no)?", "the measures of the cloth"),
    Question(
        "eyelet.hung",
        _WINDOW,
        "Do the eyelets go on a pole, or on hooks (pole or hooks)?",
        "On a pole the cloth weaves in front and behind, so the number of eyelets must be even. "
        "On hooks, as a shower curtain, nothing weaves and any number will do.",
        default=defaults.HUNG.words,
        kind="text",
        when=(EYELET_ASKED,),
    ),
)

THE_WIDTH = (
    Question(
        "?route",
        _WIDTH,
        "What do you know of a panel: its finished width, the pole it covers and how full, or how "
        "many widths of cloth it takes (width, covers or widths)?",
        "Its finished width is how wide the panel is, laid flat (width). From the pole that it "
        "covers and how full it is to hang, its width is worked out (covers). Made from so many "
        "widths of cloth, it comes out as wide as they do (widths).",
        default="width",
        kind="choice",
        choices=("width", "covers", "widths"),
        choice_words=("finished width", "pole covered, and how full", "widths of cloth"),
        measure="width",
    ),
    Question(
        "width",
        _WIDTH,
        "Finished width of one panel, laid flat?",
        "From one finished side edge to the other, with the panel flat on the table: everything "
        "between the edges, returns included, hems turned. Of a pair, one panel.",
        when=(answer_is("?route", "width"),),
    ),
    Question(
        "pole.length",
        _WIDTH,
        "Usable pole, from where the first eyelet can stand to the last?",
        "Measure the pole between the necks of the finials. A pair covers half of it each. Without "
        "it you say what one panel covers, or how wide the glass is.",
        default=NOT_KNOWN,
        when=(BY_COVERS, ON_POLE, POLE_ASKED),
    ),
    _covers(
        _WIDTH,
        InWords("all the usable pole, half each for a pair"),
        BY_COVERS,
        has_answer("pole.length"),
    ),
    _glass(_WIDTH, BY_COVERS, ON_POLE, has_no_answer("pole.length")),
    _covers(
        _WIDTH,
        InWords("all of a pole that clears the glass, half each for a pair"),
        BY_COVERS,
        has_no_answer("pole.length"),
        has_answer("glass"),
    ),
    _covers(_WIDTH, None, BY_COVERS, has_no_answer("pole.length"), has_no_answer("glass")),
    Question(
        "fullness",
        _WIDTH,
        "Fullness, how many times the pole is the flat cloth, such as 2?",
        "2 means twice as much flat cloth as pole, 2.5 two and a half times: the more, the deeper "
        "the folds of the closed panel.",
        kind="times",
        when=(BY_COVERS,),
    ),
    Question(
        "widths",
        _WIDTH,
        "How many widths of cloth in one panel?",
        "Whole or half widths, such as 1, 1.5 or 2. One width is the cloth from selvage to "
        "selvage; seams and side hems come off it.",
        kind="times",
        when=(BY_WIDTHS,),
    ),
    Question(
        "fabric.width",
        _WIDTH,
        "How wide is the cloth, from selvage to selvage?",
        "Measure across the roll, selvages included.",
        when=(BY_WIDTHS, any_of(CLOTH_ASKED, has_no_answer("fabric.width"))),
    ),
)

THE_POLE = (
    Question(
        "pole.diameter",
        _POLE,
        "Pole diameter?",
        "Straight through the pole: measure it with a caliper, or divide what a tape round it "
        "reads by 3.14. It says whether the rings pass over the pole and how far they turn on it.",
        default=InWords("not known, so it isn't checked how far the rings turn"),
        when=(ON_POLE, POLE_ASKED),
    ),
    Question(
        "pole.projection",
        _POLE,
        "Projection, from the wall to the centre of the pole?",
        "Measure from the wall to the front of the pole and take off half its diameter. It says "
        "how long the returns must be and whether the folds behind the pole clear the wall.",
        default=InWords("not known, so nothing is checked against the wall"),
        when=(ON_POLE, POLE_ASKED),
    ),
    branch(
        "?pole",
        _POLE,
        "More about the pole: its length and brackets, the glass, the wall (yes or no)?",
        "What is kept free between the folds and the wall; the usable pole and the brackets that "
        "hold it between its ends; the glass that is to be seen; and how much pole a panel covers, "
        "which says how deep its folds are when it is closed.",
        ON_POLE,
    ),
    Question(
        "pole.wall_clearance",
        _POLE,
        "How much air between the folds and the wall?",
        "The folds behind the pole must stay this far off the wall, or off a sill or a radiator "
        "that stands out from it.",
        default=defaults.WALL_CLEARANCE,
        when=(_MORE_POLE, POLE_ASKED),
    ),
    Question(
        "pole.length",
        _POLE,
        "Usable pole, from where the first eyelet can stand to the last?",
        "Measure the pole between the necks of the finials. It is checked that the panels fit on "
        "it, closed and drawn back.",
        default=NOT_KNOWN,
        when=(_MORE_POLE, POLE_ASKED),
    ),
    Question(
        "pole.supports",
        _POLE,
        "How many brackets hold the pole between its two ends?",
        "Those in the middle, without the one at each end: 0 where there are none. Eyelets can't "
        "pass a bracket, so a panel hangs to one side of it.",
        default=NOT_KNOWN,
        kind="whole",
        when=(_MORE_POLE, POLE_ASKED),
    ),
    Question(
        "pole.span",
        _POLE,
        "Then what is the most pole that may be left without a bracket?",
        "What the maker of the pole allows from one bracket to the next, for the weight of the "
        "cloth. How many brackets that takes between the ends is worked out.",
        default=NOT_KNOWN,
        when=(_MORE_POLE, POLE_ASKED, has_no_answer("pole.supports")),
    ),
    _glass(_POLE, _MORE_POLE),
    _covers(
        _POLE,
        InWords("all the usable pole, half each for a pair, unless you say how full it hangs"),
        _MORE_POLE,
        answer_is_not("?route", "covers"),
        has_answer("pole.length"),
    ),
    _covers(
        _POLE,
        NOT_KNOWN,
        _MORE_POLE,
        answer_is_not("?route", "covers"),
        has_no_answer("pole.length"),
    ),
    _how_full(
        InWords("what the usable pole makes of it"),
        has_answer("pole.length"),
    ),
    _how_full(
        InWords("not known: twice is assumed for the folds"),
        has_no_answer("pole.length"),
    ),
)

THE_FINISH = (
    Question(
        "length",
        _FINISH,
        "Finished length, from the top edge to the bottom edge?",
        "Of the finished panel, heading included. If you would rather have it worked out from how "
        "high the pole hangs, leave it empty.",
        default=InWords("worked out from the pole's height, which is asked next"),
        when=(ON_POLE,),
    ),
    Question(
        "length",
        _FINISH,
        "Finished length, from the top edge to the bottom edge?",
        "Of the finished panel, heading included.",
        default=InWords("not known, so no cloth lengths"),
        when=(answer_is("eyelet.hung", "hooks"),),
    ),
    Question(
        "pole.top",
        _FINISH,
        "From the floor to the top of the pole?",
        "Measure up from the finished floor, at both ends of the pole and in the middle, and take "
        "the least.",
        default=InWords("not known, so no cloth lengths"),
        when=HEIGHT_ASKED,
    ),
    Question(
        "pole.top",
        _FINISH,
        "From the floor to the top of the pole?",
        "Measure up from the finished floor. It is checked that the panel doesn't lie on it.",
        default=InWords("not known, so it isn't checked whether the panel lies on the floor"),
        when=(ON_POLE, has_own_answer("length"), POLE_ASKED),
    ),
    Question(
        "pole.off_floor",
        _FINISH,
        "How far off the floor does the panel end?",
        "The air below the bottom edge. 0 just touches; a minus, such as -1, has the panel break "
        "on the floor by so much.",
        default=defaults.OFF_FLOOR,
        when=(ON_POLE, has_own_answer("pole.top")),
    ),
    Question(
        "leading",
        _FINISH,
        "Leading, from the edge that meets the other panel to the first eyelet?",
        "Cloth from the panel's leading edge to the nearest edge of its first eyelet. At the least "
        "half the side hem, so that the eyelet isn't set through the hem's extra layers.",
        default=defaults.LEADING,
        when=(answer_is_not("panels", "single"),),
    ),
    _return(InWords("as much as reaches the wall"), has_answer("pole.projection")),
    _return(defaults.RETURN_WITHOUT_PROJECTION, has_no_answer("pole.projection")),
)

THE_EYELETS = (
    Question(
        "eyelet.outside",
        _EYELET,
        "Eyelet, across the outside of its flange?",
        "The whole ring from edge to edge. Measure a real one with a caliper; a box says what it "
        "is called, not always what it measures.",
        when=(EYELET_ASKED,),
    ),
    Question(
        "eyelet.opening",
        _EYELET,
        "Its opening, clear inside?",
        "Across the inside of the ring, where the pole goes through. It must be wider than the "
        "pole, by a good deal if the panel is to be drawn.",
        when=(EYELET_ASKED,),
    ),
    Question(
        "eyelet.hole",
        _EYELET,
        "The hole your die cuts in the cloth, wide enough for the ring's barrel?",
        "Punch one in scrap and measure across it, or measure the barrel, the part of the ring "
        "that goes through the cloth: it is wider than the opening by twice its wall. The hole is "
        "the heavy circle on the template.",
        default=InWords("not measured: the opening is taken, which is less than a barrel"),
        when=(EYELET_ASKED,),
    ),
    Question(
        "eyelet.thickness",
        _EYELET,
        "How thick is the closed ring, front to back?",
        "The depth of the opening, measured along the pole with the eyelet closed. A thick ring "
        "turns less on its pole.",
        default=InWords(
            f"{defaults.THICKNESS.words}, so the rings may turn less than is worked out"
        ),
        when=(EYELET_ASKED, ON_POLE),
    ),
    Question(
        "band.height",
        _EYELET,
        "Stiffener band, how high?",
        "The firm strip in the heading that the eyelets are set through.",
        default=InWords(
            f"the eyelet and {defaults.BAND_OVER_EYELET.words}",
            f"the eyelet and {defaults.BAND_OVER_EYELET.metric_words}",
        ),
        when=(EYELET_ASKED,),
    ),
    Question(
        "count",
        _EYELET,
        "How many eyelets in a panel?",
        "An even number on a pole, so that both ends turn to the wall. Left to the tool, they "
        "stand about one eyelet apart; `drapetemplate compare` shows the numbers side by side.",
        default=defaults.COUNT.words,
        kind="whole",
    ),
    Question(
        "eyelet.pack",
        _EYELET,
        "How many eyelets come in a pack?",
        "The order then says how many packs to buy.",
        default=NOT_KNOWN,
        kind="whole",
        when=(EYELET_ASKED,),
    ),
    Question(
        "eyelet.spares",
        _EYELET,
        "Spare eyelets, how many to buy over in the whole job?",
        "For all windows with this eyelet together: one will be set crooked.",
        default=defaults.SPARES.words,
        kind="whole",
        when=(EYELET_ASKED,),
    ),
    branch(
        "?eyelet",
        _EYELET,
        "More about the eyelets: gap aimed at, stack, weight, the band they are in (yes or no)?",
        "The gap you would like between eyelets; what an eyelet takes of the pole with the panel "
        "drawn back; where the eyelets stand in the band; what one weighs; how much band is "
        "on a roll.",
    ),
    Question(
        "gap",
        _EYELET,
        "What gap would you like between two eyelets, edge to edge?",
        "Cloth between the flanges of neighbours. The even number that comes nearest is taken; the "
        "exact gap follows from it.",
        default=InWords("about one eyelet apart"),
        when=(_MORE_EYELET, any_of(answer_is("count", "auto"), has_no_answer("count"))),
    ),
    Question(
        "stack_each",
        _EYELET,
        "How much pole does an eyelet take with the panel drawn back?",
        "Push ten rings of a made panel together, measure over them and divide by ten.",
        default=defaults.STACK_EACH,
        when=(_MORE_EYELET,),
    ),
    Question(
        "band.above",
        _EYELET,
        "From the panel's top edge to the top of the eyelets?",
        "Heading that stands above the rings.",
        default=InWords("eyelets in the middle of the band"),
        when=(_MORE_EYELET, EYELET_ASKED),
    ),
    Question(
        "eyelet.weight",
        _EYELET,
        "What does one eyelet weigh?",
        "With its unit, such as 12 g or 0.4 oz, for the weight of the panel.",
        default=NOT_KNOWN,
        kind="mass",
        when=(_MORE_EYELET, EYELET_ASKED),
    ),
    Question(
        "band.roll",
        _EYELET,
        "How much stiffener band is on a roll, such as 25 yd or 50 m?",
        "With its unit. It is then said how many rolls to buy, what each is cut into, and where "
        "two ends are spliced, clear of the eyelets.",
        default=InWords("not known, so no rolls and splices"),
        when=(_MORE_EYELET, EYELET_ASKED),
    ),
)
