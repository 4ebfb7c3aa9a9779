"""The grey that the ink of a PDF is meant in: an ICC profile, byte by byte.

PDF/A wants a device's grey tied to a known one (ISO 19005-3, 6.2.4.3). The smallest profile that
says so is a monochrome display's (ICC.1:2004-10, 8.4.2): its name, its licence, the white it is
seen against and one curve. Version 2.4 of the format, which every reader takes.
"""

from __future__ import annotations

from struct import pack

NAME = "Grey, gamma 2.2, D50"
D50 = (0.9642, 1.0, 0.8249)
"""White of the profile connection space, as X, Y, Z (ICC.1:2004-10, 7.2.16)."""
GAMMA = 2.2
HEADER = 128


def grey_profile() -> bytes:
    """The profile's bytes, the same each time."""
    text = NAME.encode("ascii") + b"\0"
    # A text description also has a Unicode and a Macintosh form, here both empty (ICC.1:2001-04,
    # 6.5.17).
    described = b"desc" + bytes(4) + pack(">I", len(text)) + text + bytes(4 + 4 + 2 + 1 + 67)
    tags = (
        (b"desc", described),
        (b"cprt", b"text" + bytes(4) + b"No copyright: free to use\0"),
        (b"wtpt", b"XYZ " + bytes(4) + _fixed(*D50)),
        (b"kTRC", b"curv" + bytes(4) + pack(">IH", 1, round(GAMMA * 256))),
    )
    place = HEADER + 4 + 12 * len(tags)
    table, body = pack(">I", len(tags)), b""
    for name, data in tags:
        table += name + pack(">II", place + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    size = place + len(body)
    # Size, no preferred method, version, class, space, connection space, date, signature, then
    # platform to rendering intent, all unsaid (ICC.1:2004-10, 7.2).
    header = pack(">I4xI4s4s4s", size, 0x02400000, b"mntr", b"GRAY", b"XYZ ")
    header += pack(">6H", 2026, 1, 1, 0, 0, 0) + b"acsp" + bytes(28) + _fixed(*D50)
    return header.ljust(HEADER, b"\0") + table + body


def _fixed(*numbers: float) -> bytes:
    """Numbers as signed 15.16 fixed point."""
    return b"".join(pack(">i", round(number * 65536)) for number in numbers)
