"""A page's answers from the text of a job file, by hand: no code of the package's own reads it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

TABLES = ("eyelet", "band", "pole", "fabric", "lining")
_CLOTH = {"fabric", "lining", "extra_seams"}
BRANCHES = (
    "?pole",
    "?eyelet",
    "?motif fabric",
    "?hems fabric",
    "?more fabric",
    "?hems lining",
    "?more lining",
)


def answers_of(toml: str) -> dict[str, str]:
    """Answers, by path, that say all that a job file says, every branch of the questions open."""
    raw = tomllib.loads(toml)
    answers = {"?job": "yes", "?paper": "yes"}
    if "units" in raw:
        answers["units"] = str(raw["units"])
    for table in ("job", "paper"):
        answers |= {
            f"{table}.{key}": typed(key, value) for key, value in raw.get(table, {}).items()
        }
    windows = raw["window"]
    for number, window in enumerate(windows, 1):
        at = f"window[{number}]."
        own = {key: value for key, value in window.items() if key not in TABLES}
        answers |= {f"{at}{key}": typed(key, value) for key, value in own.items()}
        answers |= {f"{at}{branch}": "yes" for branch in BRANCHES}
        answers |= {f"{at}{key}": word for key, word in steered(raw, window, number)}
        answers[f"{at}?another"] = "yes" if number < len(windows) else "no"
        for table in TABLES:
            given = window.get(table, {}) if number > 1 else raw.get(table, {})
            if isinstance(given, dict):
                where = at if number > 1 else ""
                answers |= {
                    f"{where}{table}.{key}": typed(key, value)
                    for key, value in given.items()
                    if value != "none"
                }
    return answers


def steered(raw: dict[str, Any], window: dict[str, Any], number: int) -> Iterator[tuple[str, str]]:
    """What a window answers to the questions that only steer."""
    route = next((key for key in ("widths", "width") if key in window), "covers")
    yield "?route", route
    counted = {table: {**raw.get(table, {}), **own(window, table)} for table in TABLES}
    yield "?cloth", "yes" if "fabric" in raw else "no"
    lined = "lining" in raw or "lining" in window
    yield "?lining", "no" if not lined or window.get("lining") == "none" else "yes"
    for table in ("fabric", "lining"):
        repeats = [counted[table].get(f"repeat_{way}", "none") for way in ("down", "across")]
        yield f"?pattern {table}", "no" if set(repeats) == {"none"} else "yes"
    if number > 1:
        yield "?same", "no"
        yield "?same pole", "no" if "pole" in window else "yes"
        yield "?same eyelet", "no" if {"eyelet", "band"} & set(window) else "yes"
        yield "?same cloth", "no" if _CLOTH & set(window) else "yes"


def own(window: dict[str, Any], table: str) -> dict[str, Any]:
    """A window's own keys of a table."""
    given = window.get(table, {})
    return given if isinstance(given, dict) else {}


def typed(key: str, value: object) -> str:
    """A value of a job file as someone types it into a page's field."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return " ".join(value)
    if key == "view":
        return "yes" if value == "back" else "no"
    return str(value)
