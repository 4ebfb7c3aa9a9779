"""The desk's addresses: each handler reads a request, calls the package, and answers.

Every answer but a PDF is a JSON object. A request that can't be answered gets {"faults": [...]} and
a status of 400 or more; one whose page has sent a newer one meanwhile {"dropped": true} and 409.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from pathlib import Path
from typing import Any, TypeVar
from urllib.parse import quote

from pydantic import BaseModel
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from drapetemplate.desk import requests
from drapetemplate.desk.counts import common, counts
from drapetemplate.desk.desk_job import ConflictError, DeskJob
from drapetemplate.desk.guard import refused
from drapetemplate.desk.in_threads import DroppedError, Limited
from drapetemplate.desk.jobs_here import jobs_here
from drapetemplate.desk.look import look
from drapetemplate.desk.pdf import Made, approval_pdf, pdf
from drapetemplate.desk.positions import positions
from drapetemplate.desk.refusals import in_words
from drapetemplate.desk.week import Week, week, week_csv, week_pdf, week_shown
from drapetemplate.desk.whole import whole
from drapetemplate.desk.windows import add_window, copy_window, remove_window
from drapetemplate.errors import DrapeError
from drapetemplate.interview.job_in_file import NotInPlaceError
from drapetemplate.measures import printable
from drapetemplate.report.shelf_text import cut
from drapetemplate.shelf.listing import found_by

STATIC = Path(__file__).parent / "static"
PAGE_HEADER = "x-desk-page"
LONGEST_PAGE_NAME = 100

Body = TypeVar("Body", bound=BaseModel)
Work = Callable[[str, Body], Response]
"""Takes the name of a page and the body it sent."""


def build(job: DeskJob) -> Starlette:
    """Return the application that answers for one job, without what guards it."""
    # Files are for one at a time, in the order of coming. A key typed while the one before is
    # still at work isn't to wait for that; what is asked for once typing rests takes turns, so that
    # it leaves the next key time enough.
    on_files, at_rest, on_order = Limited(1), Limited(1), Limited(1)
    return Starlette(
        routes=[
            _post("/start", requests.Start, lambda page, body: _start(job, page, body), on_files),
            _post("/jobs", requests.Nothing, lambda _page, _: _jobs(job), Limited(1)),
            _post("/save", requests.Save, lambda page, body: _save(job, page, body), on_files),
            _post("/draft", requests.Draft, lambda page, body: _draft(job, page, body), on_files),
            _post("/pdf", requests.Pdf, lambda page, body: _pdf(job, page, body), Limited(1)),
            _post(
                "/approval",
                requests.Approval,
                lambda page, body: _approval(job, page, body),
                Limited(1),
            ),
            _post("/order", requests.Week, _order_shown(job), on_order),
            _post("/order-pdf", requests.Week, _order_file(job, week_pdf, "order.pdf"), on_order),
            _post("/order-csv", requests.Week, _order_file(job, week_csv, "order.csv"), on_order),
            _post("/look", requests.Look, _look, Limited(2)),
            _post("/positions", requests.OfWindow, _of_window(positions), at_rest),
            _post("/counts", requests.OfWindow, _of_window(_counts), at_rest),
            _post("/whole", requests.OfAll, _whole, at_rest),
            _post("/windows", requests.Windows, _windows, Limited(1)),
            Mount("/", StaticFiles(directory=STATIC, html=True)),
        ],
        exception_handlers={HTTPException: _not_there, Exception: _broken},
    )


def _post(path: str, shape: type[Body], work: Work[Body], limited: Limited) -> Route:
    """The route of one kind of work: of what has a number, a page's newest request counts."""

    async def answer(request: Request) -> Response:
        page = request.headers.get(PAGE_HEADER, "")[:LONGEST_PAGE_NAME]
        try:
            body = requests.read(await request.body(), shape)
            seq = getattr(body, "seq", None)
            if seq is None:
                return await limited.run(work, page, body)
            return await limited.newest((path, page), seq, work, page, body)
        except DroppedError:
            return JSONResponse({"dropped": True}, 409)
        except ConflictError as error:
            return JSONResponse(requests.as_json(error.faults), 409)
        except DrapeError as error:
            told = requests.as_json(error.faults)
            if isinstance(error, NotInPlaceError):
                told["other_name"] = True  # under which it can be saved
            return JSONResponse(told, 422)

    return Route(path, answer, methods=["POST"])


def _start(job: DeskJob, page: str, body: requests.Start) -> Response:
    start = job.start(page, body.file)
    return JSONResponse(
        {
            "file": start.opened.name,
            "folder": job.folder.name,
            "answers": dict(start.answers),
            "from": start.source,
            "in_file": dict(start.opened.answers),
            "accept": list(start.accept),
            "left_on": start.left_on,
            "differs": [asdict(each) for each in start.differs],
            "revision": start.opened.revision,
            "left_out": [] if start.opened.file is None else list(start.opened.file.left_out),
        }
        | requests.as_json(start.faults)
    )


def _jobs(job: DeskJob) -> Response:
    here = jobs_here(job.folder)
    jobs = [
        {
            "file": each.file,
            "number": printable(cut(each.job.number)),
            "name": printable(cut(each.job.name)),
            "client": printable(cut(each.job.client)),
            "due": each.job.due.isoformat() if each.job.due else None,
            "found_by": found_by(each.job),
        }
        for each in here.jobs
    ]
    return JSONResponse({"jobs": jobs, "more": here.more})


def _save(job: DeskJob, page: str, body: requests.Save) -> Response:
    saved = job.save(page, body.answers, body.name, body.revision)
    return JSONResponse({"file": saved.name, "revision": saved.revision})


def _draft(job: DeskJob, page: str, body: requests.Draft) -> Response:
    return JSONResponse({"differs": job.keep(page, body.answers, body.accept)})


def _pdf(job: DeskJob, page: str, body: requests.Pdf) -> Response:
    data, stem = job.would_save(page, body.answers)
    return _to_keep(lambda: pdf(data, body.accept, body.part), stem, body.answers)


def _approval(job: DeskJob, page: str, body: requests.Approval) -> Response:
    data, stem = job.would_save(page, body.answers)
    return _to_keep(lambda: approval_pdf(data), stem, body.answers)


def _to_keep(make: Callable[[], Made], stem: str, answers: Mapping[str, str]) -> Response:
    """A PDF as a file for the browser to keep, under the job file's name."""
    try:
        made = make()
    except DrapeError as error:
        raise in_words(error, answers) from error
    name = quote(f"{stem}{made.ending}", safe="")
    headers = {
        "Content-Disposition": f"attachment; filename*=UTF-8''{name}",
        "X-Desk-Parts": str(made.parts),
    }
    return Response(made.data, media_type="application/pdf", headers=headers)


def _look(_page: str, body: requests.Look) -> Response:
    return JSONResponse({"seq": body.seq} | look(body.answers, body.window, body.room))


def _order_shown(job: DeskJob) -> Work[requests.Week]:
    """What shows the order for the folder's jobs."""
    return lambda _, body: JSONResponse(week_shown(job.folder, body.due_before))


def _order_file(job: DeskJob, make: Callable[[Week], bytes], name: str) -> Work[requests.Week]:
    """What hands the same to the browser to keep, as a file of this name."""
    kind = "application/pdf" if name.endswith(".pdf") else "text/csv"
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return lambda _, body: Response(
        make(week(job.folder, body.due_before)), media_type=kind, headers=headers
    )


def _of_window(show: Callable[[Mapping[str, str], int], dict[str, Any]]) -> Work[requests.OfWindow]:
    """What shows one window of a page's answers."""
    return lambda _, body: JSONResponse({"seq": body.seq} | show(body.answers, body.window))


def _counts(answers: Mapping[str, str], window: int) -> dict[str, Any]:
    shown = counts(answers, window)
    return {"counts": shown, "common": common(shown)}


def _whole(_page: str, body: requests.OfAll) -> Response:
    return JSONResponse({"seq": body.seq} | whole(body.answers, body.accept))


def _windows(_page: str, body: requests.Windows) -> Response:
    match body.action:
        case "add":
            now = add_window(body.answers)
        case "copy":
            now = copy_window(body.answers, body.window)
        case "remove":
            now = remove_window(body.answers, body.window)
    return JSONResponse({"answers": now.answers, "window": now.window, "told": list(now.told)})


async def _not_there(_request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    return refused(status, "the desk has nothing there")


async def _broken(_request: Request, _error: Exception) -> Response:
    """What a page is told where the desk itself is at fault; the terminal has the rest."""
    return refused(500, "the desk is at fault itself; the terminal says more")
