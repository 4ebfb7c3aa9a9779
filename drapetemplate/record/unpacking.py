"""A stream of a PDF in, its bytes out: no more than were asked for, whatever it unpacks to."""

from __future__ import annotations

import zlib

from pypdf.generic import DictionaryObject, IndirectObject, StreamObject

from drapetemplate.record.budget import Budget


def resolved(value: object) -> object:
    """What a reference leads to; anything else as it is."""
    return value.get_object() if isinstance(value, IndirectObject) else value


def entry_of(value: object, key: str) -> object:
    """A dictionary's entry, resolved; None where there is neither."""
    held = resolved(value)
    return resolved(held.get(key)) if isinstance(held, DictionaryObject) else None


def unpacked(stream: StreamObject, most: int, budget: Budget) -> bytes | None:
    """The stream's bytes, no more than `most`; None where there are more, or they can't be had."""
    return None if entry_of(stream, "/DecodeParms") else inflated(stream, most, budget)


def inflated(stream: StreamObject, most: int, budget: Budget) -> bytes | None:
    """The same with a predictor's bytes still among them, as streams of cross references have."""
    raw: bytes = stream._data  # noqa: SLF001  # get_data would unpack it whole, however large
    packing = entry_of(stream, "/Filter")
    if packing is None:
        return raw if len(raw) <= most else None
    if packing not in ("/FlateDecode", ["/FlateDecode"]):
        return None
    try:
        unpacking = zlib.decompressobj()
        data = unpacking.decompress(raw, min(most, budget.left("unpacked")) + 1)
    except zlib.error:
        return None
    budget.spend("unpacked", len(data))
    return data if len(data) <= most and unpacking.eof else None
