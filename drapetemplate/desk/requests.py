"""What a page may send: the shapes of its bodies, each read from JSON or refused with a reason."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Annotated, Any, Literal, NoReturn, TypeVar

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from drapetemplate.desk.look import ROOM
from drapetemplate.errors import Fault, JobError
from drapetemplate.interview.check_answers import in_plain_words
from drapetemplate.job.parse import place_of
from drapetemplate.job.tables import MOST_WINDOWS

_WINDOW = re.compile(r"window\[([^\]]*)\]")
_NUMBER = re.compile(r"[1-9][0-9]{0,3}")

Body = TypeVar("Body", bound=BaseModel)


def _as_text(text: str) -> str:
    """A text that a file can hold: JSON's lone surrogates are none."""
    return text.encode("utf-8", "replace").decode()


def _with_windows_there(answers: dict[str, str]) -> dict[str, str]:
    """Answers of as many windows as a job may have."""
    for path in answers:
        window = _WINDOW.match(path)
        if window and not (_NUMBER.fullmatch(window[1]) and int(window[1]) <= MOST_WINDOWS):
            raise ValueError(path)
    return {_as_text(path): _as_text(text) for path, text in answers.items()}


AnswersByPath = Annotated[dict[str, str], AfterValidator(_with_windows_there)]
WindowNumber = Annotated[int, Field(ge=1, le=MOST_WINDOWS)]


class _Shape(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")


class Nothing(_Shape):
    """A request that says nothing but what it asks for."""


class Start(_Shape):
    """Which file a page begins with: one of the folder's, "" for a new job, None for the desk's."""

    file: Annotated[str, AfterValidator(_as_text)] | None = None


class OfWindow(_Shape):
    """Answers, and the window that something is asked about."""

    seq: int
    answers: AnswersByPath
    window: WindowNumber


class Look(OfWindow):
    """The same, and how many millimetres the page has for a picture across."""

    room: Annotated[int, Field(ge=60, le=500)] = ROOM


class OfAll(_Shape):
    """Answers, and the codes of stops that someone takes on."""

    seq: int
    answers: AnswersByPath
    accept: list[str] = []


class Windows(_Shape):
    """Answers, and what is to be done to their windows."""

    answers: AnswersByPath
    action: Literal["add", "copy", "remove"]
    window: WindowNumber


class Pdf(_Shape):
    """Answers, codes taken on, and which of a roll's two PDFs is wanted: 0 template, 1 ticket."""

    answers: AnswersByPath
    accept: list[str] = []
    part: int = 0


class Approval(_Shape):
    """Answers, of which the client's page is wanted."""

    answers: AnswersByPath


class Week(_Shape):
    """The day before which jobs to order for are due, empty for all jobs."""

    due_before: Annotated[str, Field(max_length=40)] = ""


class Save(_Shape):
    """Answers, and the job file to write: the open one of this revision, or a new one's name."""

    answers: AnswersByPath
    name: Annotated[str, AfterValidator(_as_text)] | None
    revision: str | None
    replace: bool = False


class Draft(_Shape):
    """Answers to keep, codes of stops taken on, and the page that keeps them."""

    seq: int | None = None
    answers: AnswersByPath
    accept: list[str] = []
    page: str = ""


def read(body: bytes, shape: type[Body]) -> Body:
    """Return a request's body in its shape; JobError where it is no JSON of that shape."""
    try:
        value = json.loads(body, parse_constant=_no_number)
    except (ValueError, RecursionError):
        raise JobError([Fault("", "the desk takes JSON, and this is none")]) from None
    try:
        return shape.model_validate(value)
    except ValidationError as invalid:
        first = invalid.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"][:1])
        raise JobError([Fault("", f"not what the desk asks for: {where or 'no object'}")]) from None


def _no_number(_word: str) -> NoReturn:
    raise ValueError


def as_json(faults: Iterable[Fault]) -> dict[str, Any]:
    """Return faults as an answer has them: each at the path of its field, or at none.

    >>> as_json([Fault("/home/heron/job.toml", "can't be read: permission denied")])
    {'faults': [{'path': '', 'text': "job.toml: can't be read: permission denied"}]}
    """
    return {"faults": [_as_json(fault) for fault in faults]}


def _as_json(fault: Fault) -> dict[str, str]:
    text = in_plain_words(fault.text)
    if fault.where in {"", "name"} or place_of(fault.where) is not None:
        return {"path": fault.where, "text": text}
    return {"path": "", "text": f"{fault.where.rpartition('/')[2]}: {text}"}
