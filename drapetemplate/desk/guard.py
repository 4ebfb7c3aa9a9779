"""What stands before every request to the desk: it lets through what the desk's own page sends.

Anything that runs in a browser can reach a port of this computer, from any page of the net, and so
can every other user of it. So a request must name this very server as its host, come from no other
page, and, where it asks for more than the page's own files, bring the key of this run. A body comes
whole, in time and small, or not at all.
"""

from __future__ import annotations

import asyncio
import secrets
from dataclasses import dataclass, field

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from drapetemplate.wording import counted

MOST_BODY = 1 << 20
"""Bytes of a request's body."""
BODY_TIME = 10.0
"""Seconds in which a body is to be there whole."""
KEY_HEADER = "x-desk-key"

HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
        "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
"""What every answer tells the browser: nothing but our own files, in nobody's frame, kept
nowhere."""


class RefusedError(Exception):
    """A request that isn't let through: its status, and why in words."""

    def __init__(self, status: int, text: str) -> None:
        self.status, self.text = status, text
        super().__init__(text)


@dataclass(frozen=True, slots=True)
class Guard:
    """An ASGI application that hands on to `app` what comes from its own page on `port`."""

    app: ASGIApp
    port: int
    key: str = field(repr=False)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand a request on to the application, or refuse it; every answer gets HEADERS."""
        if scope["type"] != "http":
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(HEADERS)
            await send(message)

        try:
            self._check(scope)
            if scope["method"] == "POST":
                receive = await self._with_body(receive)
        except RefusedError as refusal:
            await refused(refusal.status, refusal.text)(scope, receive, send_with_headers)
            return
        except ConnectionError:
            return  # whoever sent half a body has gone
        await self.app(scope, receive, send_with_headers)

    def _check(self, scope: Scope) -> None:
        """Refuse a request that isn't our own page's."""
        headers = Headers(scope=scope)
        hosts = headers.getlist("host")
        if hosts not in ([f"127.0.0.1:{self.port}"], [f"localhost:{self.port}"]):
            raise RefusedError(403, "this isn't the desk's address")
        if any(origin != f"http://{hosts[0]}" for origin in headers.getlist("origin")):
            raise RefusedError(403, "another page asked for this")
        ours = {"same-origin", "none"}
        if _leads_here(scope, headers):
            ours.add("cross-site")
        if any(site not in ours for site in headers.getlist("sec-fetch-site")):
            raise RefusedError(403, "another page asked for this")
        match scope["method"]:
            case "GET" | "HEAD":
                return
            case "POST":
                self._check_post(headers)
            case _:
                raise RefusedError(405, "the desk takes GET and POST")

    def _check_post(self, headers: Headers) -> None:
        keys = headers.getlist(KEY_HEADER)
        if len(keys) != 1 or not secrets.compare_digest(keys[0].encode(), self.key.encode()):
            raise RefusedError(403, "no key of this run: open the address that the terminal shows")
        kinds = headers.getlist("content-type")
        if [kind.partition(";")[0].strip().lower() for kind in kinds] != ["application/json"]:
            raise RefusedError(415, "the desk takes JSON")
        length = headers.get("content-length", "0")
        if not length.isdecimal() or len(length) > 10 or int(length) > MOST_BODY:
            raise RefusedError(413, f"over {counted(MOST_BODY, 'byte')}")

    async def _with_body(self, receive: Receive) -> Receive:
        """Read a body to its end; return a `receive` that has it whole."""
        body = bytearray()
        try:
            async with asyncio.timeout(BODY_TIME):
                more = True
                while more:
                    message = await receive()
                    if message["type"] == "http.disconnect":
                        raise ConnectionError
                    body += message.get("body", b"")
                    if len(body) > MOST_BODY:
                        raise RefusedError(413, f"over {counted(MOST_BODY, 'byte')}")
                    more = message.get("more_body", False)
        except TimeoutError:
            raise RefusedError(408, "the request didn't come to its end in time") from None
        whole: list[Message] = [
            {"type": "http.request", "body": bytes(body), "more_body": False},
        ]

        async def receive_whole() -> Message:
            return whole.pop() if whole else await receive()

        return receive_whole


def _leads_here(scope: Scope, headers: Headers) -> bool:
    """Whether a browser goes to the page itself, as it does from the file that leads there.

    To a browser that file is another site. The page has nothing of the job, nor the key.
    """
    how = [headers.getlist(f"sec-fetch-{name}") for name in ("mode", "dest")]
    return scope["method"] == "GET" and scope["path"] == "/" and how == [["navigate"], ["document"]]


def refused(status: int, text: str, path: str = "") -> JSONResponse:
    """Return the answer that refuses a request: one fault, in the shape of all others."""
    headers = {"Connection": "close"} if status in {408, 413} else None
    return JSONResponse({"faults": [{"path": path, "text": text}]}, status, headers)
