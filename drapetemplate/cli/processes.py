"""Work on many jobs, in one process or over several, its results in the order asked for."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from typing import TypeVar

from drapetemplate.cli import signals
from drapetemplate.errors import Fault, FileError

FEW = 8
"""Up to this many jobs are made in one process, which is sooner done than others are started."""
ENDED = (
    "a process that worked for this one was ended from outside, as where memory runs short, and "
    "what is left isn't done: use fewer at once, as --workers 1"
)

Asked = TypeVar("Asked")
Done = TypeVar("Done")


def over_processes(
    work: Callable[[Asked], Done],
    asked: Sequence[Asked],
    workers: int | None = None,
    few: int = FEW,
) -> Iterator[Done]:
    """Yield what `work` makes of each thing asked, in their order, once it and those before are.

    Over `workers` processes; None: one a processor, where more than a `few` pay for them. FileError
    where one of them ends before its work is done, as for want of memory.
    """
    if workers is None:
        workers = 1 if len(asked) <= few else min(os.cpu_count() or 1, len(asked) // few + 1)
    if workers == 1 or len(asked) == 1:
        yield from map(work, asked)
        return
    from concurrent.futures import ProcessPoolExecutor
    from concurrent.futures.process import BrokenProcessPool
    from multiprocessing import get_context

    # Spawned: a forked process would share whatever threads and locks this one has.
    pool = ProcessPoolExecutor(
        min(workers, len(asked)), get_context("spawn"), initializer=signals.Worker.begin
    )
    try:
        with _deaf_to_interrupts():
            done = pool.map(partial(signals.Worker.do, work), asked)
        yield from done
    except BrokenProcessPool as broken:
        raise FileError([Fault("--workers", ENDED)]) from broken
    finally:
        pool.shutdown(cancel_futures=True)


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """Processes started within don't hear Ctrl-C, which a terminal sends to all: this one does.

    Each then ends the job it is at; those not begun are dropped.
    """
    try:
        before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    except ValueError:  # only a main thread may say what a signal does
        yield
        return
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
