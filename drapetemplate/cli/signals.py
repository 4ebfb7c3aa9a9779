"""How the program ends when it is told to: quietly while it loads, tidying up once it works.

While modules are loaded there is nothing to tidy up, and an interrupt anywhere in them would show a
traceback: it ends the process outright. A command that works gets an exception, so that what it has
begun to write is removed and the processes that it started are ended.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import suppress
from types import FrameType
from typing import NoReturn, TypeVar

Handler = Callable[[int, FrameType | None], object]
Asked = TypeVar("Asked")
Done = TypeVar("Done")

_heeded_later: dict[int, Handler] = {}


def load_quietly() -> None:
    """Let an interrupt end the process outright, and put off the collection of garbage.

    Until `heed`. What whoever started the process ignores stays ignored, as under nohup.
    """
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        _heeded_later[signal.SIGINT] = signal.default_int_handler
    for number in _to_end():
        _heeded_later[number] = exit_for
    sys.unraisablehook = _end_where_lost
    # Modules that load leave no garbage, and there is ever more to look through for it.
    gc.disable()


def heed() -> None:
    """Let signals be exceptions from here on: nothing more, where `load_quietly` wasn't called."""
    while _heeded_later:
        signal.signal(*_heeded_later.popitem())
    if not gc.isenabled():
        gc.freeze()
        # A job's marks are many and stay to the end, so that there is little to be found among
        # them: looking as seldom as this takes a twelfth off a hotel made, or measured.
        gc.set_threshold(100_000, 20, 100)
        gc.enable()


class Worker:
    """A process that a command has started to work for it: told to end, it surely does.

    What tells its work to it takes an exception in that for the work's result, and asks for more.
    So the process ends here: at once where it is idle, and else once its work has tidied up.
    """

    busy = False

    @classmethod
    def begin(cls) -> None:
        """Heed signals to end in this process from here on."""
        for number in _to_end():
            signal.signal(number, cls._end)

    @classmethod
    def do(cls, work: Callable[[Asked], Done], asked: Asked) -> Done:
        """Return what `work` makes of what is asked."""
        cls.busy = True
        try:
            return work(asked)
        except SystemExit as told:
            os._exit(told.code if isinstance(told.code, int) else 1)
        finally:
            cls.busy = False

    @classmethod
    def _end(cls, number: int, frame: FrameType | None) -> None:
        if not cls.busy:
            os._exit(128 + number)
        for other in ("SIGTERM", "SIGHUP"):  # a second one mustn't break off the tidying up
            if hasattr(signal, other):
                signal.signal(getattr(signal, other), signal.SIG_IGN)
        exit_for(number, frame)


def _to_end() -> Iterator[signal.Signals]:
    """The signals by which a system or a closed terminal ends a process, where nobody has a say."""
    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)  # Windows has no SIGHUP
        if number is not None and signal.getsignal(number) is signal.SIG_DFL:
            yield number


def exit_for(number: int, _frame: FrameType | None) -> NoReturn:
    """Exit with the code that shells give a process which a signal ended."""
    raise SystemExit(128 + number)


def end_as_interrupted() -> NoReturn:
    """End as a program that knows nothing of Ctrl-C: so a shell's loop that runs it ends too."""
    with suppress(OSError):
        if sys.stdout is not None:
            sys.stdout.flush()
    _end_by(signal.SIGINT)


def _end_by(number: int) -> NoReturn:
    signal.signal(number, signal.SIG_DFL)
    signal.raise_signal(number)
    raise SystemExit(128 + number)  # no system comes here


def _end_where_lost(lost: sys.UnraisableHookArgs) -> None:
    """End for a signal's exception that came where Python only reports one, as in a destructor."""
    if isinstance(lost.exc_value, KeyboardInterrupt):
        _end_by(signal.SIGINT)
    if isinstance(lost.exc_value, SystemExit) and isinstance(lost.exc_value.code, int):
        _end_by(lost.exc_value.code - 128)
    sys.__unraisablehook__(lost)
