"""What the desk lets through and what it refuses, at a real server's socket.

The list is of what anyone could send: a page of the net in the same browser, another user of the
computer, a program that looks for open ports.
"""

from __future__ import annotations

import json
import random
import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest

from tests.helpers.desk_server import HASTY, SHORT, RunningDesk, running, until
from tests.helpers.jobfiles import LEAST

MIB = 1 << 20
JOB = f"{LEAST}[[window]]\nwidth = 88\n"
POSTS = [
    "/start", "/look", "/positions", "/counts", "/whole", "/windows",
    "/pdf", "/approval", "/save", "/draft",
]  # fmt: skip


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[RunningDesk]:
    """A desk with a job open, and something outside its folder that it must not touch."""
    outside = tmp_path_factory.mktemp("outside")
    folder = outside / "folder"
    folder.mkdir()
    (folder / "job.toml").write_text(JOB)
    (outside / "secret.toml").write_text(JOB)
    with running(folder, "job.toml", "--no-open", program=HASTY) as desk:
        yield desk


@pytest.fixture(autouse=True)
def _lives_on(desk: RunningDesk) -> Iterator[None]:
    """After each request the desk answers its own page, and has said nothing."""
    yield
    assert desk.lives()


def own(desk: RunningDesk, **changed: str | None) -> dict[str, str]:
    """The headers of the desk's own page with some changed, by name; None leaves one out."""
    headers: dict[str, str | None] = dict(desk.own_headers())
    headers |= {name.replace("_", "-"): value for name, value in changed.items()}
    return {name: value for name, value in headers.items() if value is not None}


def test_its_own_page_is_answered(desk: RunningDesk) -> None:
    """By either name of this computer, and from a browser that says nothing of where from."""
    local = f"localhost:{desk.port}"
    for headers in (
        own(desk),
        own(desk, Host=local, Origin=f"http://{local}"),
        own(desk, Origin=None, Sec_Fetch_Site=None),
        own(desk, Content_Type="application/json; charset=utf-8"),
    ):
        assert desk.send("POST", "/start", b"{}", headers).status == 200


@pytest.mark.parametrize(
    ("changed", "status"),
    [
        ({"X-Desk-Key": None}, 403),
        ({"X-Desk-Key": ""}, 403),
        ({"X-Desk-Key": "x" * 32}, 403),
        ({"X-Desk-Key": "{key}x"}, 403),
        ({"X-Desk-Key": "{half of key}"}, 403),
        ({"X-Desk-Key": "k\xe9y"}, 403),
        ({"Host": "heron.example"}, 403),
        ({"Host": "heron.example:{port}"}, 403),
        ({"Host": "127.0.0.1"}, 403),
        ({"Host": "127.0.0.1:1"}, 403),
        ({"Host": "127.0.0.2:{port}"}, 403),
        ({"Host": "[::1]:{port}"}, 403),
        ({"Host": "localhost.:{port}"}, 403),
        ({"Host": "user@127.0.0.1:{port}"}, 403),
        ({"Origin": "null"}, 403),
        ({"Origin": "http://heron.example"}, 403),
        ({"Origin": "http://127.0.0.1"}, 403),
        ({"Origin": "http://127.0.0.1:1"}, 403),
        ({"Origin": "http://localhost:{port}"}, 403),
        ({"Origin": "https://127.0.0.1:{port}"}, 403),
        ({"Origin": ""}, 403),
        ({"Sec-Fetch-Site": "cross-site"}, 403),
        ({"Sec-Fetch-Site": "same-site"}, 403),
        ({"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}, 403),
        ({"Content-Type": None}, 415),
        ({"Content-Type": "text/plain"}, 415),
        ({"Content-Type": "application/x-www-form-urlencoded"}, 415),
        ({"Content-Type": "multipart/form-data; boundary=x"}, 415),
    ],
)
@pytest.mark.parametrize("path", ["/start", "/save"])
def test_a_strangers_request_is_refused(
    changed: dict[str, str | None], status: int, path: str, desk: RunningDesk
) -> None:
    """With one thing wrong it is refused, in the shape of every answer, and nothing is written."""
    changed = {
        name: value
        and value.format_map({"port": desk.port, "key": desk.key, "half of key": desk.key[:16]})
        for name, value in changed.items()
    }
    if "Host" in changed:
        changed["Origin"] = None  # which would be refused itself
    before = listing(desk)
    body: dict[str, Any] = {"answers": {}, "name": "mine", "revision": None, "replace": False}
    data = json.dumps(body if path == "/save" else {}).encode()
    answer = desk.send("POST", path, data, own(desk, **changed))
    assert answer.status == status
    assert answer.faults[0]
    assert listing(desk) == before


def folder_of(desk: RunningDesk) -> Path:
    """The folder that the desk was started in."""
    return Path(f"/proc/{desk.process.pid}/cwd").readlink()


def listing(desk: RunningDesk) -> dict[str, bytes]:
    """Every file of the desk's folder, and of the one above it."""
    above = folder_of(desk).parent
    return {
        str(path.relative_to(above)): path.read_bytes()
        for path in above.rglob("*")
        if path.is_file() and path.suffix != ".draft"
    }


@pytest.mark.parametrize("path", POSTS)
def test_every_route_wants_the_key(path: str, desk: RunningDesk) -> None:
    """There is none that answers without it, or to another method."""
    assert desk.send("POST", path, b"{}", own(desk, X_Desk_Key=None)).status == 403
    assert desk.send("GET", path, None, own(desk)).status == 404
    assert desk.send("POST", f"{path}/", b"{}", own(desk)).status in {404, 405}


@pytest.mark.parametrize(
    "method", ["OPTIONS", "PUT", "DELETE", "PATCH", "TRACE", "CONNECT", "PROPFIND", "get"]
)
def test_other_methods_are_refused(method: str, desk: RunningDesk) -> None:
    """A preflight among them: nothing is allowed to any other page."""
    asking = {
        "Access-Control-Request-Method": "POST",
        "Access-Control-Request-Headers": "x-desk-key",
    }
    answer = desk.send(method, "/start", b"", {**own(desk), **asking})
    assert answer.status == 405
    assert answer.faults == ["the desk takes GET and POST"]
    assert not [name for name in answer.headers if name.startswith("access-control")]


def test_the_pages_files_are_for_itself(desk: RunningDesk) -> None:
    """They need no key, but another site's page can't have them, or be at another address."""
    host = {"Host": f"127.0.0.1:{desk.port}"}
    for path in ("/", "/main.js", "/style.css"):
        assert desk.send("GET", path, None, host).status == 200
        assert desk.send("GET", path, None, {"Host": "heron.example"}).status == 403
        embedded = {**host, "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Dest": "script"}
        assert desk.send("GET", path, None, embedded).status == 403
        framed = {**host, "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}
        assert desk.send("GET", path, None, framed | {"Sec-Fetch-Dest": "iframe"}).status == 403
    gone_to = {**host, "Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate"}
    gone_to |= {"Sec-Fetch-Dest": "document"}
    assert desk.send("GET", "/", None, gone_to).status == 200  # from the file that leads there
    assert desk.send("GET", "/main.js", None, gone_to).status == 403
    assert desk.send("HEAD", "/", None, gone_to).status == 403
    assert desk.send("POST", "/", b"{}", {**own(desk), **gone_to}).status == 403


def test_every_answer_shuts_the_browser_in(desk: RunningDesk) -> None:
    """Whatever is answered, a page can use nothing but the desk, and nothing is kept."""
    answers = [
        desk.send("GET", "/", None, own(desk)),
        desk.send("GET", "/nothing", None, own(desk)),
        desk.send("GET", "/start", None, own(desk)),
        desk.send("GET", "/", None, {"Host": "heron.example"}),
        desk.ask("/start", {}),
        desk.ask("/start", []),
        desk.ask("/pdf", {"answers": desk.start()["answers"], "accept": [], "part": 0}),
    ]
    assert [answer.status for answer in answers] == [200, 404, 404, 403, 200, 422, 200]
    for answer in answers:
        policy = [each.strip() for each in answer.headers["content-security-policy"].split(";")]
        assert policy[0] == "default-src 'none'"
        assert {each.split(" ", 1)[1] for each in policy} == {"'none'", "'self'"}
        assert {each.split(" ", 1)[0] for each in policy} >= {
            "base-uri", "form-action", "frame-ancestors",
        }  # fmt: skip
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["cross-origin-opener-policy"] == "same-origin"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"
        assert "set-cookie" not in answer.headers
        assert "server" not in answer.headers


@pytest.mark.parametrize(
    "body",
    [
        b"", b"{", b"[]", b"null", b"1", b'"x"', b"\xff\xfe{}", b"{}{}", b"NaN", b'{"seq": NaN}',
        b"[" * 100_000, b'{"a":' * 50_000, b'{"seq": ' + b"9" * 5000 + b"}",
        b'{"answers": {}}', b'{"answers": [], "seq": 1, "window": 1}',
        b'{"answers": {"units": 1}, "seq": 1, "window": 1}',
        b'{"answers": {"units": null}, "seq": 1, "window": 1}',
        b'{"answers": {}, "seq": "1", "window": 1}', b'{"answers": {}, "seq": 1, "window": 0}',
        b'{"answers": {}, "seq": 1, "window": 1.5}', b'{"answers": {}, "seq": 1, "window": 1001}',
        b'{"answers": {}, "seq": true, "window": 1}', b'{"answers": {}, "seq": 1, "window": true}',
        b'{"answers": {}, "seq": 1, "window": 1, "more": 1}',
        b'{"answers": {"window[1001].width": "8"}, "seq": 1, "window": 1}',
        b'{"answers": {"window[99999999999].width": "8"}, "seq": 1, "window": 1}',
        b'{"answers": {"window[0].width": "8"}, "seq": 1, "window": 1}',
        b'{"answers": {"window[-1].width": "8"}, "seq": 1, "window": 1}',
        b'{"answers": {"window[\xd9\xa1].width": "8"}, "seq": 1, "window": 1}',
    ],
)  # fmt: skip
@pytest.mark.parametrize("path", ["/look", "/save"])
def test_json_of_another_shape_is_refused(body: bytes, path: str, desk: RunningDesk) -> None:
    """What is no JSON, or says other things than a page does, is told in a line."""
    answer = desk.send("POST", path, body, own(desk))
    assert answer.status == 422
    (fault,) = answer.faults
    assert 10 < len(fault) < 100


@pytest.mark.parametrize(
    "text",
    [
        "\ud800",
        "\0",
        "\x1b[31m",
        "\u202e88",
        "8" * 300_000,
        "<script>alert(1)</script>",
        "'; --",
        "\n",
    ],
)
@pytest.mark.parametrize(
    "path", ["job.name", "window[1].width", "window[1].?route", "units", "nobody.asks", "", "?"]
)
def test_any_text_is_an_answer(text: str, path: str, desk: RunningDesk) -> None:
    """Whatever was typed, and whatever its path is called, the whole page is answered."""
    answers = desk.start()["answers"] | {path: text}
    for route, more in (("/look", {"window": 1}), ("/whole", {"accept": []})):
        answer = desk.ask(route, {"seq": 1, "answers": answers, **more}, page=f"{path}{text[:3]!a}")
        assert answer.status == 200
        assert "\ud800" not in json.dumps(answer.json, ensure_ascii=False)


def test_a_body_over_a_mebibyte_is_refused(desk: RunningDesk) -> None:
    """By what it says of its length, or by what comes; one as long as may be is read."""
    for length in (MIB + 1, 2 * MIB, 10**12):
        assert desk.raw(request_of(desk, b"", said=length)).startswith(b"HTTP/1.1 413 ")
    assert desk.send("POST", "/start", b" " * MIB, own(desk)).status == 422  # no JSON
    head = request_of(desk, b"").replace(b"Content-Length: 0", b"Transfer-Encoding: chunked")
    chunk = b"10000\r\n" + b" " * 65536 + b"\r\n"
    assert desk.raw(head + chunk * 16 + b"0\r\n\r\n").startswith(b"HTTP/1.1 422 ")
    assert desk.raw(head + chunk * 16 + b"1\r\n \r\n").startswith(b"HTTP/1.1 413 ")


@pytest.mark.parametrize(
    "length", ["-1", "1e3", "0x10", "99999999999999999999", "\u0661", "+5", " "]
)
def test_a_length_that_is_none_is_refused(length: str, desk: RunningDesk) -> None:
    """Never read as a number it isn't."""
    headers = own(desk, Content_Length=length)
    head = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
    told = desk.raw(f"POST /start HTTP/1.1\r\n{head}\r\n{{}}".encode(), wait=SHORT * 4)
    assert told.startswith((b"HTTP/1.1 400 ", b"HTTP/1.1 413 "))


def request_of(desk: RunningDesk, body: bytes, said: int | None = None) -> bytes:
    """A whole request of the desk's own page, which says a length of its body."""
    headers = own(desk, Content_Length=str(len(body) if said is None else said))
    head = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
    return f"POST /start HTTP/1.1\r\n{head}\r\n".encode() + body


@pytest.mark.parametrize(
    ("again", "status"),
    [
        ("X-Desk-Key: {key}", 403),
        ("X-Desk-Key: x", 403),
        ("Origin: http://heron.example", 403),
        ("Sec-Fetch-Site: cross-site", 403),
        ("Content-Type: text/plain", 415),
    ],
)
def test_a_header_said_twice_is_all_looked_at(again: str, status: int, desk: RunningDesk) -> None:
    """One that is right doesn't let another through, whichever comes first."""
    first, rest = request_of(desk, b"{}").split(b"\r\n", 1)
    line = again.format(key=desk.key).encode()
    head, body = rest.split(b"\r\n\r\n", 1)
    close = b"Connection: close"
    for headers in ([line, head, close], [head, line, close]):
        told = desk.raw(b"\r\n".join([first, *headers, b"", body]))
        assert told.startswith(b"HTTP/1.1 %d " % status)


def test_a_torn_request_is_let_go(desk: RunningDesk) -> None:
    """Wherever the one who sends it goes away."""
    whole = request_of(desk, b"{                 }")
    for cut in range(0, len(whole), 7):
        with socket.create_connection(("127.0.0.1", desk.port)) as connection:
            connection.sendall(whole[:cut])


def test_a_slow_body_is_not_waited_for(desk: RunningDesk) -> None:
    """What isn't there in time is refused, a byte now and then or not; the desk hangs up."""
    began = time.monotonic()
    assert desk.raw(request_of(desk, b"{", said=100)).startswith(b"HTTP/1.1 408 ")
    assert time.monotonic() - began < SHORT + 5
    with socket.create_connection(("127.0.0.1", desk.port)) as connection:
        connection.sendall(request_of(desk, b"{", said=100_000))
        assert ends(connection)


@pytest.mark.parametrize("begun", [b"", b"POST /start HTTP/1.1\r\nHost: 127"])
def test_a_slow_head_is_not_waited_for(begun: bytes, desk: RunningDesk) -> None:
    """Nor is one who only connects, or sends a byte of a head now and then."""
    with socket.create_connection(("127.0.0.1", desk.port)) as connection:
        connection.sendall(begun)
        assert ends(connection)


def test_a_slow_head_after_a_request_is_not_waited_for(desk: RunningDesk) -> None:
    """A connection that was used before has no more time than a new one."""
    with socket.create_connection(("127.0.0.1", desk.port)) as connection:
        connection.sendall(request_of(desk, b"{}"))
        until(lambda: b"\r\n\r\n" in connection.recv(65536))
        assert ends(connection)


def ends(connection: socket.socket) -> bool:
    """Whether the desk hangs up, though a byte comes now and then."""
    connection.settimeout(0.1)
    until_then = time.monotonic() + SHORT + 8
    while time.monotonic() < until_then:
        try:
            connection.sendall(b"x")
            if not connection.recv(65536):
                return True
        except TimeoutError:
            continue
        except OSError:
            return True
    return False


def test_many_connections_leave_it_free_again(desk: RunningDesk) -> None:
    """Whoever takes all of them has them for as long as a head may take."""
    with ExitStack() as stack:
        for _ in range(100):
            stack.enter_context(socket.create_connection(("127.0.0.1", desk.port)))
        until(lambda: desk.ask("/start", {}).status == 200)


def test_what_is_no_http_is_let_go(desk: RunningDesk) -> None:
    """Bytes of any kind, and requests that are nearly one."""
    rng = random.Random(5)  # noqa: S311  # no secret
    scrawls = [
        b"\0", b"GET", b"GET / HTTP/9.9\r\n\r\n", b"GET  /  HTTP/1.1\r\n\r\n", b"\r\n" * 1000,
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03", b"GET / HTTP/1.1\r\nHost\r\n\r\n",
        b"GET / HTTP/1.1\r\n" + b"A: b\r\n" * 20_000, b"GET /" + b"a" * 200_000,
        b"GET / HTTP/1.1\r\nHost: a\r\nHost: b\r\n\r\n", b"GET / HTTP/1.1\r\n\r\n",
        b"GET http://heron.example/ HTTP/1.1\r\nHost: heron.example\r\n\r\n",
        b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n\r\n",
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
        *(rng.randbytes(rng.randrange(1, 300)) for _ in range(30)),
    ]  # fmt: skip
    for scrawl in scrawls:
        told = desk.raw(scrawl, wait=0.2)
        assert not told or told.startswith((b"HTTP/1.1 4", b"HTTP/1.1 503")), scrawl[:60]


@pytest.mark.parametrize(
    "path",
    [
        "/../app.py", "/..%2fapp.py", "/%2e%2e/app.py", "/%2e%2e%2fapp.py", "/..\\app.py",
        "/..%5capp.py", "//app.py", "///etc/passwd", "/./../app.py", "/%00", "/main.js%00.html",
        "/static/../../app.py", "/%c0%ae%c0%ae/app.py", "/\u2025/app.py", "/" + "a" * 5000,
        "/" + "a/" * 2000, "/.", "/..", "/...", "/%", "/%zz", "/file:///etc/passwd", "/job.toml",
        "/secret.toml", "/../secret.toml", "/__pycache__/app.pyc", "/;/app.py",
    ],
)  # fmt: skip
def test_only_the_pages_files_are_handed_out(path: str, desk: RunningDesk) -> None:
    """No path leads to any other file."""
    head = f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{desk.port}\r\nConnection: close\r\n\r\n"
    told = desk.raw(head.encode(), wait=5)
    refusals = [b"HTTP/1.1 404 ", b"HTTP/1.1 400 "]
    if path == "/.":  # the folder of the page, by another name
        refusals.append(b"HTTP/1.1 307 ")
    assert told.startswith(tuple(refusals)), told[:100]


@pytest.mark.parametrize(
    "name",
    [
        "../mine", "..", ".", "/mine", "a/b", "a\\b", "C:mine", "~", "~/mine", ".hidden", "con",
        "nul.toml", "mine\0", "mi\nne", "", " ", "x" * 300, "mine.toml/", "..\\mine", "mine.",
        "-\u202emine", "../secret", "../folder/job",
    ],
)  # fmt: skip
def test_a_job_file_is_saved_in_its_folder_alone(name: str, desk: RunningDesk) -> None:
    """A name that leads out of it, hides or means something else to a system is refused."""
    start = desk.start()
    before = listing(desk)
    body = {"answers": start["answers"], "name": name, "revision": None, "replace": False}
    answer = desk.ask("/save", body)
    assert answer.status == 422
    assert answer.json["faults"][0]["path"] == "name"
    assert listing(desk) == before


def test_nothing_there_is_written_over(desk: RunningDesk) -> None:
    """Under a new name a file, a folder or a link of that name stays, whatever is asked for."""
    start = desk.start()
    folder = folder_of(desk)
    (folder / "folder.toml").mkdir()
    (folder / "link.toml").symlink_to(folder.parent / "secret.toml")
    (folder / "nowhere.toml").symlink_to(folder.parent / "nowhere.toml")
    (folder / "Other.toml").write_text("# mine\n")
    before = listing(desk)
    for name in ("folder", "link", "nowhere.toml", "Other", "job"):
        for replace in (False, True):
            body: dict[str, Any] = {"answers": start["answers"], "name": name, "revision": None}
            answer = desk.ask("/save", {**body, "replace": replace})
            assert answer.status == 409, name
            assert answer.json["faults"][0]["path"] == "name"
    assert listing(desk) == before
