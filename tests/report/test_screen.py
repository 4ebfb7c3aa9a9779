"""Text in a terminal's columns: how wide it runs, where it wraps, what stays together."""

from __future__ import annotations

import pytest

from drapetemplate.report.screen import Screen, aloud, held, needs_ascii, padded


@pytest.mark.parametrize(
    ("text", "expected"),
    [("", 0), ("linen", 5), ("前 a", 4), ("e\u0301", 1), ("○ ≈ 2", 5)],
)
def test_cells(text: str, expected: int) -> None:
    """Wide characters take two columns, combining marks none: so few spaces fill a column of 6."""
    assert padded(text, 6) == text + " " * (6 - expected)


def test_wrapped_hangs() -> None:
    """The first line begins as asked, those after it under one another, none too wide."""
    text = "no larger count clears; it takes a bracket"
    assert Screen(24).wrapped(text, "  WARN  ", " " * 8) == [
        "  WARN  no larger count",
        "        clears; it takes",
        "        a bracket",
    ]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("a gap of ≈ 5 13/16 in or more", ["a gap of", "≈ 5 13/16 in or more"]),
        ("a gap of 1234.5 mm and more", ["a gap of 1234.5 mm", "and more"]),
        ("it would take about 16 eyelets", ["it would take about", "16 eyelets"]),
        ("seams 1 2 3 4 5 6 7 8 9 10 11", ["seams 1 2 3 4 5 6 7", "8 9 10 11"]),
    ],
)
def test_measures_stay_whole(text: str, expected: list[str]) -> None:
    """A number never parts from its fraction, its unit or what it counts; lists of them do."""
    assert Screen(20).wrapped(text) == expected


def test_word_that_is_too_long() -> None:
    """A word wider than the terminal stands alone on its line; a narrower one never sticks out."""
    word = "x" * 30
    assert Screen(20).wrapped(f"the cloth {word} here") == ["the cloth", word, "here"]
    assert Screen(20).wrapped(held("no part of this")) == ["no part of this"]


def test_wrapped_by_cells() -> None:
    """Wide characters wrap by the columns they take."""
    assert Screen(20).wrapped("前前前前前 前前前前前前") == ["前前前前前", "前前前前前前"]


def test_no_columns_no_wrapping() -> None:
    """Without columns a line is as long as it comes, so that it can be searched."""
    text = "word " * 60 + "end"
    assert Screen(None).wrapped(text, "- ", "  ") == [f"- {text}"]
    assert Screen(None).table([("name", text)]) == [f"  name  {text}"]
    assert Screen(None).grid(["a", "b"]) == ["  a", "  b"]


def test_nothing_is_laid_out_for_fewer_than_twenty() -> None:
    """A terminal that says it has 1 column, or none, gets lines of 20."""
    assert Screen(1).wrapped("one two three four five") == ["one two three four", "five"]
    assert Screen(0).width == 20


def test_table() -> None:
    """Values stand under one another, each wrapped in its own column."""
    rows = [("return", "3 in"), ("eyelets", "12, nearest to one eyelet apart")]
    assert Screen(36).table(rows) == [
        "  return   3 in",
        "  eyelets  12, nearest to one eyelet",
        "           apart",
    ]


def test_table_in_few_columns() -> None:
    """Where values have no room beside the names, each follows its name."""
    rows = [("return", "3 in"), ("eyelets", "12, nearest to one eyelet apart")]
    assert Screen(34).table(rows) == [
        "  return: 3 in",
        "  eyelets: 12, nearest to one",
        "    eyelet apart",
    ]


def test_grid_reads_downwards() -> None:
    """As many columns as have room, the first filled first."""
    entries = [f"entry {n}" for n in range(1, 6)]
    assert Screen(24).grid(entries) == [
        "  entry 1   entry 4",
        "  entry 2   entry 5",
        "  entry 3",
    ]


def test_ascii() -> None:
    """Our own signs become ASCII; a job's own words are left to the stream."""
    assert Screen(80, ascii_only=True).shown("≈ 2 in · 45° × é\u202e") == "~ 2 in - 45 deg x é?"


def test_shown_is_safe() -> None:
    """Control characters and newlines never come through, whatever the form."""
    bad = "a\x1b[31m\nb\u202e\x07\u2028"
    for text in (Screen().shown(bad), " ".join(Screen(20).wrapped(bad)), aloud(bad)):
        assert text.replace("\ufffd", "?").strip() == "a?[31m b??"
    assert Screen().grid([bad]) == ["  a\ufffd[31m b\ufffd\ufffd"]


def test_aloud() -> None:
    """What a screen reader would read as a sign's name is in words."""
    assert aloud("7 · Bay: ≈ 2 in + 3 in, 45°") == "7, Bay: about 2 in plus 3 in, 45 degrees"


@pytest.mark.parametrize(
    ("encoding", "expected"),
    [
        ("utf-8", False),
        ("UTF8", False),
        ("ascii", True),
        ("latin-1", True),
        ("cp437", True),
        (None, True),
        ("no-such-code", True),
    ],
)
def test_needs_ascii(encoding: str | None, *, expected: bool) -> None:
    """Only a stream that carries every sign gets them."""
    assert needs_ascii(encoding) == expected
