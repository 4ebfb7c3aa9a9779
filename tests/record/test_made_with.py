"""What a PDF says that it was made with: written and read again, and refused where it says odd."""

from __future__ import annotations

import json
from fractions import Fraction
from io import BytesIO

import pikepdf
import pytest

from drapetemplate.document.model import Document, Page, Settings
from drapetemplate.errors import FileError
from drapetemplate.job.factors import Factors
from drapetemplate.planning.codes import STOP_CODES
from drapetemplate.record.made_with import read_settings
from drapetemplate.record.write import as_record

SIDE = Fraction(100)
LASER = Factors("workroom laser", Fraction(600, 599), Fraction(995, 1000))


@pytest.mark.parametrize(
    ("settings", "text"),
    [
        (Settings(), ""),
        (
            Settings(factors=LASER),
            '{"printer": {"name": "workroom laser", "across": "600/599", "down": "199/200"}}',
        ),
        (
            Settings(accepted=frozenset({"odd-count", "back-fold-hits-wall"})),
            '{"accepted": ["back-fold-hits-wall", "odd-count"]}',
        ),
        (Settings(number=1, of=2), '{"pdf": [1, 2]}'),
        (Settings(number=2, of=2), '{"pdf": [2, 2]}'),
        (Settings(only=("Küche", "2")), '{"windows": ["K\\u00fcche", "2"]}'),
    ],
)
def test_written_and_read(settings: Settings, text: str) -> None:
    """Only what isn't the usual is written, in words that PDFs made long ago have too."""
    page = Page("page 1", (), "Page", "1")
    document = Document("Pantry", SIDE, SIDE, (page,), (), settings=settings)
    with pikepdf.open(BytesIO(as_record(document, b"x = 1"))) as pdf:
        assert str(pdf.docinfo.get("/MadeWith", "")) == text
    assert read_settings(text, "x") == settings


def test_every_stop_may_be_accepted() -> None:
    """All that can stop a job, at once, too."""
    text = json.dumps({"accepted": STOP_CODES})
    assert read_settings(text, "x") == Settings(accepted=frozenset(STOP_CODES))


@pytest.mark.parametrize(
    "text",
    [
        '{"accepted": ["odd-count", "small-hole"]}',  # a warning, which stops nothing
        '{"pdf": [0, 1]}',
        '{"pdf": [2, 1]}',
        '{"pdf": [1, 3]}',
        '{"pdf": [1.0, 2]}',
        '{"pdf": [1, "2"]}',
        '{"printer": {"name": "x", "across": "1"}}',
        "[]",
        "x",
    ],
)
def test_odd_settings(text: str) -> None:
    """Anything else is one line, with the PDF's name."""
    with pytest.raises(FileError) as error:
        read_settings(text, "found.pdf")
    [fault] = error.value.faults
    assert (fault.where, fault.text) == (
        "found.pdf",
        "the settings it was made with can't be read: damaged, or not made by this tool",
    )
