"""Random job files, small ones: valid but for a few that the reading or the plan refuses.

What a job says is kept beside its text only where `plan --json` doesn't tell it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor
from typing import Literal, get_args

from hypothesis import strategies as st

from drapetemplate.job.factors import Factors

Kind = Literal["sheets", "lanes", "rows", "roll", "one", "stepping", "windows"]
KINDS: tuple[Kind, ...] = get_args(Kind)

IN = Fraction(254, 10)
# A step of each unit: a sixteenth, half a millimetre, half of one again.
STEPS = {"in": IN / 16, "mm": Fraction(1, 2), "cm": Fraction(1, 2)}
# Paper, and how much strip one sheet of it shows at least, in mm.
PAPERS = {
    "letter": 150,
    "a4": 150,
    "legal": 150,
    "tabloid": 200,
    "7 x 8 in": 100,
    "200 x 330 mm": 130,
    "24 in roll": 1000,
    "260 mm roll": 1000,
}


@dataclass(frozen=True)
class Said:
    """A length as TOML text, and what it is in mm."""

    text: str
    mm: Fraction


@dataclass(frozen=True)
class AnyWindow:
    """What `plan --json` doesn't say of a window: cloth above its eyelets; None: centred."""

    name: str
    above: Fraction | None


@dataclass(frozen=True)
class AnyJob:
    """A job file, the printer it is made for, and what its template must look like."""

    toml: str
    factors: Factors | None
    windows: tuple[AnyWindow, ...]
    letters: tuple[str, str]
    view: str
    kind: Kind

    @property
    def scale(self) -> tuple[float, float]:
        """What the file is stretched by across and down the page."""
        fix = self.factors
        return (1.0, 1.0) if fix is None else (float(fix.across), float(fix.down))


def lengths(low: float, high: float, units: str) -> st.SearchStrategy[Said]:
    """Lengths from `low` to `high` mm: mostly bare numbers in `units`, some with a unit."""
    own = [units] * 4 + ["in", "mm", "cm"]
    return st.sampled_from(own).flatmap(lambda unit: _in(unit, low, high, bare=unit == units))


def _in(unit: str, low: float, high: float, *, bare: bool) -> st.SearchStrategy[Said]:
    step = STEPS[unit]
    least, most = ceil(Fraction(low) / step), floor(Fraction(high) / step)
    return st.integers(least, max(least, most)).map(lambda n: Said(_text(n, unit, bare), n * step))


def _text(n: int, unit: str, bare: bool) -> str:  # noqa: FBT001  # one of two ways to write it
    if unit == "in":
        whole, part = divmod(n, 16)
        words = f"{whole} {part}/16" if part else f"{whole}"
        return f'"{words}"' if bare else f'"{words} in"'
    number = f"{n / 2:.1f}" if unit == "mm" else f"{n / 20:.2f}"
    return number if bare else f'"{number} {unit}"'


@st.composite
def jobs(draw: st.DrawFn, kind: Kind) -> AnyJob:
    """Whole jobs that have what `kind` says; all else is any."""
    units = draw(st.sampled_from(["in", "mm", "cm"]))
    paper, told = draw(_papers(kind, units))
    names = ["W1"]
    if kind == "windows":
        names = ["W1", "W2", "W3"][: draw(st.sampled_from([2, 2, 3]))]
    alike = draw(st.booleans())
    panels = draw(st.sampled_from(["pair", "left", "right", "single"]))
    panels = "pair" if kind == "one" else panels
    strips = (1 if alike else len(names)) * (2 if panels == "pair" and kind != "one" else 1)
    room = PAPERS[paper] * (3 if kind == "rows" else 6) / strips
    ring = draw(_rings(units, room))
    band, above = draw(_bands(kind, ring[0], units))
    counts = [8, 8, 10] if kind == "stepping" else [None, 2, 4, 4, 6, 8, 10, 5]
    body = draw(_bodies(panels, ring[0], room, units, counts))
    text = [f'units = "{units}"\n[job]\nname = "Heron Point, anywhere"', told.toml, ring[1]]
    text += [band, *draw(_tables(ring[0], units))]
    windows = []
    for n, name in enumerate(names):
        own, high = "", above
        if n and not alike:
            body = draw(_bodies(panels, ring[0], room, units, counts))
            if draw(st.booleans()):
                own, said = draw(_bands(kind, ring[0], units, key="window.band"))
                high = above if said is None else said
        made = draw(st.integers(1, 3))
        text.append(f'[[window]]\nname = "{name}"\nquantity = {made}\n{body}{own}')
        windows.append(AnyWindow(name, high))
    return AnyJob(
        "\n".join(text) + "\n", told.factors, tuple(windows), told.letters, told.view, kind
    )


@dataclass(frozen=True)
class _Paper:
    toml: str
    factors: Factors | None
    letters: tuple[str, str]
    view: str


@st.composite
def _papers(draw: st.DrawFn, kind: Kind, units: str) -> tuple[str, _Paper]:
    """The [paper] table, every key of it, and a printer's factors for half of the jobs."""
    rolls = kind == "roll"
    size = draw(st.sampled_from([paper for paper in PAPERS if ("roll" in paper) == rolls]))
    turns = {"roll": ["auto", "landscape"], "rows": ["landscape", "landscape", "auto"]}
    turn = draw(st.sampled_from(turns.get(kind, ["auto", "portrait", "landscape"])))
    margin, overlap = draw(lengths(5, 15, units)), draw(lengths(7, 25, units))
    joins = draw(st.sampled_from(["even", "clear"]))
    view = draw(st.sampled_from(["face", "back"]))
    letters = draw(st.sampled_from([("F", "B"), ("V", "H"), ("out", "in")]))
    words = (
        f'[paper]\nsize = "{size}"\norientation = "{turn}"\nmargin = {margin.text}\n'
        f'overlap = {overlap.text}\njoins = "{joins}"\nview = "{view}"\n'
        f'strips = "{"one" if kind == "one" else "each"}"\n'
        f'style = "{"stepping" if kind == "stepping" else "whole"}"\n'
        f'letters = ["{letters[0]}", "{letters[1]}"]'
    )
    factors = None
    if draw(st.booleans()):
        across, down = draw(st.integers(970, 1030)), draw(st.integers(970, 1030))
        factors = Factors("workroom laser", Fraction(across, 1000), Fraction(down, 1000))
    return size, _Paper(words, factors, letters, view)


@st.composite
def _rings(draw: st.DrawFn, units: str, room: float) -> tuple[Said, str]:
    """An eyelet: how wide, and its table."""
    outside = draw(lengths(14, min(80, room / 5), units))
    wide = float(outside.mm)
    opening = draw(lengths(wide * 0.4, wide * 0.75, units))
    words = f"[eyelet]\noutside = {outside.text}\nopening = {opening.text}\n"
    if draw(st.booleans()):
        words += f"hole = {draw(lengths(float(opening.mm), wide * 0.85, units)).text}\n"
    if draw(st.booleans()):
        words += (
            f'thickness = "3 mm"\nweight = "12 g"\npack = 8\nspares = {draw(st.integers(0, 4))}\n'
        )
    if draw(st.integers(0, 3)) == 0:
        words += 'hung = "hooks"\n'
    return outside, words


@st.composite
def _bands(
    draw: st.DrawFn, kind: Kind, outside: Said, units: str, key: str = "band"
) -> tuple[str, Fraction | None]:
    """A band, low for lanes and higher than a sheet for rows; and the cloth above, or None."""
    wide = float(outside.mm)
    low, most = {"lanes": (wide + 3, wide + 12), "rows": (210, 320)}.get(
        kind, (wide + 3, wide + 90)
    )
    high = draw(lengths(low, most, units))
    words = f"[{key}]\nheight = {high.text}\n"
    if draw(st.booleans()) or key != "band":
        above = draw(lengths(0, float(high.mm - outside.mm), units))
        return f"{words}above = {above.text}\n", above.mm
    return words, None


@st.composite
def _bodies(
    draw: st.DrawFn,
    panels: str,
    outside: Said,
    room: float,
    units: str,
    counts: Sequence[int | None],
) -> str:
    """A window's own keys, its width said in one of three ways and about `room` mm at most."""
    words = f'panels = "{panels}"\n'
    leading, return_ = draw(lengths(0, 60, units)), draw(lengths(0, 90, units))
    if panels != "single":
        words += f"leading = {leading.text}\n"
    if draw(st.integers(0, 3)):
        words += f"return = {return_.text}\n"
    count = draw(st.sampled_from(counts))
    words += "" if count is None else f"count = {count}\n"
    # Ends of 180 mm at most, and 8 mm at least from eyelet to eyelet.
    least = 180 + (count or 2) * (float(outside.mm) + 8) + 30
    most = max(room, least + 60)
    if draw(st.integers(0, 2)) == 0:
        words += f"glass = {draw(lengths(least / 2, most / 2, units)).text}\n"
    way = draw(st.sampled_from(["width", "width", "covers", "widths"]))
    if way == "width":
        words += f"width = {draw(lengths(least, most, units)).text}\n"
    elif way == "covers":
        fullness = Fraction(draw(st.integers(12, 30)), 10)
        covers = draw(lengths(float(least / fullness), float(most / fullness), units))
        words += f'covers = {covers.text}\nfullness = "{float(fullness)}"\n'
    else:
        number = draw(st.sampled_from([1, 1.5, 2]))
        cloth = draw(lengths((least + 90) / number, (most + 90) / number, units))
        words += f"widths = {number}\n[window.fabric]\nwidth = {cloth.text}\n"
        words += 'seam = "5 mm"\nside_hem = "40 mm"\n'
    return words


@st.composite
def _tables(draw: st.DrawFn, outside: Said, units: str) -> list[str]:
    """Pole and cloth, where the job says anything of them."""
    tables = []
    if draw(st.booleans()):
        words = (
            f'[pole]\ndiameter = "{float(outside.mm) / 5:.1f} mm"\n'
            f"projection = {draw(lengths(60, 140, units)).text}\n"
            f"top = {draw(lengths(2000, 2600, units)).text}\n"
        )
        words += draw(
            st.sampled_from(["", 'off_floor = "-20 mm"\n', "supports = 2\n", 'span = "400 mm"\n'])
        )
        tables.append(words)
    for part in ("fabric", "lining"):
        if draw(st.integers(0, 3)) == 0:
            words = f"[{part}]\nwidth = {draw(lengths(250, 1500, units)).text}\n"
            words += f"seam = {draw(lengths(5, 15, units)).text}\n"
            words += f"side_hem = {draw(lengths(20, 80, units)).text}\n"
            if draw(st.booleans()):
                words += f"repeat_across = {draw(lengths(40, 200, units)).text}\n"
            if draw(st.booleans()):
                words += 'repeat_down = "300 mm"\nweight = "250 gsm"\nshrinkage = "3 %"\n'
            tables.append(words)
    return tables
