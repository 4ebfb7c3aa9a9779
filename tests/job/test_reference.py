"""The page of the job file's keys: it is as the tables have it, and leaves none out."""

from __future__ import annotations

from pathlib import Path

from drapetemplate.job.defaults import DEFAULTS
from drapetemplate.job.reference import PAGE_NAME, reference_text
from drapetemplate.job.tables import TABLES, keys_of

PAGE = Path(__file__).parents[2] / "sample_jobs" / PAGE_NAME
AGAIN = f"write it again: python -m drapetemplate.job.reference > sample_jobs/{PAGE_NAME}"


def _rows(section: str) -> list[list[str]]:
    """The cells of a section's rows, below the two of the head."""
    lines = [line for line in section.splitlines() if line.startswith("|")][2:]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines]


def test_page_is_current() -> None:
    """The page beside the samples is the one that the tables make."""
    assert PAGE.read_bytes().decode() == reference_text(), AGAIN


def test_every_key_has_a_row() -> None:
    """Each table has a section of its own, with a whole row for every key that has a value."""
    _, *sections = reference_text().split("\n## ")
    assert len(sections) == len(TABLES)
    for table, section in zip(TABLES, sections, strict=True):
        rows = _rows(section)
        keys = [key for key in keys_of(table) if key not in TABLES]
        if table == "lining":  # whose other keys are as in [fabric]
            keys = [key for key in keys if f"lining.{key}" in DEFAULTS]
            assert set(keys_of(table)) - set(keys) <= set(keys_of("fabric"))
        assert [row[0] for row in rows] == [f"`{key}`" for key in keys]
        assert all(len(row) == 5 and all(row[:3]) for row in rows)


def test_every_default_is_there() -> None:
    """Each default is in its key's row, and no description says it a second time."""
    rows = [row for section in reference_text().split("\n## ") for row in _rows(section)]
    assert sorted(row[3] for row in rows if row[3]) == sorted(
        default.all_words for default in DEFAULTS.values()
    )
    assert not [row for row in rows if "Default" in row[1]]
