"""The folder that the desk was started for, its job files and drafts: read, kept and saved.

Only here does the desk touch files: job files and drafts in that one folder, by names that can't
lead out of it. Two pages may have the same job open, and editors may change its file. So each page
is known with the bytes that it has read, and saves only over those; a draft names its page, and
no other page writes over it before it has read it.
"""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from pathlib import Path

from drapetemplate import files
from drapetemplate.desk.differences import Difference, differences
from drapetemplate.desk.jobs_here import names_here, take_out
from drapetemplate.errors import DrapeError, Fault, FileError, JobError
from drapetemplate.files import file_part
from drapetemplate.interview.at_once import Asked, asked_of_all
from drapetemplate.interview.draft import (
    NO_NAME_YET,
    as_draft,
    draft_bytes,
    draft_path,
    from_draft,
    put_aside,
    remove_draft,
    revision_in,
    revision_of,
)
from drapetemplate.interview.job_in_file import (
    NotInPlaceError,
    OpenFile,
    changed_file,
    new_file,
    opened,
)
from drapetemplate.interview.new_file import proposed_job_file
from drapetemplate.interview.says import Says, said_by, what_is_said
from drapetemplate.interview.states import Answer, State
from drapetemplate.job.parse import MOST_BYTES, read_file
from drapetemplate.measures import shown
from drapetemplate.planning.codes import STOP_CODES

MOST_PAGES = 32
"""Pages that are known at once; the one that was heard of longest ago is forgotten."""


class ConflictError(FileError):
    """Something that another page, or another program, did meanwhile stands against it."""


@dataclass(frozen=True)  # no slots: what takes long to find out is kept
class Opened:
    """What a page has open: a file's name with what was read of it, or a job that has none yet."""

    name: str | None = None
    file: OpenFile | None = None

    @property
    def revision(self) -> str | None:
        """What tells the file's bytes from others."""
        return None if self.file is None else revision_of(self.file.data)

    @property
    def answers(self) -> Mapping[str, str]:
        """The answers that it gives."""
        return {} if self.file is None else self.file.answers

    @cached_property
    def said(self) -> Says:
        """What it says, however it is spelled."""
        return what_is_said(self.answers)

    def bytes_for(self, answers: Mapping[str, str], *, other: bool = False) -> bytes:
        """Return the job file that these answers make of it; DrapeError where they make none.

        A file of another name, `other`, is written anew where they can't be put into this one.
        """
        if faults := asked_of_all(answers).faults:
            raise JobError(faults)
        try:
            data = new_file(answers) if self.file is None else changed_file(self.file, answers)
        except NotInPlaceError:
            if not other:
                raise
            data = new_file(answers, self.file)
        if len(data) > MOST_BYTES:
            raise JobError([Fault("", f"a job file has {MOST_BYTES:,} bytes at most")])
        return data


@dataclass(frozen=True, slots=True)
class Start:
    """What a page begins with: what it has open, the answers, where they are from, and faults.

    Of a draft also when it was left, by this computer's clock, and where it differs from the file.
    `accept` are the codes of stops that were taken on.
    """

    opened: Opened
    answers: Mapping[str, str]
    source: str
    faults: tuple[Fault, ...]
    left_on: str = ""
    differs: tuple[Difference, ...] = ()
    accept: tuple[str, ...] = ()


@dataclass(slots=True)
class DeskJob:
    """A folder, the name of the job file that a page begins with, and the pages that are open."""

    folder: Path
    name: str | None = None
    _pages: dict[str, Opened] = field(default_factory=dict)
    # One page at a time reads and writes files.
    _busy: threading.Lock = field(default_factory=threading.Lock)

    def start(self, page: str, file: str | None = None) -> Start:
        """Read the job file anew, and the draft that goes with it; the draft is then this page's.

        `file` is another of the folder's to open, "" a new job. Of a PDF the job file is taken out
        first, and written beside it. FileError or JobError where it can't be read, or any more.
        """
        with self._busy:
            name, taken_out = self._asked_for(file)
            now = self._read(name)
            self._know(page, now)
            answers = now.answers
            faults = [*taken_out, *([] if now.file is None else _faults(now.file))]
            draft = draft_path(self.folder / (now.name or NO_NAME_YET))
            kept, told = _kept(draft, now)
            source = "new" if now.file is None else "file"
            if kept is None:
                return Start(now, answers, source, (*faults, *told))
            accept = _accepted_in(draft)
            left_on = draft.stat().st_mtime
            says_other = self._keep(draft, page, now, kept, accept)
            with suppress(FileNotFoundError):
                os.utime(draft, (left_on, left_on))  # nothing was typed: it was left when it was
            if says_other:
                return Start(
                    now,
                    kept,
                    "draft",
                    (*faults, *told),
                    datetime.fromtimestamp(left_on).astimezone().strftime("%Y-%m-%d at %H:%M"),
                    () if now.file is None else differences(answers, kept),
                    accept,
                )
            return Start(now, answers, source, (*faults, *told), accept=accept)

    def keep(self, page: str, answers: Mapping[str, str], accept: Sequence[str] = ()) -> bool:
        """Keep answers as the draft of what this page has open; whether they say more than that.

        And the codes of stops taken on. Answers that say what is open leave no draft, unless there
        are such codes. ConflictError if another page's draft is there.
        """
        with self._busy:
            now = self._known(page)
            draft = draft_path(self.folder / (now.name or NO_NAME_YET))
            if os.path.lexists(draft) and _page_of(draft) != page:
                raise ConflictError([Fault("", "another page has changed this job: read it again")])
            return self._keep(draft, page, now, answers, accept)

    @staticmethod
    def _keep(
        draft: Path, page: str, now: Opened, answers: Mapping[str, str], accept: Sequence[str]
    ) -> bool:
        """Keep answers, and stops taken on, so far as that isn't in the file; whether they differ.

        As `new` keeps its own, so that either can go on from the other's.
        """
        asked = asked_of_all(answers)
        changed = _says_other(answers, asked, now)
        if not changed and not accept:
            remove_draft(draft)
            return False
        state = State(
            tuple(Answer(placed.path, asked.counted[placed.path]) for placed in asked.questions),
            tuple(Answer(path, text) for path, text in answers.items()),
        )
        of_desk = {"page": page, "accept": list(accept), "changed": changed}
        files.write(draft, as_draft(state, now.revision, {"by": page, "desk": of_desk}))
        return changed

    def save(
        self, page: str, answers: Mapping[str, str], name: str | None, revision: str | None
    ) -> Opened:
        """Write the job file: the one that is open, or a new one called `name`; what is open then.

        ConflictError where the file isn't as it was read any more, or a new one's name is taken;
        NotInPlaceError where the open one can't be changed, and another name is wanted.
        """
        with self._busy:
            now = self._known(page)
            data = now.bytes_for(answers, other=name is not None)
            if name is None:
                target = self._unchanged(now, revision)
            else:
                target = self.folder / _as_file_name(name)
                if os.path.lexists(target):
                    text = f"{shown(target.name)} is there already: take another name"
                    raise ConflictError([Fault("name", text)])
            if now.file is None or name is not None or data != now.file.data:
                files.write(target, data)
            after = Opened(target.name, opened(data, target.name))
            self._know(page, after)
            self.name = target.name
            draft = draft_path(self.folder / (now.name or NO_NAME_YET))
            if _page_of(draft) == page:
                remove_draft(draft)
            return after

    def would_save(self, page: str, answers: Mapping[str, str]) -> tuple[bytes, str]:
        """Return the job file as it would be saved now, and its name without the ending."""
        with self._busy:
            now = self._pages.get(page, Opened())
        data = now.bytes_for(answers)
        if now.name is not None:
            return data, Path(now.name).stem
        return data, proposed_job_file(answers.get("job.name", ""), self.folder).stem

    def _asked_for(self, file: str | None) -> tuple[str | None, list[Fault]]:
        """The job file that a page asks for, and what is to be told of it; FileError for no such.

        Only what lies in the folder under this very name is ever looked for there.
        """
        if file is None or file == self.name:
            return self.name, []
        if not file:
            return None, []
        if file not in names_here(self.folder):
            raise FileError(
                [Fault("", f"{shown(file)} is no job in this folder, or none any more")]
            )
        if not file.lower().endswith(".pdf"):
            return file, []
        taken_out = take_out(self.folder / file)
        return taken_out.name, [Fault("", f"{taken_out.name} has the job out of {file}")]

    def _read(self, name: str | None) -> Opened:
        if name is None:
            return Opened()
        return Opened(name, opened(self._bytes_of(name), name))

    def _bytes_of(self, name: str) -> bytes:
        try:
            return files.read(self.folder / name, MOST_BYTES)
        except FileError as error:
            faults = [Fault("", f"{shown(name)} {fault.text}") for fault in error.faults]
            raise FileError(faults) from error

    def _unchanged(self, now: Opened, revision: str | None) -> Path:
        """The open file's path; ConflictError where it isn't as this page has read it."""
        if now.name is None:
            raise FileError([Fault("name", "a new job file needs a name")])
        target = self.folder / now.name
        try:
            there = revision_of(self._bytes_of(now.name))
        except FileError as error:
            raise ConflictError(error.faults) from error
        if revision != there or now.revision != there:
            text = f"{shown(now.name)} has changed on disk since this page read it"
            raise ConflictError([Fault("", text)])
        return target

    def _know(self, page: str, now: Opened) -> None:
        self._pages.pop(page, None)
        self._pages[page] = now
        while len(self._pages) > MOST_PAGES:
            del self._pages[next(iter(self._pages))]

    def _known(self, page: str) -> Opened:
        """What a page has open; ConflictError for one that never began, or was forgotten."""
        if page not in self._pages:
            text = "this page isn't known here any more: load it again"
            raise ConflictError([Fault("", text)])
        self._know(page, self._pages[page])
        return self._pages[page]


def desk_job(path: Path | None) -> DeskJob:
    """Return the desk's job: the file at `path`, or a new one in the folder there, or in this one.

    FileError where the file or the folder can't be read, JobError where the file isn't TOML.
    """
    if path is None or os.path.isdir(path):  # noqa: PTH112  # Path's own raises on a name too long
        return DeskJob((path or Path()).resolve())
    opened(files.read(path, MOST_BYTES), str(path))
    return DeskJob(path.parent.resolve(), path.name)


def _as_file_name(name: str) -> str:
    """A name that was typed as a job file's; FileError for one that could lead out of the folder.

    It is held to what `--out` makes of a job's name; an ending .toml is added.
    """
    plain = name.strip()
    if not plain.lower().endswith(".toml"):
        plain += ".toml"
    stem = plain[: -len(".toml")]
    if file_part(stem) != stem:
        text = f"{shown(name)} can't be a file's name here: write {file_part(stem)}, say"
        raise FileError([Fault("name", text)])
    return plain


def _faults(file: OpenFile) -> list[Fault]:
    """What is to be told of an opened file that no field of a page can show."""
    told = [
        Fault("", f"{path} counts only beside other answers: saving takes it out of the file")
        for path in file.taken_out
    ]
    with suppress(DrapeError):
        reading = read_file(file.data, "")
        told += [fault for fault in reading.faults if fault.where in file.left_out]
    return told


def _says_other(answers: Mapping[str, str], asked: Asked, now: Opened) -> bool:
    """Whether answers, and what they bring up, don't say the same as what is open."""
    if answers == now.answers:
        return False
    return bool(asked.faults) or said_by(asked.counted) != now.said


def _kept(draft: Path, now: Opened) -> tuple[dict[str, str] | None, list[Fault]]:
    """The answers in a draft that goes with what is open; one that doesn't is put aside and told.

    None where there is no draft.
    """
    if not os.path.lexists(draft):
        return None, []
    data = draft_bytes(draft)
    answers = from_draft(data)
    if answers is None:
        aside = put_aside(draft)
        return None, [Fault("", f"{draft.name} can't be read as answers: it is now {aside.name}")]
    of_desk = _of_desk(data)
    if now.revision is not None and revision_in(data) != now.revision:
        if of_desk.get("changed") is False:  # stops taken on, of a file that is no more
            remove_draft(draft)
            return None, []
        aside = put_aside(draft)
        text = (
            f"{now.name} has changed since there was typed what isn't saved: that is now in "
            f"{aside.name}"
        )
        return None, [Fault("", text)]
    done, taken_back = answers
    # What the desk keeps stands whole in the second; of `new` the answers given last count.
    return dict(taken_back if of_desk else [*taken_back, *done]), []


def _accepted_in(draft: Path) -> tuple[str, ...]:
    """The codes of stops that a draft says were taken on, and that there are."""
    accept = _of_desk(draft_bytes(draft)).get("accept")
    codes = accept if isinstance(accept, list) else []
    return tuple(code for code in STOP_CODES if code in codes)


def _page_of(draft: Path) -> str | None:
    """The page that a draft is of; None where there is none, or it is no page's."""
    try:
        page = _of_desk(draft_bytes(draft)).get("page")
    except FileError:
        return None
    return page if isinstance(page, str) else None


def _of_desk(data: bytes) -> dict[str, object]:
    """What the desk adds to a draft; nothing where it isn't the desk's."""
    try:
        of_desk = json.loads(data)["desk"]
    except (ValueError, KeyError, TypeError, RecursionError):
        return {}
    return of_desk if isinstance(of_desk, dict) else {}
