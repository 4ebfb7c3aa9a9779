"""How much work a stranger's PDF may ask for: what it has in all is counted as it is read.

A small file can name one part a hundred thousand times, or unpack without end. A limit is of the
whole file, never of a part of it.

| counted  | what is meant                                                               |
|----------|-----------------------------------------------------------------------------|
| objects  | objects of the file that are read                                           |
| parsed   | bytes of objects, of content and of fonts' maps, each as often as it's read |
| held     | bytes of packed streams that are kept                                       |
| searched | bytes of the file that is searched for an object not where it should be      |
| unpacked | bytes that streams unpack to                                                |
| marks    | letters, painted paths, and a share of each other operator                  |
| seconds  | processor time, where all else is small                                     |
"""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Literal, TypeAlias

from pypdf import apply_configuration

from drapetemplate.errors import Fault, FileError

Kind: TypeAlias = Literal["objects", "parsed", "held", "searched", "unpacked", "marks", "seconds"]

NOT_READ = "it is not read"
NOT_MEASURED = "it is not measured"

ANY: dict[Kind, int] = {
    "objects": 5_000,
    "parsed": 2_000_000,
    "held": 1_000_000,
    "searched": 100_000_000,
    "unpacked": 30_000_000,
    "marks": 20_000,
    "seconds": 8,
}
"""What any PDF may ask for; `held` beside its own size, `searched` beside that 20 times over."""
WORDS: dict[Kind, str] = {
    "objects": "{:,} objects",
    "parsed": "{:,} bytes of objects and drawing",
    "held": "{:,} packed bytes, which it hasn't itself",
    "searched": "{:,} bytes searched for objects that aren't where it says",
    "unpacked": "{:,} unpacked bytes",
    "marks": "{:,} marks",
    "seconds": "{} seconds of work",
}
BETWEEN_LOOKS = 10_000
"""So much is counted between two looks at the clock."""
MOST_AT_ONCE = 4_000_000
"""Bytes that pypdf may unpack by itself: a job file, a font, a table of cross references."""
MOST_IN_LIST = 50_000
"""Entries that pypdf may read of one list: a job of 2,000 sheets has its pages named in 5,000."""


class SpentError(BaseException):
    """A budget is spent: its text says what of, after "this PDF".

    No Exception: libraries pass over those of a damaged part, and go on.
    """


class Budget:
    """What one PDF of `size` bytes may ask for; SpentError as soon as a kind is spent.

    `refusal` says what isn't done with it then.
    """

    def __init__(self, size: int, refusal: str = NOT_READ) -> None:
        self._refusal = refusal
        self._limits: dict[Kind, int] = dict(ANY)
        self.allow({"held": size, "searched": 20 * size})
        self.spent: dict[Kind, int] = dict.fromkeys(ANY, 0)
        self._unlooked = 0
        self._begun = time.thread_time()

    def allow(self, more: Mapping[Kind, int]) -> None:
        """Let the PDF ask for so much more of each kind."""
        for kind, amount in more.items():
            self._limits[kind] += amount

    def excuse(self, seconds: float) -> None:
        """Leave out processor time that something else took than the PDF's reading."""
        self._begun += seconds

    def left(self, kind: Kind) -> int:
        """How much of a kind it may still ask for."""
        return self._limits[kind] - self.spent[kind]

    def spend(self, kind: Kind, amount: int = 1) -> None:
        """Count so much of a kind."""
        self.spent[kind] += amount
        if self.spent[kind] > self._limits[kind]:
            self.refuse(f"asks for more than {WORDS[kind].format(self._limits[kind])}")
        self._unlooked += amount
        if self._unlooked > BETWEEN_LOOKS and kind != "seconds":
            self.look()

    def look(self) -> None:
        """Look at the clock."""
        self._unlooked = 0
        now = int(time.thread_time() - self._begun)
        self.spend("seconds", now - self.spent["seconds"])

    def refuse(self, why: str) -> None:
        """SpentError for a reason, which is said after "this PDF"."""
        raise SpentError(f"{why}: {self._refusal}")


@contextmanager
def bounded(source: str) -> Iterator[None]:
    """A block in which a stranger's PDF is read, `source` in messages; FileError as one is spent.

    What pypdf unpacks at once and the length of its lists are bounded with it.
    """
    try:
        with apply_configuration(
            zlib_maximum_output_length=MOST_AT_ONCE,
            zlib_maximum_recovery_input_length=100_000,
            lzw_maximum_output_length=MOST_AT_ONCE,
            run_length_maximum_output_length=MOST_AT_ONCE,
            array_maximum_element_count=MOST_IN_LIST,
            jbig2dec_binary=None,  # another program
        ):
            yield
    except SpentError as error:
        raise FileError([Fault(source, str(error))]) from None
