"""Slow work in threads, a few at a time, and of what one page asks again and again the newest."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import Any, TypeVar

T = TypeVar("T")

Asker = tuple[str, str]
"""Which thing is asked for again and again, and which page asks."""
MOST_ASKERS = 256


class DroppedError(Exception):
    """A request whose page has sent a newer one meanwhile."""


class Limited:
    """Runs work in threads, only so many at once.

    What is asked waits its turn only as long as nothing newer is. What runs is never broken off:
    its answer is dropped. The threads end with the program, whatever they are at.
    """

    def __init__(self, at_once: int) -> None:
        self._free = asyncio.Semaphore(at_once)
        self._newest: dict[Asker, int] = {}

    async def run(self, work: Callable[..., T], *given: object) -> T:
        """Return what a function gives, called in a thread."""
        async with self._free:
            return await _in_thread(work, *given)

    async def newest(self, asker: Asker, seq: int, work: Callable[..., T], *given: object) -> T:
        """Return what a function gives for an asker's newest request; DroppedError for an elder."""
        self._newest[asker] = max(seq, self._newest.pop(asker, seq))
        while len(self._newest) > MOST_ASKERS:
            del self._newest[next(iter(self._newest))]
        async with self._free:
            self._check(asker, seq)
            value = await _in_thread(work, *given)
        self._check(asker, seq)
        return value

    def _check(self, asker: Asker, seq: int) -> None:
        if self._newest.get(asker, seq) > seq:
            raise DroppedError


async def _in_thread(work: Callable[..., T], *given: object) -> T:
    loop = asyncio.get_running_loop()
    done: asyncio.Future[T] = loop.create_future()

    def tell(tell_it: Callable[[Any], None], what: object) -> None:
        if not done.cancelled():
            tell_it(what)

    def run() -> None:
        try:
            value = work(*given)
        except BaseException as error:  # noqa: BLE001  # handed on to whoever waits
            told: tuple[Callable[[Any], None], object] = (done.set_exception, error)
        else:
            told = (done.set_result, value)
        with suppress(RuntimeError):  # the desk has ended meanwhile
            loop.call_soon_threadsafe(tell, *told)

    threading.Thread(target=run, daemon=True).start()
    return await done
