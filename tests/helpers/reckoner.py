"""A second reckoning of a job, from the trade's rules and plain sums, that shares no code.

It knows a job as the words of its file, and reckons what a careful person with a calculator would:
lengths as fractions of an inch or of a millimetre, whatever the file's unit, and each fold by
SciPy's quadrature of the elastica's own integrals.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from math import acos, ceil, cos, degrees, pi, radians, sin, sqrt
from typing import Literal

from scipy.integrate import quad
from scipy.optimize import brentq

Unit = Literal["in", "mm"]


@dataclass(frozen=True, kw_only=True)
class Goods:
    """A cloth: lengths in the file's unit, weight in grams for a square metre."""

    width: Fraction
    seam: Fraction
    side_hem: Fraction | None
    bottom_hem: Fraction | None
    heading: Fraction | None
    repeat_down: Fraction | None
    repeat_across: Fraction | None
    railroad: bool
    allowance: Fraction | None
    shrinkage: Fraction
    weight: int


@dataclass(frozen=True, kw_only=True)
class Lining(Goods):
    """A lining, and how it hangs behind its face."""

    bagged: bool
    set_in: Fraction | None
    short: Fraction | None


@dataclass(frozen=True, kw_only=True)
class Sewn:
    """What a cloth comes to on its panel: finished size, and what it takes at each edge."""

    across: Fraction
    down: Fraction | None
    side: Fraction
    top: Fraction
    foot: Fraction


@dataclass(frozen=True, kw_only=True)
class Asked:
    """One window as its file says it; None where it doesn't. Lengths are in the file's unit."""

    unit: Unit
    hooks: bool
    panels: str
    quantity: int
    outside: Fraction
    opening: Fraction
    grams: int
    band: Fraction | None
    diameter: Fraction | None
    projection: Fraction | None
    pole: Fraction | None
    top: Fraction | None
    width: Fraction | None
    widths: Fraction | None
    covers: Fraction | None
    fullness: Fraction | None
    length: Fraction | None
    leading: Fraction | None
    return_: Fraction | None
    count: int | None
    gap: Fraction | None
    fabric: Goods | None
    lining: Lining | None
    folds: bool = False

    def toml(self) -> str:
        """The job file."""
        lines = [f'units = "{self.unit}"', "[job]", 'name = "Heron Point, reckoned"', "[eyelet]"]
        lines += _said(outside=self.outside, opening=self.opening, hole=self.opening)
        lines += ['hung = "hooks"'] if self.hooks else []
        lines += [f'weight = "{self.grams} g"', "[band]", *_said(height=self.band), "[pole]"]
        lines += _said(diameter=self.diameter, projection=self.projection)
        lines += _said(length=self.pole, top=self.top)
        for name, goods in (("fabric", self.fabric), ("lining", self.lining)):
            if goods is not None:
                lines += [f"[{name}]", *_cloth(goods)]
        lines += ["[[window]]", f'panels = "{self.panels}"', f"quantity = {self.quantity}"]
        lines += _said(width=self.width, covers=self.covers, length=self.length)
        lines += [] if self.widths is None else [f"widths = {float(self.widths)}"]
        lines += [] if self.fullness is None else [f"fullness = {float(self.fullness)}"]
        lines += [] if self.count is None else [f"count = {self.count}"]
        lines += ['pattern = "folds"'] if self.folds else []
        lines += _said(leading=self.leading, gap=self.gap) + _said(**{"return": self.return_})
        return "\n".join(lines) + "\n"


def _said(**lengths: Fraction | None) -> list[str]:
    return [f'{key} = "{_mixed(value)}"' for key, value in lengths.items() if value is not None]


def _mixed(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    return f"{whole} {part}" if whole and part else f"{part or whole}"


def _cloth(goods: Goods) -> list[str]:
    lines = _said(
        width=goods.width,
        seam=goods.seam,
        side_hem=goods.side_hem,
        bottom_hem=goods.bottom_hem,
        heading=goods.heading,
        repeat_down=goods.repeat_down,
        repeat_across=goods.repeat_across,
        allowance=goods.allowance,
    )
    if isinstance(goods, Lining):
        lines += ['joined = "bagged"'] if goods.bagged else []
        lines += _said(set_in=goods.set_in, short=goods.short)
    lines += [f"railroad = {'true' if goods.railroad else 'false'}"]
    lines += [f"shrinkage = {float(goods.shrinkage)}", f'weight = "{goods.weight} gsm"']
    return lines


def rounded_up(value: Fraction, step: Fraction) -> Fraction:
    """The least whole number of steps that is no less."""
    return ceil(value / step) * step


@dataclass(frozen=True)
class Bend:
    """One gap's shape at a ring's angle: pole taken by a pitch, and depth off the axis."""

    angle: float
    pole: float
    depth: float


def bend(pitch: float, outside: float, angle: float) -> Bend:
    """The shape of a gap whose rings stand at `angle` radians to the pole.

    The cloth's slope psi along the gap follows lambda * ds = dphi / sqrt(1 - k^2 sin^2 phi), with
    sin(psi / 2) = k sin phi; its pole is the integral of cos psi ds.
    """
    lever = outside / 2 * sin(angle)
    half = (pitch - outside) / 2

    def modulus(wave: float) -> float:
        return sqrt(sin(angle / 2) ** 2 + (wave * lever / 2) ** 2)

    def integral(wave: float, *, along: bool) -> float:
        """Of ds, or of the pole along it, times lambda; from mid-gap to the ring.

        Taken over sin(phi) / sin(phi0) = sin(u), which keeps the root out of the end.
        """
        k = modulus(wave)
        end = sin(angle / 2) / k

        def grow(u: float) -> float:
            sine = end * sin(u)
            speed = end * cos(u) / sqrt(1 - sine**2) / sqrt(1 - (k * sine) ** 2)
            return speed * (1 - 2 * (k * sine) ** 2) if along else speed

        return float(quad(grow, 0, pi / 2, epsabs=1e-13, epsrel=1e-12)[0])

    low = 1e-9 / half
    high = 1 / half
    while integral(high, along=False) > high * half:
        high *= 2
    wave = brentq(lambda x: integral(x, along=False) - x * half, low, high, xtol=1e-15)
    pole = outside * cos(angle) + 2 * integral(wave, along=True) / wave
    return Bend(angle, pole, 2 * modulus(wave) / wave)


def bend_of(pitch: float, outside: float, fullness: float) -> Bend:
    """The shape of a gap that takes pitch / fullness of pole."""
    if fullness == 1:
        return Bend(0, pitch, 0)
    angle = brentq(
        lambda a: bend(pitch, outside, a).pole - pitch / fullness, 1e-6, radians(150), xtol=1e-12
    )
    return bend(pitch, outside, angle)


@dataclass(frozen=True)
class Reckoned:
    """What a window comes to; lengths in the file's unit, `None` where nothing says."""

    asked: Asked
    tried: dict[Fraction, tuple[int, Fraction, float | None]] = field(default_factory=dict)

    @property
    def step(self) -> Fraction:
        """What a return is rounded up to."""
        return Fraction(1, 16) if self.asked.unit == "in" else Fraction(1)

    def usual(self, inches: Fraction | int | str, millimetres: int) -> Fraction:
        """A length that a job in inches has by custom, or a metric one, in the file's unit."""
        return Fraction(inches if self.asked.unit == "in" else millimetres)

    @cached_property
    def return_(self) -> Fraction:
        """The return: given, or the shortest that reaches the wall as the panel hangs closed."""
        asked = self.asked
        if asked.return_ is not None:
            return asked.return_
        if asked.projection is None:
            return self.usual(3, 75)
        least = rounded_up(self.usual("3/2", 40), self.step)
        b = max(least, rounded_up(asked.projection - asked.outside / 2, self.step))
        while b < self.reach_wanted(b):
            b += self.step
        return b

    def reach_wanted(self, b: Fraction) -> float:
        """The return that reaches the wall where the panel is made with a return of `b`."""
        asked = self.asked
        assert asked.projection is not None
        _, pitch, fullness = self.with_return(b)
        angle = pi / 4  # on hooks nothing holds a ring at an angle
        if fullness is not None and not asked.hooks:
            angle = bend_of(float(pitch), float(asked.outside), fullness).angle
        return float(asked.projection) - float(asked.outside) / 2 * sin(angle)

    def with_return(self, b: Fraction) -> tuple[int, Fraction, float | None]:
        """Count, pitch and fullness (None: nothing says) with a return of `b`."""
        if b not in self.tried:
            self.tried[b] = self._with_return(b)
        return self.tried[b]

    def _with_return(self, b: Fraction) -> tuple[int, Fraction, float | None]:
        asked = self.asked
        width = self.width_with(b)
        count = asked.count or self._best_count(width, b)
        span = width - self.leading_with(b) - b - asked.outside
        pitch = span / (count - 1)
        fullness, covers = asked.fullness, self.covers
        if fullness is None and covers is not None:
            fullness = span / covers
        elif fullness is not None:
            covers = span / fullness
        best = self._on_folds(span, covers, pitch) if asked.folds else None
        if best is not None:
            count, pitch = best
            fullness = None if covers is None else (count - 1) * pitch / covers
        return count, pitch, None if fullness is None else float(fullness)

    def _on_folds(
        self, cloth: Fraction, covers: Fraction | None, asked_pitch: Fraction
    ) -> tuple[int, Fraction] | None:
        """The count and pitch of whole half repeats with cloth nearest to so much; None if none is.

        No less than nine tenths of it, nor than what is covered; off the wall, where that is known,
        or else with gaps up to twice the one wanted, unless the count is given. Where the panel
        asked for closes on its pole, one that closes goes before one that doesn't.
        """
        asked = self.asked
        assert asked.fabric is not None
        assert asked.fabric.repeat_across is not None
        half = asked.fabric.repeat_across / 2
        want = self._gap_wanted()
        longest = None if asked.count else asked.outside + 2 * want
        if asked.projection is not None:
            longest = 2 * (asked.projection - self.usual("1/2", 12))
        found = []
        for n in (asked.count,) if asked.count else range(2, 200, 2):
            for halves in range(1, 400):
                pitch = halves * half
                flat = (n - 1) * pitch
                if longest is not None and pitch > longest:
                    break
                if pitch < asked.outside + self.usual(1, 25):
                    continue
                if flat >= cloth * Fraction(9, 10) and flat >= (covers or 0):
                    found.append((abs(flat - cloth), abs(pitch - asked.outside - want), -n, pitch))
                if flat > 2 * cloth + 2 * half:
                    break
        if not found:
            return None
        found.sort()
        if covers is not None and self._closes(asked_pitch, cloth / covers):
            closing = (
                each for each in found if self._closes(each[3], (-each[2] - 1) * each[3] / covers)
            )
            found[0] = next(closing, found[0])
        _, _, minus_n, pitch = found[0]
        return -minus_n, pitch

    def _closes(self, pitch: Fraction, fullness: Fraction) -> bool:
        """Whether rings turned as far as they go let the panel be as flat as that."""
        if self.turns is None:
            return True
        across = float(self.asked.outside)
        flattest = bend(float(pitch), across, pi / 2 - radians(self.turns[1]))
        return float(fullness) * (1 + 1e-9) >= float(pitch) / flattest.pole

    @property
    def covers(self) -> Fraction | None:
        """The pole that a panel covers: given, or its share of the pole."""
        if self.asked.covers is not None or self.asked.pole is None:
            return self.asked.covers
        flat = self.asked.width is not None or self.asked.widths is not None
        if self.asked.fullness is not None and flat:
            return None
        return self.asked.pole / (2 if self.asked.panels == "pair" else 1)

    def leading_with(self, b: Fraction) -> Fraction:
        """The cloth before the first eyelet: of a single panel, a return as well."""
        if self.asked.panels == "single":
            return b
        return self.asked.leading or self.usual("3/2", 40)

    def width_with(self, b: Fraction) -> Fraction:
        """The finished width with a return of `b`."""
        asked = self.asked
        if asked.width is not None:
            return asked.width
        if asked.widths is not None:
            cloth = asked.fabric
            assert cloth is not None
            sewn = 2 * cloth.seam * (ceil(asked.widths) - 1)
            hem = self.usual(3, 75) if cloth.side_hem is None else cloth.side_hem
            return asked.widths * cloth.width - sewn - 2 * hem
        assert asked.fullness is not None
        assert self.covers is not None
        return asked.fullness * self.covers + self.leading_with(b) + b + asked.outside

    def _best_count(self, width: Fraction, b: Fraction) -> int:
        """The even count whose gap comes nearest the one wanted, off the wall where it can be."""
        asked = self.asked
        free = width - self.leading_with(b) - b
        gaps = {}
        for n in range(2, 400, 2):
            gap = (free - n * asked.outside) / (n - 1)
            if gap >= self.usual(1, 25):
                gaps[n] = gap
        if not gaps:
            return 2
        if asked.projection is not None and not asked.hooks:
            room = asked.projection - self.usual("1/2", 12)
            off = {n: gap for n, gap in gaps.items() if (gap + asked.outside) / 2 <= room}
            gaps = off or {max(gaps): gaps[max(gaps)]}
        want = self._gap_wanted()
        return min(gaps, key=lambda n: (abs(gaps[n] - want), -n))

    def _gap_wanted(self) -> Fraction:
        asked = self.asked
        if asked.gap is not None:
            return asked.gap
        if asked.hooks or asked.opening < self.usual("13/16", 20):
            return self.usual(6, 150) - asked.outside
        if self.length is not None and self.length >= self.usual(120, 3000):
            return asked.outside * 3 / 2
        return asked.outside

    @property
    def band(self) -> Fraction:
        """The band's height."""
        return self.asked.band or self.asked.outside + self.usual(2, 50)

    @property
    def length(self) -> Fraction | None:
        """Finished: given, or from the pole's top to half an inch or 12 mm off the floor."""
        asked = self.asked
        if asked.length is not None or asked.top is None or asked.hooks:
            return asked.length
        above_pole = self.band / 2 - asked.opening / 2
        return asked.top + above_pole - self.usual("1/2", 12)

    @property
    def count(self) -> int:
        """Eyelets of a panel."""
        return self.with_return(self.return_)[0]

    @property
    def pitch(self) -> Fraction:
        """One centre to the next."""
        return self.with_return(self.return_)[1]

    @property
    def fullness(self) -> float | None:
        """Closed; None where nothing says."""
        return self.with_return(self.return_)[2]

    @property
    def width(self) -> Fraction:
        """Of a panel, finished."""
        b = self.return_
        flat = (self.count - 1) * self.pitch
        return flat + self.leading_with(b) + b + self.asked.outside

    @cached_property
    def closed(self) -> Bend:
        """The fold of the closed panel, at twice the pole where nothing says."""
        return bend_of(float(self.pitch), float(self.asked.outside), self.fullness or 2.0)

    @property
    def turns(self) -> tuple[float, float] | None:
        """How far a ring turns, hanging by its top and at most; None without a pole's diameter.

        The thickness isn't known, so it is none.
        """
        asked = self.asked
        if asked.diameter is None or asked.hooks:
            return None
        share = float(asked.diameter / asked.opening)
        return degrees(acos(sqrt(share))), degrees(acos(share))

    @property
    def short_of_wall(self) -> float:
        """How far the panel's end stays off the wall, as it hangs closed; 0 or less: it reaches."""
        if self.asked.projection is None or self.asked.hooks:
            return 0.0
        return self.reach_wanted(self.return_) - float(self.return_)

    def sewn(self, goods: Goods) -> Sewn:
        """A cloth on its panel: what it says, or else what the trade does.

        A face turns twice its band over at the top. A lining is caught under that turn; hung
        loose it hangs 1 1/2 in within the face at each side and 1 in above its hem, with hems of
        1 1/2 in and 4 in; bagged it is the face's size, and a seam joins them.
        """

        def or_else(given: Fraction | None, usual: Fraction) -> Fraction:
            return usual if given is None else given

        if not isinstance(goods, Lining):
            return Sewn(
                across=self.width,
                down=self.length,
                side=or_else(goods.side_hem, self.usual(3, 75)),
                top=or_else(goods.heading, 2 * self.band),
                foot=or_else(goods.bottom_hem, self.usual(8, 200)),
            )
        none = Fraction(0)
        within = or_else(goods.set_in, none if goods.bagged else self.usual("3/2", 40))
        above = or_else(goods.short, none if goods.bagged else self.usual(1, 25))
        side = goods.seam if goods.bagged else self.usual("3/2", 40)
        foot = goods.seam if goods.bagged else self.usual(4, 100)
        return Sewn(
            across=self.width - within - within,
            down=None if self.length is None else self.length - above,
            side=or_else(goods.side_hem, side),
            top=or_else(goods.heading, none),
            foot=or_else(goods.bottom_hem, foot),
        )

    def cut(self, goods: Goods) -> Fraction | None:
        """One drop along the cloth as a table cuts it, or one panel's run of turned cloth."""
        step = Fraction(1, 8) if self.asked.unit == "in" else Fraction(1)
        wanted = self.run(goods) if goods.railroad else self.raw_length(goods)
        if wanted is None:
            return None
        if goods.repeat_down is not None:
            wanted = rounded_up(wanted, goods.repeat_down)
        return rounded_up(wanted, step)

    def raw_length(self, goods: Goods) -> Fraction | None:
        """Finished length, heading and hem, enlarged for what the cloth will shrink."""
        sewn = self.sewn(goods)
        if sewn.down is None:
            return None
        return (sewn.down + sewn.top + sewn.foot) * (1 + goods.shrinkage)

    def raw_width(self, goods: Goods) -> Fraction:
        """Flat, with its side hems."""
        sewn = self.sewn(goods)
        return sewn.across + sewn.side + sewn.side

    def run(self, goods: Goods) -> Fraction:
        """A flat panel's width with its side hems, enlarged likewise."""
        return self.raw_width(goods) * (1 + goods.shrinkage)

    @property
    def panels(self) -> int:
        """Panels of the window in all."""
        return self.asked.quantity * (2 if self.asked.panels == "pair" else 1)

    def order(self, goods: Goods, drops: int) -> tuple[Fraction, Fraction] | None:
        """What so many drops take, and what is bought: yards in quarters, or metres in tenths."""
        cut = self.cut(goods)
        if cut is None:
            return None
        usual = Fraction(4) if self.asked.unit == "in" else Fraction(100)
        total = drops * cut
        bought = total + (usual if goods.allowance is None else goods.allowance)
        bought += goods.repeat_down or 0
        if self.asked.unit == "in":
            return total, rounded_up(bought / 36, Fraction(1, 4))
        return total, rounded_up(bought / 1000, Fraction(1, 10))

    @property
    def kilograms(self) -> float | None:
        """One panel: its cloth as it hangs, lining and eyelets; None without cloth or length."""
        if self.asked.fabric is None or self.length is None:
            return None
        total = float(self.count * self.asked.grams)
        metre = 1000 / (25.4 if self.asked.unit == "in" else 1)
        for goods in (self.asked.fabric, self.asked.lining):
            if goods is not None:
                high = self.raw_length(goods)
                assert high is not None
                total += float(self.raw_width(goods) * high) / metre**2 * goods.weight
        return total / 1000
