"""How the desk starts, what it says, who can read its key, and how it ends."""

from __future__ import annotations

import asyncio
import os
import re
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Coroutine
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from http.client import HTTPConnection, HTTPException
from pathlib import Path
from typing import Any, TypeVar

import pytest

from drapetemplate.desk import server
from drapetemplate.desk.in_threads import MOST_ASKERS, DroppedError, Limited
from tests.helpers.commands import run, typed
from tests.helpers.desk_server import PATIENCE, RunningDesk, running, until
from tests.helpers.jobfiles import LEAST

ROOT = Path(__file__).parents[2]
OPENER = """#!/bin/sh
{ echo "$@"; stat -c '%a %U' "$1" "$(dirname "$1")"; cat "$1"; } > "$LED.part"
mv "$LED.part" "$LED"
"""


def test_it_says_where_it_is(tmp_path: Path) -> None:
    """On the loopback, with a key of 192 bits, another port and key each run; Ctrl-C ends it."""
    seen = set()
    for _ in range(2):
        with running(tmp_path, "--no-open") as desk:
            assert len(desk.key) == 32  # 6 bits a letter
            assert re.fullmatch(r"[\w-]+", desk.key)
            seen |= {desk.key}
            assert desk.start()["from"] == "new"
            assert desk.process.stdout is not None
            desk.process.send_signal(signal.SIGINT)
            told = desk.printed + desk.process.stdout.read()
            assert desk.process.wait(PATIENCE) == 0
            assert "Ctrl-C" in told
            assert told.splitlines()[-1] == "Ended."
            assert desk.errors.read_text() == ""
    assert len(seen) == 2


def test_only_this_computer_reaches_it(tmp_path: Path) -> None:
    """It listens at one address, 127.0.0.1."""
    with running(tmp_path, "--no-open") as desk:
        inodes = {
            link.readlink().name[len("socket:[") : -1]
            for link in Path(f"/proc/{desk.process.pid}/fd").iterdir()
            if link.readlink().name.startswith("socket:[")
        }
        listening = [
            row.split()[1]
            for table in ("tcp", "tcp6", "udp", "udp6")
            for row in Path(f"/proc/net/{table}").read_text().splitlines()[1:]
            if row.split()[9] in inodes and row.split()[3] == "0A"
        ]
        assert listening == [f"0100007F:{desk.port:04X}"]
    for option in ("--host", "--address", "--bind", "--port"):
        assert run("desk", option, "0.0.0.0").exit_code == 2  # noqa: S104  # it is refused


def test_no_port_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """In one line, with exit code 2: here at an address kept for examples (RFC 5737)."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(server, "LOOPBACK", "192.0.2.1")
    done = run("desk", "--no-open")
    assert done.exit_code == 2
    (line,) = done.stderr.splitlines()
    assert line.endswith("desk: this computer gives it no port: cannot assign requested address")


def test_the_key_is_in_no_list_of_processes(tmp_path: Path) -> None:
    """The browser is given a file that only its user may read, which leads there, and then goes."""
    opener, led = tmp_path / "bin" / "xdg-open", tmp_path / "led"
    opener.parent.mkdir()
    opener.write_text(OPENER)
    opener.chmod(0o755)
    folder = tmp_path / "folder"
    folder.mkdir()
    path = os.pathsep.join([str(opener.parent), os.environ["PATH"]])
    before = os.umask(0)
    try:
        with running(folder, env={"PATH": path, "LED": str(led)}) as desk:
            until(led.exists)
            line, file_mode, folder_mode, *page = led.read_text().splitlines()
            assert desk.key not in line
            assert file_mode.split()[0] == "600"
            assert folder_mode.split()[0] == "700"
            assert f"http://127.0.0.1:{desk.port}/#{desk.key}" in "\n".join(page)
            for process in Path("/proc").glob("[0-9]*"):
                for name in ("cmdline", "environ"):
                    try:
                        assert desk.key.encode() not in (process / name).read_bytes()
                    except OSError:
                        continue  # it has ended
            assert Path(line).exists()
            assert desk.end() == 0
            assert not Path(line).parent.exists()
    finally:
        os.umask(before)
    assert list(folder.iterdir()) == []


def test_without_a_browser_it_goes_on(tmp_path: Path) -> None:
    """It says so in a line, and its address is there all the same."""
    with running(tmp_path, env={"PATH": str(tmp_path / "nothing"), "BROWSER": "none"}) as desk:
        assert desk.start()["from"] == "new"
        told = desk.errors.read_text().splitlines()
        assert len(told) == 1
        assert "browser" in told[0]


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_any_signal_to_end_ends_it_quietly(name: str, tmp_path: Path) -> None:
    """In the midst of work too, and soon."""
    with running(tmp_path, "--no-open") as desk:
        desk.start()
        wide = {**ANSWERS, "window[1].width": "3900"}
        asking = threading.Thread(target=lambda: desk.raw(b"POST / HTTP/1.1\r\n", wait=1))
        asking.start()
        working = threading.Thread(target=_ask_in_vain, args=(desk, wide))
        working.start()
        time.sleep(0.3)
        began = time.monotonic()
        assert desk.end(getattr(signal, name)) == 0
        assert time.monotonic() - began < 6
        assert desk.errors.read_text() == ""
        asking.join()
        working.join()


ANSWERS = {
    "job.name": "Heron Point, writing room",
    "window[1].width": "88",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
}


def _ask_in_vain(desk: RunningDesk, answers: dict[str, str]) -> None:
    with suppress(OSError, HTTPException):
        desk.ask("/pdf", {"answers": answers, "accept": [], "part": 0})


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"width = 88 in", "job.toml, line 1: width = 88 in: goes on after its value"),
        (b"[job", "job.toml, line 1: "),
        (b"\xff\xfe", "job.toml: not UTF-8 text"),
        (b" " * (1 << 20) + b"\n", "over 1,048,576 bytes"),
        (b"a." * 200 + b"b = 1", "has a key of more than"),
        (None, "can't be read: no such file"),
    ],
    ids=["value", "table", "encoding", "size", "key", "none"],
)
def test_what_is_no_job_file_is_told(data: bytes | None, told: str, tmp_path: Path) -> None:
    """In one line, with exit code 2, and no desk begins."""
    if data is not None:
        (tmp_path / "job.toml").write_bytes(data)
    done = typed("desk", "job.toml", "--no-open", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stdout == b""
    (line,) = done.stderr.decode().splitlines()
    assert told in line


def test_a_job_file_with_faults_opens(tmp_path: Path) -> None:
    """So long as it is TOML: each fault stands at its field, those of no field are told."""
    text = LEAST.replace('width = "88"', 'width = "88 feet of it"\ncolour = "red"\ncount = 7.5')
    (tmp_path / "job.toml").write_text(text)
    with running(tmp_path, "job.toml", "--no-open") as desk:
        start = desk.start()
        assert start["left_out"] == ["window[1].colour"]
        (fault,) = start["faults"]
        assert fault["path"] == ""
        assert fault["text"].startswith("window[1].colour: ")
        seen = desk.ask("/look", {"seq": 1, "answers": start["answers"], "window": 1}).json
        at = {field["path"]: field["fault"] for group in seen["form"] for field in group["fields"]}
        assert "88 feet of it" in at["window[1].width"]
        assert "7.5" in at["window[1].count"]
        assert [path for path, fault in at.items() if fault] == [
            "window[1].width",
            "window[1].count",
        ]


def test_small_answers_go_at_once(tmp_path: Path) -> None:
    """No part of an answer waits for the browser to confirm the one before, which takes 40 ms."""
    with running(tmp_path) as desk:
        connection = HTTPConnection("127.0.0.1", desk.port)
        taken = []
        for _ in range(20):
            begun = time.perf_counter()
            connection.request("GET", "/icon.svg")
            connection.getresponse().read()
            taken.append(time.perf_counter() - begun)
        connection.close()
    # A connection's first answers are confirmed at once; a busy machine delays some, not all.
    assert min(taken[10:]) < 0.03, taken


def test_a_folder_is_begun_in(tmp_path: Path) -> None:
    """A folder in the place of a job file is where a new one goes."""
    inner = tmp_path / "inner"
    inner.mkdir()
    with running(tmp_path, "inner", "--no-open") as desk:
        assert desk.start()["folder"] == "inner"
        body = {"answers": ANSWERS, "name": "mine", "revision": None, "replace": False}
        assert desk.ask("/save", body).json["file"] == "mine.toml"
    assert [path.name for path in inner.iterdir()] == ["mine.toml"]


def test_the_newest_of_a_page_counts(tmp_path: Path) -> None:
    """A picture that takes long is dropped when its page has asked for the next one.

    How long it takes is the machine's, so the next is asked for sooner until the first isn't done.
    """
    with running(tmp_path, "--no-open") as desk:
        desk.start()
        wide = {**ANSWERS, "window[1].width": "3900", "pole.diameter": "1 3/8"}
        answered: dict[tuple[str, int], int] = {}

        def look(page: str, seq: int, answers: dict[str, str]) -> None:
            body = {"seq": seq, "answers": answers, "window": 1}
            told = desk.ask("/look", body, page)
            answered[page, seq] = told.status
            if told.status == 409:
                assert told.json == {"dropped": True}
            else:
                assert told.json["seq"] == seq

        for first, soon in ((1, 0.2), (3, 0.1), (5, 0.05), (7, 0.02), (9, 0.01)):
            slow = threading.Thread(target=look, args=("a", first, wide))
            other = threading.Thread(target=look, args=("b", first, wide))
            slow.start()
            other.start()
            time.sleep(soon)
            look("a", first + 1, ANSWERS)
            slow.join()
            other.join()
            assert (answered["a", first + 1], answered["b", first]) == (200, 200)
            if answered["a", first] == 409:
                break
        assert answered["a", first] == 409
        look("a", first, ANSWERS)  # it comes late
        assert answered["a", first] == 409


ASKER = ("/look", "page")
T = TypeVar("T")


def _run(asked: Callable[[], Coroutine[Any, Any, T]]) -> T:
    """Run it in a thread's own loop: the browser's tests have one going in this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(lambda: asyncio.run(asked())).result(PATIENCE)


def test_what_waits_is_dropped_unasked() -> None:
    """Work that waits for its turn isn't begun once something newer has come."""
    begun = []
    held = threading.Event()

    def work(number: int) -> int:
        begun.append(number)
        held.wait(PATIENCE)
        return number

    async def asked() -> list[object]:
        limited = Limited(1)
        tasks = [asyncio.create_task(limited.newest(ASKER, n, work, n)) for n in (1, 2, 3, 4)]
        await asyncio.sleep(0.05)
        held.set()
        return await asyncio.gather(*tasks, return_exceptions=True)

    *elder, newest = _run(asked)
    assert newest == 4
    assert all(isinstance(each, DroppedError) for each in elder)
    assert begun == [1, 4]


def test_the_page_that_asked_longest_ago_is_forgotten() -> None:
    """So many pages are kept in mind and no more; one that goes on asking always is."""

    async def asked() -> None:
        limited = Limited(1)

        async def ask(page: str, seq: int) -> int:
            return await limited.newest(("/look", page), seq, int)

        await ask("kept", 8)
        for number in range(1, MOST_ASKERS):
            await ask(f"other-{number}", 9)
        await ask("kept", 9)
        await ask("one more", 9)
        for page in ("kept", "other-2", "one more"):
            with pytest.raises(DroppedError):
                await ask(page, 8)
        assert await ask("other-1", 8) == 0

    _run(asked)


def test_only_so_much_runs_at_once() -> None:
    """However many ask."""
    most, now, lock = [0], [0], threading.Lock()

    def work() -> None:
        with lock:
            now[0] += 1
            most[0] = max(most[0], now[0])
        time.sleep(0.02)
        with lock:
            now[0] -= 1

    async def asked() -> None:
        limited = Limited(2)
        await asyncio.gather(*(limited.run(work) for _ in range(12)))

    _run(asked)
    assert most == [2]


def test_no_work_keeps_the_program() -> None:
    """It ends with its loop, though a thread would go on for long."""
    code = (
        "import asyncio, time\n"
        "from drapetemplate.desk.in_threads import Limited\n"
        "async def asked():\n"
        f"    await asyncio.wait([asyncio.create_task(Limited(1).run(time.sleep, {PATIENCE}))],\n"
        "        timeout=0.05)\n"
        "asyncio.run(asked())"
    )
    began = time.monotonic()
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)
    assert time.monotonic() - began < PATIENCE / 2


def test_the_command_line_is_loaded_without_it() -> None:
    """No other command waits for the server's libraries."""
    code = (
        "import sys, drapetemplate.cli; print(*sorted({m.partition('.')[0] for m in sys.modules}))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=ROOT
    )
    loaded = set(done.stdout.split())
    assert "drapetemplate" in loaded
    assert loaded.isdisjoint({"starlette", "uvicorn", "tomlkit", "anyio", "h11", "asyncio"})
