"""Run by a test: writers of one file killed at random moments; says what was found as JSON.

`python killed.py FOLDER ROUNDS SEED`. Each writer is forked, puts one version after another in the
file's place, and is killed after a few milliseconds.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
import time
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import NoReturn

from drapetemplate import files

SIZE = 2_000_000
SLOWEST = 0.03
WRITES = 3  # where these take longer, a writer lives as long as they do, so that some are in place


def version(number: int) -> bytes:
    """Two megabytes that say what their own sum is, no two alike."""
    body = number.to_bytes(8, "big") * (SIZE // 8)
    return sha256(body).digest() + body


def whole(data: bytes) -> bool:
    """Whether it is a version, to the last byte."""
    return len(data) == 32 + SIZE and sha256(data[32:]).digest() == data[:32]


def write_on(path: Path, start: int) -> NoReturn:
    """A writer's whole life."""
    try:
        for number in count(start):
            files.write(path, version(number))
    finally:
        os._exit(1)  # only a kill ends it in order


def main(folder: Path, rounds: int, seed: int) -> None:
    """Kill so many writers."""
    path = folder / "job.pdf"
    started = time.perf_counter()
    for _ in range(WRITES):
        files.write(path, version(0))
    longest = max(SLOWEST, time.perf_counter() - started)
    chance = random.Random(seed)  # noqa: S311  # moments, not secrets
    torn, left, most, ended = 0, 0, 0, 0
    versions = {path.read_bytes()[:32]}
    for number in range(rounds):
        child = os.fork()
        if not child:
            write_on(path, 1 + number * 1_000_000)
        time.sleep(chance.random() * longest)
        os.kill(child, signal.SIGKILL)
        ended += not os.WIFSIGNALED(os.waitpid(child, 0)[1])
        data = path.read_bytes()
        torn += not whole(data)
        versions.add(data[:32])
        beside = [one for one in folder.iterdir() if one != path]
        left += bool(beside)
        most = max(most, len(beside))
        for one in beside:  # as if the next run came two hours later
            os.utime(one, (time.time() - 7200,) * 2)
    files.write(path, version(0))
    rest = len(list(folder.iterdir())) - 1
    found = {"torn": torn, "left": left, "most": most, "rest": rest, "ended": ended}
    print(json.dumps(found | {"versions": len(versions)}))  # noqa: T201  # its whole purpose


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]))
