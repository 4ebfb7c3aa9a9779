"""A fuzzer to run by hand: `python tests/hostile/fuzz.py jobs|pdfs SECONDS [SEED]`.

Mutates the sample job files, or small made PDFs, and holds every run of the tool to what no run may
do (`bounded`). What is found is kept in a folder of its own, whose name is printed at the end.
"""

from __future__ import annotations

import random
import re
import sys
import tempfile
import time
import zlib
from collections.abc import Callable
from pathlib import Path

from drapetemplate.job.tables import TABLES, keys_of
from tests.hostile import scrawls, strangers
from tests.hostile.bounded import ended

SAMPLES = Path(__file__).parents[2] / "sample_jobs"
MOST_SECONDS = 60.0
ODD = (
    *(b"0", b"-1", b"1e999", b"nan", b"inf", b"2000", b"2001", b"99999999999", b"0.0000000001"),
    *(b"'1/0 in'", b"'100 m'", b"'1 1/1000000007 mm'", b"'1e30 mm'", b"''", b"'\xc2\x9b31m'"),
    *(b"true", b"[]", b"{}", b"[[1]]", b'"\\u001b[31m\\u202e"', b"2031-05-06", b"'auto'", b"'one'"),
)
TOKENS = (
    *(b"<<", b">>", b"[", b"]", b"(", b")", b"obj", b"endobj", b"stream", b"endstream", b"R"),
    *(
        b"xref",
        b"trailer",
        b"startxref",
        b"%%EOF",
        b"null",
        b"true",
        b"/Kids",
        b"/Prev",
        b"/Length",
    ),
    *(b"/Filter", b"/FlateDecode", b"/W", b"/Index", b"/Size", b"/Count", b"/Parent", b"-1"),
    *(
        b"0",
        b"999999999",
        b"1 0 R",
        b"2 0 R",
        b"5 0 R",
        b"/Names",
        b"/EF",
        b"/Contents",
        b"\x1b[31m",
    ),
)
KEYS = tuple(key.encode() for table in TABLES for key in keys_of(table))

Mutation = Callable[[random.Random, bytes], bytes]


def bytes_changed(chance: random.Random, data: bytes) -> bytes:
    """A few bytes of any value."""
    found = bytearray(data)
    for _ in range(chance.randint(1, 8)):
        found[chance.randrange(len(found))] = chance.randrange(256)
    return bytes(found)


def cut(chance: random.Random, data: bytes) -> bytes:
    """A piece left out, doubled, or put elsewhere."""
    start = chance.randrange(len(data))
    end = min(len(data), start + int(chance.paretovariate(0.6)))
    piece, rest = data[start:end], data[:start] + data[end:]
    to = chance.randrange(len(rest) + 1)
    return chance.choice((rest, data[:end] + piece * 3 + data[end:], rest[:to] + piece + rest[to:]))


def inserted(words: tuple[bytes, ...]) -> Mutation:
    """Words put in anywhere."""

    def change(chance: random.Random, data: bytes) -> bytes:
        at = chance.randrange(len(data) + 1)
        word = b" ".join(chance.choices(words, k=chance.choice((1, 1, 2, 5))))
        return data[:at] + word * chance.choice((1, 1, 1, 9, 5000)) + data[at:]

    return change


def value_changed(chance: random.Random, data: bytes) -> bytes:
    """A value of the job file, or a key, made another; or a key added."""
    lines = data.split(b"\n")
    places = [n for n, line in enumerate(lines) if b"=" in line]
    if not places:
        return data
    at = chance.choice(places)
    key, _, value = lines[at].partition(b"=")
    match chance.randrange(4):
        case 0:
            key = chance.choice(KEYS) + b" "
        case 1:
            lines.insert(at, chance.choice(KEYS) + b" = " + chance.choice(ODD))
        case _:
            value = chance.choice(ODD)
    lines[at] = key + b"=" + value
    return b"\n".join(lines)


def number_changed(chance: random.Random, data: bytes) -> bytes:
    """A number of a PDF made another, anywhere outside its streams or in."""
    found = re.compile(rb"[0-9]").search(data, chance.randrange(len(data)))
    at = found.start() if found else 0
    return data[:at] + chance.choice((b"-", b"9" * 9, b".", b"0", b"7")) + data[at + 1 :]


def content_changed(chance: random.Random, data: bytes) -> bytes:
    """A stream unpacked, mutated and packed again."""
    places = []
    at = data.find(b"stream\n")
    while at >= 0:
        places.append(at + 7)
        at = data.find(b"stream\n", data.find(b"endstream", at) + 10)
    if not places:
        return data
    start = chance.choice(places)
    end = data.find(b"endstream", start)
    try:
        inside = zlib.decompress(data[start:end])
    except zlib.error:
        return data
    change = chance.choice((bytes_changed, cut, inserted(TOKENS), number_changed))
    packed = zlib.compress(change(chance, inside or b" "))
    return data[:start] + packed + b"\n" + data[end:]


def kind_changed(chance: random.Random, _: bytes) -> bytes:
    """An entry of another kind."""
    place, key = chance.choice(strangers.entries())
    return strangers.of_kind(place, key, chance.randrange(strangers.KINDS))


def jobs() -> tuple[list[bytes], list[Mutation], list[list[str]], str]:
    """Seeds, mutations, commands and a file's name, for job files."""
    seeds = [path.read_bytes() for path in sorted(SAMPLES.glob("*.toml"))]
    changes = [bytes_changed, cut, inserted(ODD), inserted(KEYS), *[value_changed] * 8]
    commands = [
        ["plan", "in.toml"],
        ["plan", "in.toml", "--json", "--csv", "out.csv"],
        ["plan", "in.toml", "--plain"],
        ["compare", "in.toml"],
        ["make", "in.toml", "--out", "out.pdf"],
        ["picture", "in.toml", "--out", "out.svg"],
        ["cutfile", "in.toml", "--out", "out.dxf"],
        ["order", "in.toml", "--out", "out.pdf", "--csv", "out.csv"],
    ]
    return seeds, changes, commands, "in.toml"


def pdfs() -> tuple[list[bytes], list[Mutation], list[list[str]], str]:
    """The same for PDFs."""
    few = (strangers.cross_references, strangers.trees, strangers.settings, scrawls.fonts)
    seeds = [strangers.PDF, strangers.PLAIN, strangers.PACKED] * 8
    seeds += [data for part in few for _, data in part() if len(data) < 300_000]
    changes: list[Mutation] = [bytes_changed, cut, inserted(TOKENS), number_changed]
    changes += [content_changed, content_changed, kind_changed]
    commands = [["measure", "in.pdf"], ["recall", "in.pdf", "--out", "out.toml"]]
    commands += [["order", "in.pdf"], ["order", "."]]
    return seeds, changes, commands, "in.pdf"


def main(what: str, seconds: float, seed: int) -> int:
    """Run so long; how many runs were wrong."""
    chance = random.Random(seed)  # noqa: S311  # chances, not secrets
    seeds, changes, commands, name = {"jobs": jobs, "pdfs": pdfs}[what]()
    folder, kept = (Path(tempfile.mkdtemp(prefix=f"fuzz-{part}-")) for part in ("at", "found"))
    until, runs, codes, slowest = time.monotonic() + seconds, 0, dict.fromkeys((0, 1, 2), 0), 0.0
    wrong: dict[str, int] = {}
    while time.monotonic() < until:
        data = chance.choice(seeds)
        for _ in range(chance.choice((1, 1, 2, 4))):
            data = chance.choice(changes)(chance, data or b" ")
        (folder / name).write_bytes(data)
        for out in folder.glob("out.*"):
            out.unlink()
        command = chance.choice(commands)
        start = time.monotonic()
        run = ended(command, folder, MOST_SECONDS)
        took = time.monotonic() - start
        runs += 1
        if took > slowest:
            slowest = took
            (kept / f"slowest-{name}").write_bytes(data)
        said = run.wrong()
        if run.code in codes:
            codes[run.code] += 1
        if said:
            place = said.splitlines()[-1][-200:]
            wrong[place] = wrong.get(place, 0) + 1
            if wrong[place] <= 3:
                (kept / f"{len(wrong)}-{wrong[place]}-{command[0]}-{name}").write_bytes(data)
                print(f"{' '.join(command)}: {said}\n")  # noqa: T201  # its report
    print(f"{runs} runs, exit codes {codes}, slowest {slowest:.1f} s; wrong: {wrong}")  # noqa: T201
    print(f"kept in {kept}")  # noqa: T201
    return sum(wrong.values())


if __name__ == "__main__":
    sys.exit(min(1, main(sys.argv[1], float(sys.argv[2]), int((*sys.argv, "1")[3]))))
