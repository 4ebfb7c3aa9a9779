"""What stands at a join on its sheets: its name, and what its lap isn't clear of."""

from __future__ import annotations

from drapetemplate.sheets.joins import Clear

# What a join's name says where its lap isn't clear of the eyelets, and the mm the name may take.
CROSSED: dict[Clear, str] = {
    "outside": "",
    "hole": " flange in lap",
    "hole only": " flange cut",
    "whole": " hole in lap",
    "hole whole": " flange cut, hole in lap",
    "cut": " hole cut",
}
JOIN_NAME = 23
LONG_JOIN_NAME = 47
LONGEST_JOIN_NAME = 63


def join_name(name: str, clear: Clear, *, at_left: bool) -> str:
    """A join's name with an arrow toward its line, and what its lap isn't clear of.

    >>> join_name("join 2", "outside", at_left=True), join_name("join 2", "cut", at_left=False)
    ('← join 2', 'hole cut: join 2 →')
    """
    crossed = CROSSED[clear]
    if at_left:
        return f"← {name}{crossed}"
    return f"{crossed.strip()}: {name} →" if crossed else f"{name} →"


def name_room(clear: Clear) -> int:
    """The mm that the name of a join may take whose lap is so clear."""
    if clear == "hole whole":
        return LONGEST_JOIN_NAME
    return JOIN_NAME if clear == "outside" else LONG_JOIN_NAME


def crossed_words(kind: Clear, *, hole: bool) -> str:
    """What a lap crosses in words, on a sheet that shows the `hole` or only some of the flange."""
    if hole or kind == "outside":
        return CROSSED[kind]
    return CROSSED["hole" if kind in {"hole", "whole"} else "hole only"]
