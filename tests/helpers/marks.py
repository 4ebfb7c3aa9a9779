"""Marks by their kind and role, in the order they were drawn."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from drapetemplate.drawing.marks import Circle, Line, Mark, Text
from drapetemplate.drawing.roles import Role


class Drawn(Protocol):
    """A picture, a template, a page: whatever has marks."""

    @property
    def marks(self) -> Iterable[Mark]:
        """What is drawn."""


_Kind = TypeVar("_Kind", Circle, Line, Text)


def lines(drawn: Drawn | Iterable[Mark], *roles: Role) -> list[Line]:
    """The lines, of some roles or of all."""
    return _of(drawn, Line, roles)


def texts(drawn: Drawn | Iterable[Mark], *roles: Role) -> list[Text]:
    """The texts, of some roles or of all."""
    return _of(drawn, Text, roles)


def circles(drawn: Drawn | Iterable[Mark], *roles: Role) -> list[Circle]:
    """The circles, of some roles or of all."""
    return _of(drawn, Circle, roles)


def _of(drawn: Drawn | Iterable[Mark], kind: type[_Kind], roles: tuple[Role, ...]) -> list[_Kind]:
    marks = drawn if isinstance(drawn, Iterable) else drawn.marks
    return [mark for mark in marks if isinstance(mark, kind) and (not roles or mark.role in roles)]
