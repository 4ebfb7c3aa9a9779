"""Windows added, copied and removed: every other window stays as it was, to the last measure."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drapetemplate.desk.windows import Rearranged, add_window, copy_window, remove_window
from drapetemplate.errors import JobError
from drapetemplate.interview.at_once import asked_of_all
from drapetemplate.interview.job_text import job_text
from drapetemplate.job.build import read_job
from drapetemplate.job.model import Window
from drapetemplate.job.tables import MOST_WINDOWS
from tests.helpers.desk import answers_of
from tests.helpers.jobfiles import RING, job_toml

POLE = '[pole]\ndiameter = "5/8"\nprojection = 4'
CLOTH = "[fabric]\nwidth = 54\nrepeat_down = 25"
FIRST = "width = 60\nlength = 84\nname = 'North'"


def windows_of(answers: dict[str, str]) -> list[Window]:
    """The windows of the job file that these answers are saved as."""
    return list(read_job(job_text(asked_of_all(answers).counted).encode(), "").windows)


def bare(window: Window) -> Window:
    """A window without its place, the name it has by that, and what of it was only assumed."""
    name = "" if window.name.startswith("Window ") else window.name
    return replace(window, key="", name=name, assumed=())


def removed(toml: str, window: int) -> tuple[list[Window], list[Window], Rearranged]:
    """A job's windows but that one, those left once it is removed, and what was done."""
    answers = answers_of(toml)
    before = windows_of(answers)
    done = remove_window(answers, window)
    left = [bare(each) for n, each in enumerate(before, 1) if n != window]
    return left, [bare(each) for each in windows_of(done.answers)], done


@pytest.mark.parametrize("window", [1, 2, 3])
def test_removing_one_of_three(window: int) -> None:
    """The two that stay have all they had, whatever they shared with the one that goes."""
    toml = job_toml(
        FIRST,
        'width = 50\npanels = "left"\n[window.pole]\nprojection = 5\n[window.fabric]\nwidth = 60',
        "width = 40\ncount = 8\n[window.eyelet]\npack = 10",
        tables=f"{POLE}\n{CLOTH}",
    )
    left, after, done = removed(toml, window)
    assert after == left
    assert done.told == ()
    assert done.window == min(window, 2)
    chain = [done.answers[f"window[{n}].?another"] for n in (1, 2)]
    assert chain == ["yes", "no"]
    assert "window[3].width" not in done.answers


def test_what_cant_be_left_out_is_told() -> None:
    """A later window can't say that it knows no pole: that it has the other's now is told."""
    toml = job_toml(
        "width = 60", "width = 50\n[window.pole]\ndiameter = '3/4'", "width = 40\nname = 'Oriel'"
    )
    _, after, done = removed(toml, 1)
    assert done.told == ("Oriel: without the first window it has another pole diameter",)
    assert [window.pole.diameter for window in after] == [after[0].pole.diameter] * 2


def test_a_default_of_its_own_is_written_out() -> None:
    """A third window that took a default keeps its value where the new first one has another."""
    toml = job_toml(
        "width = 60",
        "width = 50\n[window.pole]\nwall_clearance = 1\n[window.eyelet]\nhole = '1 1/4'",
        "width = 40",
        tables=POLE,
    )
    left, after, done = removed(toml, 1)
    assert after == left
    assert done.answers["window[2].pole.wall_clearance"] == "1/2"
    assert done.answers["window[2].eyelet.hole"] == "1 in"


def test_a_lining_and_a_plain_cloth() -> None:
    """Unlined stays unlined, plain stays plain, where the new first window's has both."""
    toml = job_toml(
        FIRST,
        "width = 50",
        "width = 40\nlining = 'none'\n[window.fabric]\nrepeat_down = 'none'",
        "width = 45",
        tables=f"{POLE}\n{CLOTH}\n[lining]\nwidth = 48",
    )
    for window in (1, 2, 3, 4):
        left, after, done = removed(toml, window)
        assert after == left
        assert done.told == ()


def test_the_first_ones_stale_text_goes_with_it() -> None:
    """What was typed and doesn't count isn't brought up by a removal."""
    toml = job_toml(FIRST, "width = 50", tables=POLE)
    answers = answers_of(toml) | {"window[2].?same": "yes", "window[2].pole.diameter": "nonsense"}
    answers |= {"window[2].?eyelet": "no", "window[2].gap": "5"}
    done = remove_window(answers, 1)
    assert done.answers["pole.diameter"] == "5/8"
    (window,) = windows_of(done.answers)
    assert window.width == 1270
    assert window.gap is None


def test_removed_branches_are_closed_again() -> None:
    """A window that becomes the first asks no more than it must for what it has."""
    done = remove_window(answers_of(job_toml(FIRST, "width = 50", tables=POLE)), 1)
    opened = {path for path, text in done.answers.items() if "?" in path and text == "yes"}
    assert opened == {"?job", "?paper"}


def test_what_cant_be_left_out_is_told_of_each_of_many() -> None:
    """Windows alike in all but names and measures are told one by one, a faulty one's like them."""
    later = [f"width = {40 + n}\nname = 'Oriel {n}'" for n in (1, 2, 3)]
    toml = job_toml(
        "width = 60", "width = 50\n[window.pole]\nwall_clearance = 1", *later, tables=POLE
    )
    answers = answers_of(toml) | {"window[3].width": "half of"}
    done = remove_window(answers, 1)
    for n in (2, 3, 4):
        assert done.answers[f"window[{n}].pole.wall_clearance"] == "1/2"
    assert [done.answers[f"window[{n}].width"] for n in (2, 3, 4)] == ["half of", "42", "43"]
    toml = job_toml("width = 60", "width = 50\n[window.pole]\ndiameter = '3/4'", *later)
    told = remove_window(answers_of(toml), 1).told
    has = "without the first window it has another pole diameter"
    assert told == tuple(f"Oriel {n}: {has}" for n in (1, 2, 3))


WINDOWS = st.fixed_dictionaries(
    {"width": st.sampled_from([40, 50, 60])},
    optional={
        "panels": st.sampled_from(["left", "right", "single", "pair"]),
        "count": st.sampled_from([6, 8]),
        "extra_seams": st.just(1),
        "stack_each": st.just("1 1/2"),
        "eyelet": st.fixed_dictionaries(
            {},
            optional={
                "hung": st.just("hooks"),
                "thickness": st.sampled_from(["1/8", "0"]),
                "weight": st.just("12 g"),
                "spares": st.sampled_from([0, 4]),
            },
        ),
        "band": st.fixed_dictionaries({}, optional={"height": st.just("5"), "above": st.just("1")}),
        "pole": st.fixed_dictionaries(
            {},
            optional={
                "diameter": st.sampled_from(["1/2", "5/8"]),
                "projection": st.sampled_from(["4", "6"]),
                "wall_clearance": st.just("3/4"),
                "off_floor": st.just("1"),
                "top": st.just("90"),
            },
        ),
        "fabric": st.fixed_dictionaries(
            {},
            optional={
                "width": st.sampled_from(["54", "60"]),
                "repeat_down": st.sampled_from(["25", "none"]),
                "seam": st.just("1"),
                "shrinkage": st.just("3 %"),
                "railroad": st.just(True),  # noqa: FBT003  # a value of a job file
                "weight": st.just("250 gsm"),
            },
        ),
        "lining": st.one_of(
            st.just("none"), st.fixed_dictionaries({}, optional={"width": st.just("48")})
        ),
    },
)


def as_toml(windows: list[dict[str, Any]]) -> str:
    """A job file of windows, the first one's tables the whole file's."""

    def keys(table: dict[str, Any]) -> str:
        return "\n".join(
            f"{key} = {str(value).lower() if isinstance(value, bool | int) else repr(value)}"
            for key, value in table.items()
            if not isinstance(value, dict)
        )

    tables, bodies = [], []
    for n, window in enumerate(windows):
        own = {key: value for key, value in window.items() if isinstance(value, dict)}
        if n == 0:
            tables += [f"[{key}]\n{keys(value)}" for key, value in own.items() if key != "eyelet"]
            eyelet = f"{RING}\n{keys(own.get('eyelet', {}))}"
            plain = {key: value for key, value in window.items() if value != "none"}
            bodies.append(keys(plain))
        else:
            inner = "\n".join(f"[window.{key}]\n{keys(value)}" for key, value in own.items())
            bodies.append(f"{keys(window)}\n{inner}")
    return job_toml(*bodies, eyelet=eyelet, tables="\n".join(tables))


@settings(deadline=None, max_examples=40)  # up to four windows, each read many times
@given(st.lists(WINDOWS, min_size=2, max_size=4), st.integers(1, 4))
def test_removing_any_of_any(windows: list[dict[str, Any]], window: int) -> None:
    """Whatever is shared and whatever is a window's own: all stays, or what doesn't is told."""
    window = min(window, len(windows))
    try:
        left, after, done = removed(as_toml(windows), window)
    except JobError:
        return  # no such job
    assert len(after) == len(left)
    for was, now in zip(left, after, strict=True):
        same = {
            field.name: getattr(was, field.name) == getattr(now, field.name)
            for field in fields(Window)
            # Without a cloth it says nothing.
            if field.name != "extra_seams" or was.fabric is not None
        }
        if not done.told:
            assert all(same.values()), same
        own = {name: kept for name, kept in same.items() if name not in TABLES}
        assert all(own.values()), own


TABLES = {"eyelet", "band", "pole", "fabric", "lining"}


def test_adding() -> None:
    """A window more, of which nothing is said; the questions go on to it."""
    answers = answers_of(job_toml(FIRST, "width = 50", tables=POLE))
    done = add_window(answers)
    assert done.window == 3
    assert done.answers == {
        **answers,
        "window[2].?another": "yes",
        "window[3].?another": "no",
    }
    full = {f"window[{MOST_WINDOWS}].width": "60"}
    with pytest.raises(JobError, match="1000 windows at most"):
        add_window(full)


@pytest.mark.parametrize("window", [1, 2])
def test_copying(window: int) -> None:
    """The copy is planned as its original, at the end, without its name."""
    toml = job_toml(
        f"{FIRST}\nextra_seams = 1\ncount = 8\ngap = 3",
        'width = 50\nname = "Oriel"\n[window.pole]\nprojection = 5\n[window.fabric]\nseam = 1',
        tables=f"{POLE}\n{CLOTH}\n[lining]\nwidth = 48",
    )
    answers = answers_of(toml)
    before = windows_of(answers)
    done = copy_window(answers, window)
    after = windows_of(done.answers)
    assert done.window == 3
    assert [bare(each) for each in after[:2]] == [bare(each) for each in before]
    assert replace(bare(after[2]), name="") == replace(bare(before[window - 1]), name="")
    assert after[2].name == "Window 3"


def test_the_only_window_stays() -> None:
    """A job has one at the least."""
    with pytest.raises(JobError, match="one window at the least"):
        remove_window(answers_of(job_toml()), 1)


def test_no_such_window() -> None:
    """A window that isn't there is neither copied nor removed."""
    answers = answers_of(job_toml("width = 60", "width = 50"))
    for change in (copy_window, remove_window):
        with pytest.raises(JobError, match="no window 3: the job has 2"):
            change(answers, 3)
