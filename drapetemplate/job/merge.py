"""A job file's tables in, one `Merged` a window out: its own values over the file's."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from drapetemplate.job.parse import path_of
from drapetemplate.job.tables import (
    TABLES,
    BandTable,
    EyeletTable,
    FabricTable,
    JobFile,
    LiningTable,
    PoleTable,
    WindowTable,
)
from drapetemplate.job.toml_lines import Place

_BRACKETS = frozenset({"supports", "span"})
"""The two keys that say how many brackets a pole has."""

_T = TypeVar("_T", EyeletTable, BandTable, PoleTable, FabricTable, LiningTable)
_Cloth = TypeVar("_Cloth", FabricTable, LiningTable)


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged:
    """One window and the tables that count for it; `key` is its path, "window[1]" the first.

    `number` is which window of the job it is, from 1: one without a name is called by it.
    `own` holds the keys of those tables the window gives itself, `unreadable` those whose value
    has a fault already and is None here.
    """

    key: str
    number: int
    window: WindowTable
    eyelet: EyeletTable
    band: BandTable
    pole: PoleTable
    fabric: FabricTable | None
    lining: LiningTable | None
    own: frozenset[str]
    unreadable: frozenset[str]

    def path(self, *keys: str) -> str:
        """Return the key path to blame: of the first key the window gives, else of the first."""
        given = (key for key in keys if key in self.own)
        blamed = next(given, keys[0])
        return f"{self.key}.{blamed}" if blamed in self.own or "." not in blamed else blamed

    def readable(self, *keys: str) -> bool:
        """Return whether none of these keys has a fault already."""
        return self.unreadable.isdisjoint(keys)


def merge(file: JobFile, unreadable: frozenset[Place]) -> list[Merged]:
    """Return every window of a file with its tables laid over the file's, key by key."""
    return [_merged(file, n, unreadable) for n in range(len(file.window))]


def _merged(file: JobFile, n: int, unreadable: frozenset[Place]) -> Merged:
    window = file.window[n]
    own: set[str] = set()
    bad = {str(place[2]) for place in unreadable if place[:2] == ("window", n) and len(place) == 3}
    for table in ("eyelet", "band", "pole", "fabric", "lining"):
        given = getattr(window, table)
        own_keys = given.model_fields_set if given else set()
        own |= {f"{table}.{key}" for key in own_keys}
        for key in TABLES[table].model_fields:
            places: set[Place] = {("window", n, table), ("window", n, table, key)}
            if key not in own_keys:
                places |= {(table,), (table, key)}
            if not unreadable.isdisjoint(places):
                bad.add(f"{table}.{key}")
    faulty = frozenset(bad)
    return Merged(
        key=path_of(("window", n)),
        number=n + 1,
        window=window,
        eyelet=_over("eyelet", file.eyelet, window.eyelet, faulty),
        band=_over("band", file.band, window.band, faulty),
        pole=_pole_over(file.pole, window.pole, faulty),
        fabric=_cloth_over(FabricTable, "fabric", file.fabric, window.fabric, faulty),
        lining=None
        if _takes_back(window, "lining")
        else _cloth_over(LiningTable, "lining", file.lining, window.lining, faulty),
        own=frozenset(own),
        unreadable=faulty,
    )


def _takes_back(window: WindowTable, table: str) -> bool:
    """Return whether a window says that it has none of a table, whatever the file's own says."""
    return table in window.model_fields_set and getattr(window, table) is None


def _over(name: str, shared: _T, own: _T, faulty: frozenset[str]) -> _T:
    """Return a window's own table laid over the file's; a value with a fault becomes None.

    A key that the window gives as none is None too, whatever the file says of it.
    """
    update = {key: getattr(own, key) for key in own.model_fields_set}
    update |= {key: None for key in TABLES[name].model_fields if f"{name}.{key}" in faulty}
    return shared.model_copy(update=update)


def _pole_over(shared: PoleTable, own: PoleTable, faulty: frozenset[str]) -> PoleTable:
    """Return a window's own pole laid over the file's.

    Its own `supports` or `span` takes the place of either that the file has.
    """
    given = own.model_fields_set & _BRACKETS
    if given:
        shared = shared.model_copy(update=dict.fromkeys(_BRACKETS - given))
    return _over("pole", shared, own, faulty)


def _cloth_over(
    table: type[_Cloth],
    name: str,
    shared: _Cloth | None,
    own: _Cloth | None,
    faulty: frozenset[str],
) -> _Cloth | None:
    if shared is None and own is None:
        return None
    return _over(name, shared or table(), own or table(), faulty)
