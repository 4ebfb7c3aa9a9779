"""Where the marks of a picture stand that a page takes in, read from its SVG by hand."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

SVG = "{http://www.w3.org/2000/svg}"
_BEGIN = re.compile(r"M(-?[0-9.]+) -?[0-9.]+(?:a([0-9.]+) )?")


def across(svg: str, role: str) -> list[float]:
    """Where each mark of a role stands: a circle's middle, a line's beginning, in mm from the left.

    All marks of a role may be one path, each after an M of its own.
    """
    root = ET.fromstring(svg)  # noqa: S314  # our own
    drawn = (path.attrib["d"] for path in root.iter(f"{SVG}path") if path.get("class") == role)
    return [
        float(begin) + float(radius or 0)
        for path in drawn
        for begin, radius in _BEGIN.findall(path)
    ]
