"""An opened job file and answers to it in, the file with the changed answers put in out.

A file says the same thing in more ways than the questions do: a window may give itself what the
file's own table gives to all. So what each window is to have is held against what it has, key by
key, and the line that gives it is changed. Whatever comes of that is read again, and counts only if
it says exactly what the answers do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from drapetemplate.errors import DrapeError, Fault, FileError
from drapetemplate.interview.all_questions import NOT_ASKED, question_for
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.from_file import (
    CLOTHS,
    SHARED,
    Tables,
    as_typed,
    from_tables,
    has_cloth,
    is_none,
    windows_of,
)
from drapetemplate.interview.job_text import job_text, toml_value
from drapetemplate.interview.says import SHARED_KEYS, WINDOW_KEYS, Says, Texts, what_is_said
from drapetemplate.interview.toml_edits import (
    Change,
    NoPlaceError,
    changed,
    with_table,
    with_window,
    without_table,
    without_windows,
)
from drapetemplate.job.build import read_job
from drapetemplate.job.fields import NONE
from drapetemplate.job.parse import path_of, read_file, tables_in
from drapetemplate.job.tables import TABLES
from drapetemplate.job.toml_lines import Place
from drapetemplate.planning.plan import plan
from drapetemplate.report.plan_json import as_json

BOM = "\ufeff"
_UNLIKE = "\0"
"""Stands for what a file says and the answers don't: no text that is typed is equal to it."""


_CANNOT = Fault(
    "", "this file is written in a way that can't be changed key by key: save under another name"
)


class NotInPlaceError(FileError):
    """A file that answers can't be put into; `new_file` does for one of another name."""


@dataclass(frozen=True, slots=True)
class OpenFile:
    """A job file's bytes as read, the answers they give, and what no question shows of them.

    `left_out` are keys that stay as they are; `taken_out` those that count in the file and not in
    what is asked, so that they go when it is saved. `faulty` are keys whose value the file's
    reader refuses, and may take once it is written as answers are.
    """

    data: bytes
    answers: Mapping[str, str]
    left_out: tuple[str, ...] = ()
    taken_out: tuple[str, ...] = ()
    faulty: tuple[str, ...] = ()


def opened(data: bytes, source: str) -> OpenFile:
    """Return an opened file; JobError where its bytes aren't TOML. Other faults don't matter."""
    read = from_tables(tables_in(data, source))
    faults = read_file(data, source).faults
    faulty = tuple(fault.where for fault in faults if _could_be_asked(fault.where))
    file = OpenFile(data, read.answers, read.left_out, faulty=faulty)
    return file if _says_all(file, data, read.answers) else _with_hidden_taken_out(file)


def _says_all(file: OpenFile, data: bytes, answers: Mapping[str, str]) -> bool:
    """Whether the same is made of a file's bytes as of its answers, for all that it hides."""
    others = [path for path in file.left_out if not _could_be_asked(path)]
    if len(others) == len(file.left_out):
        return True
    return _made(_without(data, others)) == _made(new_file(answers))


def _with_hidden_taken_out(file: OpenFile) -> OpenFile:
    hidden = tuple(path for path in file.left_out if _could_be_asked(path))
    others = tuple(path for path in file.left_out if path not in hidden)
    return replace(file, left_out=others, taken_out=hidden)


def _without(data: bytes, paths: Iterable[str]) -> bytes:
    """A job file without the keys at these paths, so far as it can be changed."""
    changes = []
    for path in paths:
        before, _, key = path.rpartition("].")
        number = before.removeprefix("window[")
        at: Place = ("window", int(number) - 1) if number.isdecimal() else ()
        *tables, last = key.split(".")
        changes.append(Change((*at, *tables), last, None))
    return changed(data.decode("utf-8-sig"), changes).encode()


def _could_be_asked(path: str) -> bool:
    key = path.partition("].")[2] or path
    try:
        question_for(key)
    except KeyError:
        return False
    return key not in NOT_ASKED


def _made(data: bytes) -> object:
    """What is made of a job file, but for its printer: every figure, or the texts of its faults."""
    try:
        job = read_job(data, "")
        job = replace(job, paper=replace(job.paper, printer=None))
        return as_json(job, plan(job))
    except DrapeError as error:
        return frozenset(fault.text for fault in error.faults)


def new_file(
    answers: Mapping[str, str], instead_of: OpenFile | None = None, *, schema: bool = False
) -> bytes:
    """Return the bytes of a new job file that says these answers, so far as they count.

    Written instead of an opened one, it names the printer that that one names, for which there is
    no question. `schema` is as of `job_text`.
    """
    text = job_text(dict(asked_of_all(answers).counted), schema=schema)
    return (text if instead_of is None else changed(text, _printer_of(instead_of))).encode()


def changed_file(file: OpenFile, answers: Mapping[str, str]) -> bytes:
    """Return an opened file's bytes, changed so that they say these answers.

    NotInPlaceError where that can't be done.
    """
    # Keys of no account in the file as it was read may be of some beside new answers: they go then.
    for each in (file, _with_hidden_taken_out(file)):
        after = _changed(each, answers)
        if after is not None and _says_all(each, after, answers):
            return after
    raise NotInPlaceError([_CANNOT])


def _printer_of(file: OpenFile) -> Iterator[Change]:
    """The change by which a new file names the printer that a file names, if it names one."""
    paper = tables_in(file.data, "").get("paper")
    printer = paper.get("printer") if isinstance(paper, dict) else None
    if isinstance(printer, str):
        yield Change(("paper",), "printer", toml_value("text", printer))


def _changed(file: OpenFile, answers: Mapping[str, str]) -> bytes | None:
    """The file's bytes changed; None where they then don't say what the answers do."""
    text = file.data.decode("utf-8")
    bom, text = (BOM, text[1:]) if text.startswith(BOM) else ("", text)
    in_dos_lines = "\r\n" in text and "\n" not in text.replace("\r\n", "")
    if in_dos_lines:
        text = text.replace("\r\n", "\n")
    wanted = what_is_said(answers)
    if not _has_tables_alone(tables_in(text.encode(), "")):
        return file.data if what_is_said(file.answers) == wanted else None
    try:
        after = _edited(file, text, wanted)
    except NoPlaceError:
        return None
    if after == text:
        return file.data
    if what_is_said(from_tables(tables_in(after.encode(), "")).answers) != wanted:
        return None
    return (bom + (after.replace("\n", "\r\n") if in_dos_lines else after)).encode()


def _has_tables_alone(tables: Tables) -> bool:
    """Whether nothing else stands in a file where a table belongs, or the list of windows."""
    windows = tables.get("window", [{}])
    if not isinstance(windows, list) or not windows:
        return False
    if not all(isinstance(window, dict) for window in windows):
        return False
    given = [tables[name] for name in TABLES if name in tables and name not in {"", "window"}]
    for window in windows:
        refuses = is_none(window.get("lining"))
        given += [
            window[name] for name in SHARED if name in window and not (refuses and name == "lining")
        ]
    return all(isinstance(table, dict) for table in given)


def _edited(file: OpenFile, text: str, wanted: Says) -> str:
    """The file's text with all that it is to say, and nothing else changed."""
    tables = tables_in(text.encode(), "")
    before = _said_by(file, tables)
    if "window" not in tables and before.windows != wanted.windows:
        text = with_window(text, 0)
    changes = [
        _change((table,) if table else (), key, f"{table}.{key}" if table else key, wanted.job)
        for path in {**before.job, **wanted.job}
        if before.job.get(path) != wanted.job.get(path)
        for table, _, key in [path.rpartition(".")]
    ]
    text, windows = _with_as_many_windows(text, before.windows, wanted.windows)
    changes = [*_unlike_what_is_faulty(file, changes), *_linings_again(text, wanted.windows)]
    text = changed(text, changes)
    tables = tables_in(text.encode(), "")
    before_now = [_inherited(tables) if said is None else said for said in windows]
    held = list(zip(before_now, wanted.windows, strict=True))
    changes = [
        _change(("window", number), key, key, after)
        for number, (said, after) in enumerate(held)
        for key in WINDOW_KEYS
        if said.get(key) != after.get(key)
    ]
    for key in SHARED_KEYS:
        changes += _shared_changes(key, tables, before_now, wanted.windows)
    text = changed(text, _unlike_what_is_faulty(file, changes))
    for table in CLOTHS:
        text = _with_cloths(text, table, wanted.windows)
    return text


def _unlike_what_is_faulty(file: OpenFile, changes: Iterable[Change]) -> list[Change]:
    """Changes that don't keep to the manner of a value that the file's reader refuses."""
    return [
        replace(change, text="") if path_of((*change.table, change.key)) in file.faulty else change
        for change in changes
    ]


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
        for path in (*file.taken_out, *file.faulty):
            at, _, key = path.rpartition("].")
            if at == f"window[{number}" or not (at or _gives({}, window, key)):
                own[key] = _UNLIKE
        windows.append(own)
    job = {path: _UNLIKE if path in file.faulty else text for path, text in said.job.items()}
    return Says(job, tuple(windows))


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
    return said | {table: table for table in CLOTHS if table in tables}


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
    plain = table == "fabric" and len(has) < len(windows)  # the file's is one no window can refuse
    goes = given and plain
    if not new and not goes:
        return
    own = {n for n in has if last in windows[n].get(table, {})}
    heirs = [n for n in has if n not in own]
    targets = {after[n].get(key, "") for n in heirs}
    shared = before[heirs[0]].get(key, "") if heirs and given else ""
    alike = heirs and len(targets) == 1 and targets != {NONE}
    to_all = alike and set(heirs) <= set(new) and not plain
    if to_all:
        (shared,) = targets
        given = bool(shared)
    if given and (goes or any(key not in after[n] for n in new)):
        # One is to have none of it, which it can't say itself: so the others have it themselves.
        shared, given = "", False
        yield Change((table,), last, None)
        new = [*new, *(n for n in heirs if n not in new)]
    elif to_all:
        yield _change((table,), last, key, after[heirs[0]])
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
    tables = tables_in(text.encode(), "")
    for n, window in enumerate(windows):
        if n not in lacking and not has_cloth(tables, window, table):
            text = with_table(text, ("window", n, table) if n else (table,))
            tables = tables_in(text.encode(), "")
    refusing = [n for n in lacking if has_cloth(tables, windows_of(tables)[n], table)]
    if refusing and (table == "fabric" or len(lacking) == len(windows)):
        return without_table(text, (table,))
    return changed(text, [Change(("window", n), table, f'"{NONE}"') for n in refusing])
