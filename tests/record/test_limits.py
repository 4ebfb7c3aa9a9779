"""Where what is read of a stranger's PDF ends: at its limit, not one byte before or after."""

from __future__ import annotations

import zlib

import pytest
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, NumberObject, StreamObject

from drapetemplate.errors import FileError
from drapetemplate.record.budget import ANY, Budget, SpentError, bounded
from drapetemplate.record.unpacking import entry_of, inflated, unpacked

FLATE = NameObject("/FlateDecode")
WORDS = b"some words " * 20
PACKED = zlib.compress(WORDS)


def stream(data: bytes, **entries: object) -> StreamObject:
    """A stream with these bytes in the file."""
    made = StreamObject()
    made.set_data(data)
    for key, value in entries.items():
        made[NameObject(f"/{key}")] = value
    return made


@pytest.mark.parametrize(
    ("made", "whole"),
    [
        (stream(WORDS), WORDS),
        (stream(PACKED, Filter=FLATE), WORDS),
        (stream(PACKED, Filter=ArrayObject([FLATE])), WORDS),
        (stream(PACKED, Filter=ArrayObject([FLATE, FLATE])), None),
        (stream(PACKED, Filter=NameObject("/ASCIIHexDecode")), None),
        (stream(PACKED[:-1], Filter=FLATE), None),
        (stream(PACKED[:20], Filter=FLATE), None),
        (stream(b"x" + PACKED, Filter=FLATE), None),
    ],
)
def test_unpacked(made: StreamObject, whole: bytes | None) -> None:
    """A stream's bytes up to the limit; none for more, or for what doesn't come to its end."""
    assert unpacked(made, len(WORDS), Budget(0)) == whole
    assert inflated(made, len(WORDS), Budget(0)) == whole
    assert inflated(made, len(WORDS) + 1, Budget(0)) == whole
    assert inflated(made, len(WORDS) - 1, Budget(0)) is None


def test_a_predictor() -> None:
    """What is packed with a predictor is unpacked only where that is asked for."""
    made = stream(
        PACKED, Filter=FLATE, DecodeParms=DictionaryObject({NameObject("/P"): NumberObject(2)})
    )
    assert inflated(made, 1000, Budget(0)) == WORDS
    assert unpacked(made, 1000, Budget(0)) is None


def test_unpacking_is_counted() -> None:
    """All that is unpacked counts, at most a byte beyond the limit; what isn't packed doesn't."""
    budget = Budget(0)
    inflated(stream(PACKED, Filter=FLATE), 1000, budget)
    assert budget.spent["unpacked"] == len(WORDS)
    inflated(stream(PACKED, Filter=FLATE), 9, budget)
    inflated(stream(WORDS), 1000, budget)
    assert budget.spent["unpacked"] == len(WORDS) + 10


def test_entries() -> None:
    """An entry of what is no dictionary, or hasn't it, is None."""
    assert entry_of(stream(b"", A=NumberObject(5)), "/A") == 5
    assert entry_of(stream(b""), "/A") is None
    assert entry_of(NumberObject(5), "/A") is entry_of(None, "/A") is None


@pytest.mark.parametrize(
    ("kind", "limit", "said"),
    [
        ("objects", 5_000, "asks for more than 5,000 objects: it is not read"),
        ("parsed", 2_000_000, "asks for more than 2,000,000 bytes of objects and drawing"),
        ("held", 1_000_300, "asks for more than 1,000,300 packed bytes"),
        ("searched", 100_006_000, "asks for more than 100,006,000 bytes searched"),
        ("unpacked", 30_000_000, "asks for more than 30,000,000 unpacked bytes"),
        ("marks", 20_000, "asks for more than 20,000 marks"),
        ("seconds", 8, "asks for more than 8 seconds of work"),
    ],
)
def test_each_limit(kind: str, limit: int, said: str) -> None:
    """A PDF of 300 bytes may ask for all of its limit, and for what it is let besides."""
    [known] = [one for one in ANY if one == kind]
    for more in (0, 7):
        budget = Budget(300)
        budget.allow({known: more})
        assert budget.left(known) == limit + more
        budget.spend(known, limit + more)
        assert budget.left(known) == 0
        with pytest.raises(SpentError) as error:
            budget.spend(known)
        if not more:
            assert str(error.value).startswith(said)


def test_the_clock_is_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """After each 10,000 of anything; what else took time is left out."""
    now = [100.0]
    monkeypatch.setattr("time.thread_time", lambda: now[0])
    budget = Budget(0)
    now[0] += 8.9
    budget.spend("parsed", 10_000)
    budget.look()
    now[0] += 2
    budget.excuse(2)
    budget.spend("parsed", 10_001)
    now[0] += 0.2
    budget.spend("parsed", 10_000)
    with pytest.raises(SpentError, match="8 seconds of work: it is not read"):
        budget.spend("parsed", 1)


def test_a_spent_budget_is_a_line() -> None:
    """Within a block that is bounded it is one fault, where the PDF is named."""
    with pytest.raises(FileError) as error, bounded("found.pdf"):
        Budget(0, "it stays shut").refuse("is too much")
    [fault] = error.value.faults
    assert (fault.where, fault.text) == ("found.pdf", "is too much: it stays shut")
