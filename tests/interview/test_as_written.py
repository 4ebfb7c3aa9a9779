"""Dates and units as people write them: each is one thing, or refused."""

from __future__ import annotations

import re
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.interview.as_written import date_meant, day_in_words, units_meant
from drapetemplate.interview.job_text import job_text
from drapetemplate.job.build import read_job
from tests.helpers.talk import dialogue

DAYS = st.dates(date(1900, 1, 1), date(2199, 12, 31))
MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"]


@given(DAYS)
def test_a_day_however_it_is_written(day: date) -> None:
    """A month in words, or the year first, is read as that day, in either order."""
    month, name = MONTHS[day.month - 1], day.strftime("%B")
    written = [
        *(f"{day.day} {month} {day.year}", f"{month} {day.day} {day.year}"),
        *(f"{name} {day.day}, {day.year}", f"{day.day}. {name.upper()} {day.year}"),
        *(f"{day.day:02}-{month}-{day.year}", f"{day.year}/{day.month}/{day.day}"),
        *(day.isoformat(), day_in_words(day)),
    ]
    assert [date_meant(text) for text in written] == [day.isoformat()] * len(written)


@given(DAYS, st.sampled_from("./-"))
def test_two_numbers_are_one_day_or_refused(day: date, mark: str) -> None:
    """In numbers with the year last, a day that could be another is refused with both named."""
    for text in (
        f"{day.day}{mark}{day.month}{mark}{day.year}",
        f"{day.month}{mark}{day.day}{mark}{day.year}",
    ):
        if day.day > 12 or day.day == day.month:
            assert date_meant(text) == day.isoformat()
        else:
            both = {day.isoformat(), day.replace(month=day.day, day=day.month).isoformat()}
            with pytest.raises(ValueError, match="could be") as refused:
                date_meant(text)
            offered = re.findall(r"[0-9]+ [A-Z][a-z]{2} [0-9]{4}", str(refused.value))
            assert {date_meant(one) for one in offered} == both


@pytest.mark.parametrize(
    "text",
    [
        *(
            "",
            "soon",
            "31 Feb 2027",
            "2027-13-01",
            "31 Mar",
            "Mar 2027",
            "31 Mar 27",
            "2027 Mar 31",
        ),
        *("31/3/27", "1 2 Mar 2027", "31 Ma 2027", "1 Mar 0207", "0.3.2027", "\u0663 1 Mar 2027"),
        *("next 1 Mar 2027", "31 Mar Apr 2027", "1 Mar 20277"),
    ],
)
def test_no_day(text: str) -> None:
    """What is no day, or only part of one, is refused with what would be right."""
    with pytest.raises(ValueError, match=r"31 Mar 2027 or 2027-03-31$"):
        date_meant(text)


@pytest.mark.parametrize("text", ["01/12/26", "1.2.26", "26-12-01", "13 12 26"])
def test_short_years(text: str) -> None:
    """A year of two digits may be a day: it is asked for in full."""
    with pytest.raises(ValueError, match="needs a year of four digits"):
        date_meant(text)


@pytest.mark.parametrize(
    ("texts", "units"),
    [
        (
            (
                "in",
                "IN",
                "in.",
                "inch",
                "inches",
                '"',
                "\N{DOUBLE PRIME}",
                "”",
            ),
            "in",
        ),
        (("mm", "MM", "millimetres", "millimeter", "mm."), "mm"),
        (("cm", "centimeters", "Centimetre"), "cm"),
    ],
)
def test_units(texts: tuple[str, ...], units: str) -> None:
    """Any name of the three units will do."""
    assert {units_meant(text) for text in texts} == {units}


@pytest.mark.parametrize("text", ["", "m", "feet", "'", "metric", "imperial", "in mm"])
def test_no_units(text: str) -> None:
    """A unit that measures aren't taken in is refused."""
    with pytest.raises(ValueError, match=r"write in, mm or cm$"):
        units_meant(text)


def test_in_the_job_file() -> None:
    """The job file has them in its own spelling."""
    said = {"units": "Inches", "?job": "yes", "job.due": "Dec 1st, 2026", "job.name": "Heron Point"}
    needed = {"window[1].width": "88", "eyelet.outside": "3 3/8", "eyelet.opening": "2 1/8"}
    state, _ = dialogue(said | needed)
    text = job_text(dict(state.answers))
    assert 'units = "in"' in text
    job = read_job(text.encode(), "job.toml")
    assert (job.units, job.details.due) == ("in", date(2026, 12, 1))
