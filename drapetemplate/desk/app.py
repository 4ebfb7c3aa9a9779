"""The desk's addresses: each handler reads a request, calls the package, and answers.

Every answer but a PDF is a JSON object. A request that can't be answered gets {"faults": [...]} and
a status of 400 or more.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from drapetemplate.desk.desk_job import DeskJob
from drapetemplate.desk.guard import refused
from drapetemplate.desk.look import look

STATIC = Path(__file__).parent / "static"

Handler = Callable[[Request], Awaitable[Response]]


def build(job: DeskJob) -> Starlette:
    """Return the application that answers for one job, without what guards it."""

    async def start(_request: Request) -> Response:
        return JSONResponse(
            {
                "file": job.name,
                "folder": job.folder.name,
                "answers": {},
                "from": "new" if job.name is None else "file",
                "revision": job.revision,
                "left_out": [],
                "faults": [],
            }
        )

    async def see(request: Request) -> Response:
        body = await request.json()
        return JSONResponse({"seq": body["seq"]} | look(body["answers"], body["window"]))

    def empty(**shape: Any) -> Handler:  # noqa: ANN401  # any JSON
        async def answer(request: Request) -> Response:
            body = await request.json()
            return JSONResponse({"seq": body.get("seq")} | shape)

        return answer

    async def not_found(_request: Request, error: Exception) -> Response:
        status = error.status_code if isinstance(error, HTTPException) else 500
        return refused(status, "the desk has nothing there")

    return Starlette(
        routes=[
            Route("/start", start, methods=["POST"]),
            Route("/look", see, methods=["POST"]),
            Route("/positions", empty(panels=[]), methods=["POST"]),
            Route("/counts", empty(counts=[]), methods=["POST"]),
            Route("/whole", empty(faults=[], findings=[]), methods=["POST"]),
            Route("/windows", empty(answers={}, window=1), methods=["POST"]),
            Route("/pdf", empty(), methods=["POST"]),
            Route("/save", empty(), methods=["POST"]),
            Route("/draft", empty(), methods=["POST"]),
            Mount("/", StaticFiles(directory=STATIC, html=True)),
        ],
        exception_handlers={HTTPException: not_found},
    )
