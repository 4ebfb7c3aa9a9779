"""Answers in, what the job file that gives them says of the job and of each of its windows out.

Two files say the same where these are equal, however they share it out between their own tables and
those of their windows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.from_file import CLOTHS, SHARED
from drapetemplate.interview.job_text import windows_in
from drapetemplate.interview.question import YES_NO, Answers
from drapetemplate.job.fields import NONE
from drapetemplate.job.tables import TABLES, keys_of

Texts = Mapping[str, str]

SHARED_KEYS = tuple(f"{table}.{key}" for table in SHARED for key in keys_of(table))
WINDOW_KEYS = tuple(key for key in keys_of("window") if key not in TABLES)


@dataclass(frozen=True, slots=True)
class Says:
    """What answers say: text by key, as "units", "paper.size", and of a window "width", "pole.top".

    Keys at their default aren't there. A window that has a cloth has its table's name too.
    """

    job: Texts
    windows: tuple[Texts, ...]


def what_is_said(answers: Mapping[str, str]) -> Says:
    """Return what answers, by path, say, so far as they count."""
    return said_by(asked_of_all(answers).counted)


def said_by(counted: Mapping[str, str]) -> Says:
    """Return what answers say of which all count, as `asked_of_all` picks them out."""
    job = {
        path: text
        for path, text in counted.items()
        if text and (path == "units" or path.startswith(("job.", "paper.")))
    }
    numbers = range(1, windows_in(counted) + 1)
    return Says(job, tuple(_of_window(Answers(counted, number)) for number in numbers))


def _of_window(window: Answers) -> dict[str, str]:
    first = Answers(window.by_path, 1)
    said = {key: window.own(key) for key in WINDOW_KEYS}
    said |= {key: NONE if window.takes_back(key) else window.text(key) for key in SHARED_KEYS}
    for table, opening in zip(CLOTHS, ("?cloth", "?lining"), strict=True):
        word = window.own(opening) or first.own(opening)
        keys = [key for key in SHARED_KEYS if key.startswith(f"{table}.")]
        if table == "lining" and word != YES_NO[0]:
            said |= dict.fromkeys(keys, "")
        has_one = word == YES_NO[0] or any(said[key] for key in keys)
        said[table] = YES_NO[0] if has_one else ""
    return {key: text for key, text in said.items() if text}
