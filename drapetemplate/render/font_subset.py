"""A TrueType font in, a small one of some of its glyphs out: outlines and widths, and no more.

What is left out: the program that moves outlines onto a screen's dots, which also letters of
another size do without, and names and measures that a PDF says itself. Left are the tables that
ISO 32000-1, 9.9 asks for, as Apple's and Microsoft's specifications of TrueType have them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import accumulate
from struct import iter_unpack, pack, unpack, unpack_from

# Flags of a part of a compound glyph.
WORDS = 0x0001
SCALED = 0x0008
MORE = 0x0020
SCALED_TWICE = 0x0040
MATRIX = 0x0080
PROGRAM = 0x0100

# Flags of a font whose program depends on its size, or changes widths.
BY_PROGRAM = 0x0004 | 0x0010
NO_PROGRAM = pack(">7H", 1, 0, 0, 0, 0, 0, 0)
"""What maxp says of the program: one zone of points, and nothing else it needs."""
WHOLE = 0xB1B0AFBA
"""What a font file's sum comes to, by head's checkSumAdjustment."""


def subset(tables: Mapping[str, bytes], codes: Mapping[int, int]) -> bytes:
    """A font file of some glyphs of a font whose tables these are, and what they are made up of.

    `codes` are one-byte codes, each with its glyph's number in that font; glyph 0 is always there,
    for a code that has none.
    """
    places, metrics = _places(tables), _metrics(tables)
    order = list(dict.fromkeys((0, *codes.values())))
    number = {old: new for new, old in enumerate(order)}
    outlines = []
    for old in order:  # which grows meanwhile
        outline = _without_program(tables["glyf"][places[old] : places[old + 1]])
        for at, part in _parts(outline):
            if part not in number:
                number[part] = len(order)
                order.append(part)
            outline = outline[:at] + pack(">H", number[part]) + outline[at + 2 :]
        outlines.append(outline + bytes(-len(outline) % 2))
    starts = (0, *accumulate(map(len, outlines)))
    count = pack(">H", len(order))
    maxima = tables["maxp"]
    kept = {
        "cmap": _code_map({code: number[old] for code, old in codes.items()}),
        "glyf": b"".join(outlines),
        "head": _head(tables["head"]),
        "hhea": tables["hhea"][:34] + count,
        "hmtx": b"".join(metrics[old] for old in order),
        "loca": pack(f">{len(starts)}I", *starts),
        "maxp": maxima[:4] + count + maxima[6:14] + NO_PROGRAM + maxima[28:],
    }
    return _file(kept)


def _places(tables: Mapping[str, bytes]) -> tuple[int, ...]:
    """Where each glyph begins in `glyf`, and where the last one ends."""
    places = tables["loca"]
    (long,) = unpack_from(">h", tables["head"], 50)
    if long:
        return unpack(f">{len(places) // 4}I", places)
    return tuple(2 * half for half in unpack(f">{len(places) // 2}H", places))


def _metrics(tables: Mapping[str, bytes]) -> list[bytes]:
    """Each glyph's advance and left bearing, as `hmtx` has them; the last advance goes on."""
    (count,) = unpack_from(">H", tables["hhea"], 34)
    widths, bearings = tables["hmtx"][: 4 * count], tables["hmtx"][4 * count :]
    each = [widths[at : at + 4] for at in range(0, len(widths), 4)]
    last = each[-1][:2]
    return each + [last + bearings[at : at + 2] for at in range(0, len(bearings), 2)]


def _without_program(data: bytes) -> bytes:
    """A glyph's outline without its instructions; nothing of an empty one."""
    if not data:
        return b""
    [contours] = unpack_from(">h", data)
    if contours < 0:
        *_, (last, _) = _parts(data)
        [flags] = unpack_from(">H", data, last - 2)
        cut = bytearray(data[: last + 2 + _arguments(flags)])
        for at, _ in _parts(data):
            [flags] = unpack_from(">H", data, at - 2)
            cut[at - 2 : at] = pack(">H", flags & ~PROGRAM)
        return bytes(cut)
    after = 10 + 2 * contours
    [length] = unpack_from(">H", data, after)
    return data[:after] + bytes(2) + data[after + 2 + length :]


def _parts(data: bytes) -> list[tuple[int, int]]:
    """Of a compound glyph: where each part's number stands, and the number."""
    if not data or unpack_from(">h", data)[0] >= 0:
        return []
    found, at, flags = [], 10, MORE
    while flags & MORE:
        flags, part = unpack_from(">HH", data, at)
        found.append((at + 2, part))
        at += 4 + _arguments(flags)
    return found


def _arguments(flags: int) -> int:
    """How many bytes follow a part's number: where it is put, and how it is scaled."""
    put = 4 if flags & WORDS else 2
    if flags & SCALED:
        return put + 2
    if flags & SCALED_TWICE:
        return put + 4
    return put + 8 if flags & MATRIX else put


def _code_map(codes: dict[int, int]) -> bytes:
    """A map of one-byte codes, format 6, of platform 1 (ISO 32000-1, 9.6.6.4)."""
    first, last = min(codes), max(codes)
    glyphs = [codes.get(code, 0) for code in range(first, last + 1)]
    head = pack(">HHHHI", 0, 1, 1, 0, 12)
    return head + pack(
        f">HHHHH{len(glyphs)}H", 6, 10 + 2 * len(glyphs), 0, first, len(glyphs), *glyphs
    )


def _head(head: bytes) -> bytes:
    """The head with no sum yet, nothing by program, and long offsets in `loca`."""
    [flags] = unpack_from(">H", head, 16)
    return (
        head[:8]
        + bytes(4)
        + head[12:16]
        + pack(">H", flags & ~BY_PROGRAM)
        + head[18:50]
        + pack(">Hh", 1, 0)
    )


def _file(tables: dict[str, bytes]) -> bytes:
    """A font file of these tables, with its sums."""
    count = len(tables)
    power = count.bit_length() - 1
    directory = pack(">IHHHH", 0x00010000, count, 16 << power, power, 16 * (count - (1 << power)))
    body = b""
    for tag, data in sorted(tables.items()):
        at = 12 + 16 * count + len(body)
        directory += tag.encode() + pack(">III", _sum(data), at, len(data))
        body += data + bytes(-len(data) % 4)
    whole = directory + body
    at = whole.index(b"head", 12)
    [head] = unpack_from(">I", whole, at + 8)
    return whole[: head + 8] + pack(">I", (WHOLE - _sum(whole)) & 0xFFFFFFFF) + whole[head + 12 :]


def _sum(data: bytes) -> int:
    """The sum of its big-endian words, the last filled up with zeros."""
    words: Iterator[tuple[int]] = iter_unpack(">I", data + bytes(-len(data) % 4))
    return sum(word for [word] in words) & 0xFFFFFFFF
