"""An opened job file and a page's answers in, the file with the changed answers put in out.

A file says the same thing in more ways than the questions do: a window may give itself what the
file's own table gives to all. So what each window is to have is held against what it has, key by
key, and the line that gives it is changed. Whatever comes of that is read again, and counts only if
it says exactly what the page does.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from drapetemplate.desk.toml_edits import (
    Change,
    NoPlaceError,
    changed,
    with_table,
    with_window,
    without_table,
    without_windows,
)
from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.interview.all_questions import NOT_ASKED, question_for
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.from_file import (
    CLOTHS,
    Tables,
    as_typed,
    from_tables,
    has_cloth,
    is_none,
    windows_of,
)
from drapetemplate.interview.job_text import job_text, toml_value
from drapetemplate.interview.says import SHARED_KEYS, WINDOW_KEYS, Says, Texts, what_is_said
from drapetemplate.job.build import read_job
from drapetemplate.job.fields import NONE
from drapetemplate.job.parse import tables_in

BOM = "\ufeff"
_UNLIKE = "\0"
"""Stands for what a file says and the answers don't: no text that is typed is equal to it."""


_CANNOT = Fault(
    "", "this file is written in a way that can't be changed key by key: save under another name"
)


@dataclass(frozen=True, slots=True)
class OpenFile:
    """A job file's bytes as read, the answers they give, and what no question shows of them.

    `left_out` are keys that stay as they are; `taken_out` those that count in the file and not in
    what the page shows, so that they go when it is saved.
    """

    data: bytes
    answers: Mapping[str, str]
    left_out: tuple[str, ...] = ()
    taken_out: tuple[str, ...] = ()


def opened(data: bytes, source: str) -> OpenFile:
    """Return an opened file; JobError where its bytes aren't TOML. Other faults don't matter."""
    read = from_tables(tables_in(data, source))
    if _made(data) == _made(new_file(read.answers)):
        return OpenFile(data, read.answers, read.left_out)
    taken_out = tuple(path for path in read.left_out if _could_be_asked(path))
    left_out = tuple(path for path in read.left_out if path not in taken_out)
    return OpenFile(data, read.answers, left_out, taken_out)


def _could_be_asked(path: str) -> bool:
    key = path.partition("].")[2] or path
    try:
        question_for(key)
    except KeyError:
        return False
    return key not in NOT_ASKED


def _made(data: bytes) -> object:
    """What a job file makes: its job, but for the printer; or the texts of its faults."""
    try:
        job = read_job(data, "")
    except DrapeError as error:
        return frozenset(fault.text for fault in error.faults)
    return replace(job, paper=replace(job.paper, printer=None))


def new_file(answers: Mapping[str, str]) -> bytes:
    """Return the bytes of a new job file that says a page's answers, so far as they count."""
    return job_text(dict(asked_of_all(answers).counted)).encode()


def changed_file(file: OpenFile, answers: Mapping[str, str]) -> bytes:
    """Return an opened file's bytes, changed so that they say a page's answers.

    FileError where that can't be done.
    """
    text = file.data.decode("utf-8")
    bom, text = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
    in_dos_lines = "\r\n" in text and "\n" not in text.replace("\r\n", "")
    if in_dos_lines:
        text = text.replace("\r\n", "\n")
    wanted = what_is_said(answers)
    try:
        after = _edited(file, text, wanted)
    except NoPlaceError:
        raise FileError([_CANNOT]) from None
    if after == text:
        return file.data
    if what_is_said(from_tables(tables_in(after.encode(), "")).answers) != wanted:
        raise FileError([_CANNOT])
    return (bom + (after.replace("\n", "\r\n") if in_dos_lines else after)).encode()


def _edited(file: OpenFile, text: str, wanted: Says) -> str:
    """The file's text with all that it is to say, and nothing else changed."""
    before = _said_by(file, tables_in(text.encode(), ""))
    changes = [
        _change((table,) if table else (), key, f"{table}.{key}" if table else key, wanted.job)
        for path in {**before.job, **wanted.job}
        if before.job.get(path) != wanted.job.get(path)
        for table, _, key in [path.rpartition(".")]
    ]
    text, windows = _with_as_many_windows(text, before.windows, wanted.windows)
    text = changed(text, [*changes, *_linings_again(text, wanted.windows)])
    tables = tables_in(text.encode(), "")
    before_now = [_inherited(tables) if said is None else said for said in windows]
    changes = [
        _change(("window", number), key, key, after)
        for number, (said, after) in enumerate(zip(before_now, wanted.windows, strict=True))
        for key in WINDOW_KEYS
        if said.get(key) != after.get(key)
    ]
    for key in SHARED_KEYS:
        changes += _shared_changes(key, tables, before_now, wanted.windows)
    text = changed(text, changes)
    for table in CLOTHS:
        text = _with_cloths(text, table, wanted.windows)
    return text


def _change(table: tuple[int | str, ...], key: str, path: str, said: Texts) -> Change:
    """The change that has a table say of a key what is said: nothing, where nothing is."""
    typed = said.get(path, "")
    toml = toml_value(question_for(path).kind, typed) if typed else None
    return Change(table, key, toml, typed)


def _said_by(file: OpenFile, tables: Tables) -> Says:
    """What the file says, key by key, where its answers say the same; _UNLIKE where they don't."""
    said = what_is_said(file.answers)
    windows = []
    for number, (texts, window) in enumerate(zip(said.windows, windows_of(tables), strict=True), 1):
        own = {key: text for key, text in texts.items() if _gives(tables, window, key)}
        for table in CLOTHS:
            if not has_cloth(tables, window, table):  # what is there for others, or for nobody
                own |= {f"{table}.{key}": _UNLIKE for key in tables.get(table, {})}
        for path in file.taken_out:
            at, _, key = path.rpartition("].")
            if at in {"", f"window[{number}"}:
                own[key or path] = _UNLIKE
        windows.append(own)
    return Says(said.job, tuple(windows))


def _gives(tables: Tables, window: Tables, key: str) -> bool:
    """Whether the file gives a window a key, or a cloth."""
    if key in CLOTHS:
        return has_cloth(tables, window, key)
    table, _, last = key.rpartition(".")
    if not table:
        return last in window
    return any(last in given for given in (window.get(table, {}), tables.get(table, {})))


def _inherited(tables: Tables) -> dict[str, str]:
    """What a window says that gives nothing itself."""
    said = {}
    for key in SHARED_KEYS:
        table, _, last = key.partition(".")
        if last in tables.get(table, {}):
            said[key] = as_typed(question_for(key).kind, tables[table][last])
    return said


def _with_as_many_windows(
    text: str, before: Sequence[Texts], after: Sequence[Texts]
) -> tuple[str, list[Texts | None]]:
    """The text with windows taken out and put in, and what each said before: None if new."""
    sources = list(_sources(before, after))
    gone = set(range(len(before))).difference(sources)
    if gone:
        text = without_windows(text, gone)
    for number, source in enumerate(sources):
        if source is None:
            text = with_window(text, number)
    return text, [None if source is None else before[source] for source in sources]


def _sources(before: Sequence[Texts], after: Sequence[Texts]) -> Iterator[int | None]:
    """Yield for each window which one it was before: the same, or one in its place, or None."""
    if len(before) == len(after):
        yield from range(len(after))
        return
    old, new = ([tuple(sorted(said.items())) for said in side] for side in (before, after))
    sources: list[int | None] = []
    for _, start, end, new_start, new_end in SequenceMatcher(None, old, new).get_opcodes():
        kept = range(start, end)[: new_end - new_start]
        sources += [*kept, *[None] * (new_end - new_start - len(kept))]
    if sources[0] is None:  # a file's first window stays where it is
        sources = [*range(len(before)), *[None] * len(after)][: len(after)]
    yield from sources


def _linings_again(text: str, wanted: Sequence[Texts]) -> Iterator[Change]:
    """The changes that take back that a window has no lining, where it is to have one."""
    for number, window in enumerate(windows_of(tables_in(text.encode(), ""))):
        if "lining" in wanted[number] and is_none(window.get("lining")):
            yield Change(("window", number), "lining", None)


def _shared_changes(
    key: str, tables: Tables, before: Sequence[Texts], after: Sequence[Texts]
) -> Iterator[Change]:
    """Yield the changes by which every window says of a table's key what it is to say.

    The file's own table is changed where all that have it from there are to have the same; what one
    window alone is to have otherwise is put into its own table.
    """
    table, _, last = key.partition(".")
    windows = windows_of(tables)
    has = [n for n in range(len(windows)) if table not in CLOTHS or table in after[n]]
    new = [n for n in has if before[n].get(key) != after[n].get(key)]
    given = last in tables.get(table, {})
    goes = given and table == "fabric" and len(has) < len(windows)  # which no window can refuse
    if not new and not goes:
        return
    own = {n for n in has if last in windows[n].get(table, {})}
    heirs = [n for n in has if n not in own]
    targets = {after[n].get(key, "") for n in heirs}
    shared = before[heirs[0]].get(key, "") if heirs and given else ""
    if heirs and len(targets) == 1 and targets != {NONE} and set(heirs) <= set(new):
        (shared,) = targets
        given = bool(shared)
        yield _change((table,), last, key, after[heirs[0]])
    if given and (goes or any(key not in after[n] for n in new)):
        # One is to have none of it, which it can't say itself: so the others have it themselves.
        shared, given = "", False
        yield Change((table,), last, None)
        new = [*new, *(n for n in heirs if n not in new)]
    for n in new:
        at = ("window", n, table)
        wanted = after[n].get(key, "")
        if n in own and (not wanted or (given and wanted == shared)):
            yield Change(at, last, None)
        elif wanted and not (given and wanted == shared):
            yield _change(at, last, key, after[n])


def _with_cloths(text: str, table: str, wanted: Sequence[Texts]) -> str:
    """The text with a table of a cloth for each window that is to have one, and for no other."""
    windows = windows_of(tables_in(text.encode(), ""))
    lacking = [n for n in range(len(windows)) if table not in wanted[n]]
    for n in lacking:
        if table in windows[n] and not is_none(windows[n][table]):
            text = without_table(text, ("window", n, table))
    for n, window in enumerate(windows):
        if n not in lacking and not has_cloth(tables_in(text.encode(), ""), window, table):
            text = with_table(text, ("window", n, table) if n else (table,))
    if not lacking or table not in tables_in(text.encode(), ""):
        return text
    if table == "fabric" or len(lacking) == len(windows):
        return without_table(text, (table,))
    refusing = [n for n in lacking if not is_none(windows[n].get(table))]
    return changed(text, [Change(("window", n), table, f'"{NONE}"') for n in refusing])
