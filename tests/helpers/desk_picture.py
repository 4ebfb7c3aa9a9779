"""Draws the README's picture of the desk: a sample job in a real Chromium.

`python -m tests.helpers.desk_picture` writes it; no test holds it to the last pixel, as every
Chromium and every machine's letters differ a little.
"""

from __future__ import annotations

import shutil
import tempfile
from io import BytesIO
from pathlib import Path

from PIL import Image

from tests.helpers.desk_page import a_browser, a_desk, open_page

ROOT = Path(__file__).parent.parent.parent
SAMPLE = ROOT / "sample_jobs" / "stair_hall.toml"
PICTURE = ROOT / "sample_jobs" / "pictures" / "desk.png"
COLOURS = 48
"""So few are enough for a quiet page, and make a small file."""


def picture() -> bytes:
    """The desk with the sample job as it opens, as a PNG."""
    with tempfile.TemporaryDirectory() as folder, a_browser() as browser:
        shutil.copy(SAMPLE, folder)
        with a_desk(Path(folder), SAMPLE.name) as desk:
            page = open_page(browser, desk.address).page
            shot = Image.open(BytesIO(page.screenshot())).convert("RGB")
    small = BytesIO()
    shot.quantize(COLOURS, dither=Image.Dither.NONE).save(small, "PNG", optimize=True)
    return small.getvalue()


if __name__ == "__main__":
    PICTURE.write_bytes(picture())
