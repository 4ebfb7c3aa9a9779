"""Changed answers put back into a job file: it then says just that, and keeps all else it has.

What a file is to say is taken from another way there: the file that `new` would write of the same
answers, which makes the same job, whatever tables the two share their keys out to.
"""

from __future__ import annotations

import difflib
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st

from drapetemplate import plan_job
from drapetemplate.desk.windows import add_window, copy_window, remove_window
from drapetemplate.errors import DrapeError
from drapetemplate.interview.job_in_file import (
    NotInPlaceError,
    changed_file,
    new_file,
    opened,
)
from drapetemplate.interview.job_text import windows_in
from drapetemplate.job.build import read_job
from drapetemplate.measures import INCH
from drapetemplate.report.plan_json import as_json
from tests.helpers.jobfiles import LEAST
from tests.helpers.searching import searched
from tests.helpers.shared_tables import jobs, unsayable
from tests.helpers.spelled import respelled

SAMPLES = sorted((Path(__file__).parents[2] / "sample_jobs").glob("*.toml"))


def saved(text: str, changes: dict[str, str]) -> str:
    """A job file's text once these answers are changed in it."""
    file = opened(text.encode(), "job.toml")
    return changed_file(file, {**file.answers, **changes}).decode()


def made(data: bytes) -> object:
    """What is made of a job file, but for its printer: every figure, or what is wrong with it."""
    try:
        job = read_job(data, "job.toml")
        return as_json(job, plan_job(job))
    except DrapeError as error:
        return frozenset(fault.text for fault in error.faults)


def lines_changed(before: str, after: str) -> list[str]:
    """The lines taken out, behind a -, and put in, behind a +."""
    lines = difflib.ndiff(before.split("\n"), after.split("\n"))
    return [line for line in lines if line[0] in "+-"]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_each_answer_of_a_sample_changes_its_line(sample: Path) -> None:
    """One line, at its place, for each measure, name or word that a sample gives."""
    text = sample.read_text()
    file = opened(text.encode(), sample.name)
    tried = 0
    for path, answer in file.answers.items():
        if "?" in path or not answer[-1:].isdigit() or path in {"job.due", "paper.size"}:
            continue
        tried += 1
        old, new = lines_changed(text, saved(text, {path: f"{answer}1"}))
        assert old[2:].partition("=")[0] == new[2:].partition("=")[0]
        assert old[2:].partition("#")[2] == new[2:].partition("#")[2]
        assert f"{answer}1" in new
    assert tried > 3


@pytest.mark.parametrize(
    ("line", "answer", "after"),
    [
        ("width = 88", "90", "width = 90"),
        ("width = 88.50", "90.25", "width = 90.25"),
        ("width = 88", "90 1/2", 'width = "90 1/2"'),
        ("width = 88", "0090", 'width = "0090"'),
        ("width = '88'", "90", 'width = "90"'),
        ('width="88"# wide', "90", 'width="90"# wide'),
        ('  width   =   "88"   # wide', "90", '  width   =   "90"   # wide'),
        ('"width" = "88"', "90", '"width" = "90"'),
        ("width = '''88'''  # '#'", "90", "width = \"90\"  # '#'"),
        ("width = 88 # ünïcode — \N{PRIME}", "7'", 'width = "7\'" # ünïcode — \N{PRIME}'),
        ("width = 88", '9"', 'width = "9\\""'),
    ],
)
def test_a_value_is_written_in_the_manner_of_the_old_one(
    line: str, answer: str, after: str
) -> None:
    """Bare where it was bare, at its place in the line, with what stands behind it."""
    text = LEAST.replace('width = "88"', line)
    assert saved(text, {"window[1].width": answer}) == text.replace(line, after)


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
@pytest.mark.parametrize("first", ["", "\ufeff"])
def test_bytes_of_another_system_stay(ends: str, first: str) -> None:
    """A mark of the encoding, and the ends of lines."""
    text = first + f"# ü\n{LEAST}".replace("\n", ends)
    assert saved(text, {"window[1].width": "90"}) == text.replace("88", "90")
    assert saved(text, {"pole.top": "96"}).count(ends) == text.count(ends) + 3
    assert saved(text, {}) == text
    mixed = LEAST.replace("\n", "\r\n", 3)
    assert saved(mixed, {"window[1].width": "90"}) == mixed.replace("88", "90")


def test_a_key_is_put_into_its_table() -> None:
    """After the last one there, above what is said of the next table; a new table of its own."""
    text = """# The house.
units = "in"

[job]
name = "Heron Point"
# Measured twice.

# The rings.
[eyelet]
outside = "2 5/8"
opening = "1 9/16"

# The window.
[[window]]
width = "88"
"""
    changes = {"job.room": "Landing", "?job": "yes", "eyelet.hole": "1 5/8", "pole.top": "96"}
    changes |= {"window[1].length": "84"}
    assert (
        saved(text, changes)
        == """# The house.
units = "in"

[job]
name = "Heron Point"
room = "Landing"
# Measured twice.

# The rings.
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
hole = "1 5/8"

[pole]
top = "96"

# The window.
[[window]]
width = "88"
length = "84"
"""
    )


def test_an_answer_taken_back_takes_its_line() -> None:
    """And no other; a cloth that isn't planned any more its whole table."""
    text = f"""{LEAST}name = "North"  # to the sea

[pole]
top = 96   # to its top
diameter = 1

[fabric]
width = 54
weight = "250 gsm"

[paper]
size = "a4"
"""
    assert saved(text, {"pole.top": ""}) == text.replace("top = 96   # to its top\n", "")
    assert saved(text, {"window[1].?more fabric": "no"}) == text.replace('weight = "250 gsm"\n', "")
    without = saved(text, {"window[1].?cloth": "no"})
    assert "[fabric]" not in without
    assert made(without.encode()) == made(
        text.replace(text[text.index("[fabric]") : text.index("[paper]")], "").encode()
    )


SHORT = '[job]\nname = "H"\n[eyelet]\noutside = 3\nopening = 2\n'


@pytest.mark.parametrize(
    "text",
    [
        'job = {name = "H"}\neyelet = {outside = 3, opening = 2}\n[[window]]\nwidth = 88\n',
        'job.name = "H"\neyelet.outside = 3\neyelet.opening = 2\n[[window]]\nwidth = 88\n',
        f"[[window]]\nwidth = 88\n[window.pole]\ndiameter = 1\n{SHORT}",
        'window = [{width = 88}]\njob = {name = "H"}\neyelet = {outside = 3, opening = 2}\n',
        f"[[window]]\nwidth = 88\npole = {{diameter = 1}}\n{SHORT}",
    ],
)
def test_tables_written_in_any_way(text: str) -> None:
    """In line, with dots, in another order: the job is the one that the answers make."""
    for changes in (
        {"window[1].width": "90"},
        {"eyelet.hole": "2 1/8"},
        {"pole.diameter": "7/8"},
        {"pole.top": "96"},
        {"window[1].?cloth": "yes", "fabric.width": "54"},
        {"job.name": "Heron"},
    ):
        file = opened(text.encode(), "job.toml")
        answers = {**file.answers, **changes}
        after = changed_file(file, answers)
        assert made(after) == made(new_file(answers))
        assert len(lines_changed(text, after.decode())) <= 4


@pytest.mark.parametrize(
    "line",
    [
        "window = []", "window = [3]", "window = 3", "[window]\nwidth = 80", "window.width = 80",
        "[[window]]\nfabric = 3", '[[window]]\npole = "none"', "paper = 3", "[[paper]]",
        'lining = "none"\n[[window]]', "pole = 5\n[[window]]\n[[window]]\nwidth = 60",
        "[[window]]\n[[fabric]]",
    ],
)  # fmt: skip
def test_what_is_no_table_is_told(line: str) -> None:
    """Such a file stays, and has no place for another answer; a new one has them all."""
    text = f'job.name = "H"\neyelet.outside = 3\neyelet.opening = 2\n{line}\n'
    file = opened(text.encode(), "job.toml")
    assert changed_file(file, file.answers) == file.data
    answers = {**file.answers, "window[1].width": "88", "window[1].?cloth": "yes", "?paper": "yes"}
    answers |= {"paper.overlap": "1", "fabric.width": "54", "pole.top": "96"}
    with pytest.raises(NotInPlaceError, match="save under another name"):
        changed_file(file, answers)
    assert read_job(new_file(answers, file), "").windows[0].width == 88 * INCH


def test_a_new_file_names_the_printer_of_the_one_it_stands_for() -> None:
    """No question is for it, and a job printed without its factors would come out false."""
    for paper in ('paper.printer = "laser"\n', 'paper = {printer = "laser", size = "a4"}\n'):
        text = f"{paper}{SHORT}[window]\n"
        file = opened(text.encode(), "job.toml")
        answers = {**file.answers, "window[1].width": "88"}
        assert read_job(new_file(answers, file), "").paper.printer == "laser"
        assert read_job(new_file(answers), "").paper.printer is None


def test_a_file_without_a_window_yet_is_given_its_first() -> None:
    """At its end, as someone would go on with it."""
    after = saved(f"# To do.\n{SHORT}", {"window[1].width": "88"})
    assert after == f'# To do.\n{SHORT}\n[[window]]\nwidth = "88"\n'
    file = opened(SHORT.encode(), "job.toml")
    answers = copy_window({**file.answers, "window[1].width": "88"}, 1).answers
    assert len(read_job(changed_file(file, answers), "").windows) == 2
    assert saved(SHORT, {}) == SHORT


def test_windows_in_one_value_come_and_go() -> None:
    """A window put into a list stands in it, with tables of its own in line; one taken out goes."""
    text = "window = [\n  {width = 88},  # north\n]\n"
    text += 'job = {name = "H"}\neyelet.outside = 3\neyelet.opening = 2\n'
    file = opened(text.encode(), "job.toml")
    answers = {**copy_window(file.answers, 1).answers, "window[2].?same": "no"}
    answers |= {"window[2].?same pole": "no", "window[2].pole.diameter": "7/8"}
    after = changed_file(file, answers)
    first, second = read_job(after, "job.toml").windows
    assert (first.pole.diameter, second.pole.diameter) == (None, INCH * 7 / 8)
    assert "# north" in after.decode()
    assert lines_changed(text, after.decode())[0].startswith("+")
    again = opened(after, "job.toml")
    assert made(changed_file(again, remove_window(again.answers, 2).answers)) == made(text.encode())


WINDOWS = """# Three of them.
# To the sea.
[[window]]
name = "North"
width = 88

[window.pole]
top = 100  # higher

# To the garden.
[[window]]
name = "South"  # with the seat
width = 60

# To the lane.
[[window]]
name = "West"
width = 70

[pole]
top = 96
"""


def test_a_window_more_or_less() -> None:
    """The others' lines stay; a window that goes takes along what stands above it."""
    text = LEAST.partition("[[window]]")[0] + WINDOWS
    file = opened(text.encode(), "job.toml")
    more = copy_window(file.answers, 2).answers
    after = changed_file(file, more).decode()
    assert after == text.replace("width = 70\n", 'width = 70\n\n[[window]]\nwidth = "60"\n')
    less = changed_file(file, remove_window(file.answers, 2).answers).decode()
    assert lines_changed(text, less) == [
        "- # To the garden.", "- [[window]]", '- name = "South"  # with the seat',
        "- width = 60", "- ",
    ]  # fmt: skip
    first_gone = changed_file(file, remove_window(file.answers, 1).answers)
    by_hand = text.replace(text[text.index("# To the sea") : text.index("# To the garden")], "")
    assert made(first_gone) == made(by_hand.encode())
    assert "# To the garden.\n[[window]]" in first_gone.decode()
    assert "top = 96" in first_gone.decode()


@pytest.mark.parametrize("own", ["lining.width = 50  # narrower", "lining = {width = 50}"])
def test_a_windows_own_lining_goes_and_no_others(own: str) -> None:
    """Written without a header, too: the file's own stays, for the other window."""
    text = (
        f"{LEAST}[[window]]\nwidth = 60\n{own}\n"
        "[fabric]\nwidth = 54\n[lining]\nwidth = 48  # usual\n"
    )
    unlined = {f"window[2].{key}": "no" for key in ("?lining", "?same", "?same cloth")}
    assert saved(text, unlined) == text.replace(own, 'lining = "none"')


def test_a_key_is_put_into_an_empty_table() -> None:
    """Not into the one right behind it."""
    text = f"{LEAST}[pole]\n[band]\nheight = 5\n"
    after = saved(text, {"pole.diameter": "1"})
    assert after == text.replace("[pole]\n", '[pole]\ndiameter = "1"\n')


def test_what_no_question_shows_stays() -> None:
    """A printer, a key that counts for nothing beside others, one that is none."""
    text = f'{LEAST}count = 8\ngap = 3  # or so\ncolour = "red"\n[paper]\nprinter = "laser"\n'
    file = opened(text.encode(), "job.toml")
    assert file.left_out == ("window[1].gap", "window[1].colour", "paper.printer")
    assert file.taken_out == ()
    assert saved(text, {"window[1].width": "90"}) == text.replace("88", "90")


@pytest.mark.parametrize(
    ("line", "after"),
    [
        ("name = 5", 'name = "5"'),
        ('count = "8"', "count = 8"),
        ("panels = ' pair '", 'panels = "pair"'),
    ],
)
def test_what_only_the_reader_refuses_is_written_anew(line: str, after: str) -> None:
    """An answer that is good, in a form that a job file doesn't take, is no dead end."""
    text = f"{LEAST}{line}\n"
    assert isinstance(made(text.encode()), frozenset)
    mended = saved(text, {})
    assert mended == text.replace(line, after)
    assert not isinstance(made(mended.encode()), frozenset)


def test_a_windows_own_value_stays_beside_a_faulty_one_of_the_file() -> None:
    """Its line too, as it is spelled: a fault in the file's own table is none of a window's."""
    text = (
        f"{LEAST}lining.width = '137 cm'  # as measured\n"
        "[[window]]\nwidth = 60\n[fabric]\nwidth = 54\n[lining]\nwidth = 'no'\n"
    )
    after = text.replace("88", "89").replace("'no'", '"no"')
    assert saved(text, {"window[1].width": "89"}) == after


def test_what_counts_once_others_do_goes() -> None:
    """A key of no account in the file as it was read may be of some beside new answers."""
    text = f"{LEAST}extra_seams = 1\n"
    file = opened(text.encode(), "job.toml")
    assert file.left_out == ("window[1].extra_seams",)
    answers = {**file.answers, "window[1].?cloth": "yes", "fabric.width": "54"}
    assert made(changed_file(file, answers)) == made(new_file(answers))


def test_what_counts_and_isnt_shown_goes() -> None:
    """What a page shows is what is made of the file it saves, so it can't stay."""
    text = f"{LEAST}covers = 40\nfullness = 2\n"  # three that settle the width
    file = opened(text.encode(), "job.toml")
    assert file.taken_out == ("window[1].fullness",)
    after = changed_file(file, file.answers).decode()
    assert after == text.replace("fullness = 2\n", "")
    assert made(after.encode()) == made(new_file(file.answers))


def test_the_files_own_line_stays_where_one_windows_changes() -> None:
    """Even one that says the default, which the answers don't."""
    text = f"""{LEAST}
[[window]]
width = 60
fabric.repeat_down = 12  # the same wool, printed

[fabric]
width = 54
repeat_down = "none"  # plain
"""
    after = saved(text, {"window[2].fabric.repeat_down": "13"})
    assert after == text.replace("= 12", "= 13")


def test_a_window_that_is_to_have_none_of_what_the_others_have() -> None:
    """It can't say so itself: the others then say what they have."""
    text = f"""{LEAST}pole.length = 70

[[window]]
width = 60

[[window]]
width = 62

[pole]
length = 80  # the others
diameter = 1
"""
    after = saved(text, {"pole.length": ""})
    by_hand = text.replace("pole.length = 70\n", "").replace("length = 80  # the others\n", "")
    by_hand = by_hand.replace("width = 60\n", "width = 60\npole.length = 80\n")
    by_hand = by_hand.replace("width = 62\n", "width = 62\npole.length = 80\n")
    assert made(after.encode()) == made(by_hand.encode())
    assert "diameter = 1" in after


QUICK = (Phase.explicit, Phase.reuse, Phase.generate)
"""An example takes too long to be tried again and again for a shorter one."""
PATHS = st.sampled_from(
    [
        "units", "job.room", "paper.size", "paper.overlap", "eyelet.outside", "eyelet.pack",
        "band.height", "pole.diameter", "pole.top", "pole.length", "pole.wall_clearance",
        "fabric.width", "fabric.repeat_down", "fabric.repeat_across", "fabric.weight",
        "lining.width", "lining.side_hem", "lining.repeat_down", "window[{n}].width",
        "window[{n}].name", "window[{n}].count", "window[{n}].panels", "window[{n}].extra_seams",
        "window[{n}].pole.top", "window[{n}].pole.length", "window[{n}].eyelet.pack",
        "window[{n}].fabric.width", "window[{n}].fabric.repeat_down", "window[{n}].lining.width",
        "window[{n}].?lining", "window[{n}].?cloth", "window[{n}].?same", "window[{n}].?same pole",
        "window[{n}].?same cloth", "window[{n}].?pattern fabric", "window[{n}].?pole",
        "window[{n}].?route", "window[{n}].?more lining", "?paper",
    ]
)  # fmt: skip
TEXTS = st.sampled_from(["", "3", "5", "yes", "no", "covers", "left", "mm"])


def test_a_copied_window_has_its_cloth_itself_beside_one_without() -> None:
    """A file's [fabric] would be every window's: a new window among plain ones has its own."""
    text = f"{LEAST}panels = 'left'\n[[window]]\nwidth = 70\n[window.fabric]\nwidth = 54\n"
    file = opened(text.encode(), "job.toml")
    answers = copy_window(file.answers, 2).answers
    after = changed_file(file, answers)
    first, *others = read_job(after, "job.toml").windows
    assert first.fabric is None
    assert [one.fabric.width for one in others if one.fabric] == [54 * INCH] * 2


NUMBERS = st.integers(1, 6)
TYPED = st.lists(st.tuples(PATHS, NUMBERS, TEXTS), max_size=3)
LINED_ALONE = f"""{LEAST}[window.fabric]
[[window]]
width = 60
[window.lining]
weight = "250 gsm"
"""


@searched(500, phases=QUICK)
@given(
    jobs() | jobs().flatmap(respelled),
    st.sampled_from(["", "", "add", "copy", "remove"]),
    NUMBERS,
    TYPED,
)
# What all later windows are given, one of them then not: all say it themselves.
@example(LINED_ALONE, "copy", 2, [("window[{n}].?more lining", 2, "mm")])
def test_any_change_says_what_the_answers_say(
    text: str, rearranged: str, at: int, typed: list[tuple[str, int, str]]
) -> None:
    """However the file is spelled, its windows share tables, and whatever is typed.

    And what isn't changed stays. Windows are counted round.
    """
    file = opened(text.encode(), "job.toml")
    answers = dict(file.answers)
    many = windows_in(answers)
    at = (at - 1) % many + 1
    if rearranged == "add":
        answers = add_window(answers).answers | {f"window[{many + 1}].width": "77"}
    elif rearranged == "copy":
        answers = copy_window(answers, at).answers
    elif rearranged == "remove" and many > 1:
        answers = remove_window(answers, at).answers
    many = windows_in(answers)
    for path, number, word in typed:
        answers[path.format(n=(number - 1) % many + 1)] = word
    after = changed_file(file, answers)
    assert made(after) == made(new_file(answers))
    again = opened(after, "job.toml")
    assert changed_file(again, again.answers) == after or again.taken_out
    if rearranged != "remove":
        # A table that goes has its own comments with it.
        kept = Counter(line for line in after.decode().split("\n") if line.startswith("# a window"))
        assert kept == Counter(line for line in text.split("\n") if line.startswith("# a window"))


@pytest.mark.searched
@given(jobs())
@settings(max_examples=100, deadline=None)
def test_a_file_that_says_it_already_stays(text: str) -> None:
    """Byte for byte, so long as all of it can be shown."""
    file = opened(text.encode(), "job.toml")
    if made(text.encode()) == made(new_file(file.answers)) and not list(unsayable(text)):
        assert changed_file(file, file.answers) == text.encode()
