"""What is doubtful in an order for many jobs, job by job as whoever buys would ask."""

from __future__ import annotations

import pytest

from drapetemplate.planning.joint_doubts import Doubt, counted, order_doubts
from drapetemplate.planning.joint_order import PlannedJob, joint_order
from tests.helpers.jobfiles import RING
from tests.helpers.ordered import LINEN, PAIR, order_toml, planned

HOUSE = "Heron Point, "
STUDY = planned(order_toml("study"))


def doubts(*jobs: PlannedJob) -> list[tuple[str, str]]:
    """Codes and texts of an order's doubts."""
    return [(doubt.code, doubt.text) for doubt in order_doubts(joint_order(jobs))]


def hall(**words: str) -> PlannedJob:
    """Another job, of which something differs."""
    return planned(order_toml("hall", **words))


PATTERN = "repeat_down = 25\nrepeat_across = 27"
OTHERS: dict[str, tuple[PlannedJob, PlannedJob, str]] = {
    "cloth-widths": (
        STUDY,
        hall(tables=LINEN.replace("54", "118")),
        (
            "Heron linen has several widths: 54 in for study; 118 in for hall. Each is a "
            "line of its own"
        ),
    ),
    "cloth-repeats": (
        STUDY,
        hall(tables=f"{LINEN}\n{PATTERN}"),
        (
            "Heron linen has several repeats: 25 in down and 27 in across for hall; none "
            "for study. Is it one cloth?"
        ),
    ),
    "cloth-weights": (
        hall(tables=f'{LINEN}\nweight = "300 gsm"'),
        planned(order_toml("porch", tables=f'{LINEN}\nweight = "250 gsm"')),
        ("Heron linen has several weights: 300 gsm for hall; 250 gsm for porch. Is it one cloth?"),
    ),
    "amount-not-known": (
        STUDY,
        planned(order_toml("hall", PAIR.replace("\nlength = 84", ""))),
        (
            "Heron linen: how much hall takes isn't known, and isn't in the order: give the "
            "cloth's width and the windows' length"
        ),
    ),
    "eyelet-hole": (
        STUDY,
        hall(eyelet=RING.replace('hole = "1 in"', 'hole = "1 1/8"')),
        (
            "eyelet 2 in outside, 1 in opening: its hole is 1 1/8 in for hall; 1 in for study. "
            "Is it one eyelet?"
        ),
    ),
    "eyelet-thickness": (
        hall(eyelet=f'{RING}\nthickness = "1/8"'),
        planned(order_toml("porch", eyelet=f'{RING}\nthickness = "1/4"')),
        (
            "eyelet 2 in outside, 1 in opening: its thickness is 1/8 in for hall; 1/4 in for "
            "porch. Is it one eyelet?"
        ),
    ),
    "eyelet-packs": (
        hall(eyelet=f"{RING}\npack = 25"),
        planned(order_toml("porch", eyelet=f"{RING}\npack = 10")),
        (
            "eyelet 2 in outside, 1 in opening: packs of 25 for hall; 10 for porch. Packs of "
            "10 are counted"
        ),
    ),
    "band-rolls": (
        hall(tables=f'{LINEN}\n[band]\nroll = "25 yd"'),
        planned(order_toml("porch", tables=f'{LINEN}\n[band]\nroll = "10 yd"')),
        ("band 4 in high: a roll is 360 in for porch; 900 in for hall. Each is a line of its own"),
    ),
    "cloth-unnamed": (
        hall(tables="[fabric]\nwidth = 54"),
        planned(order_toml("porch", tables="[fabric]\nwidth = 54")),
        (
            "fabric without a name, width 54 in, is a line for each of hall and porch: a name "
            "makes it one"
        ),
    ),
    "cloth-spelled": (
        STUDY,
        hall(tables=LINEN.replace("Heron linen", "HERON LINEN")),
        "HERON LINEN and Heron linen are taken for one cloth",
    ),
}
"""For each doubt two jobs that it is about, and its words, the house's name left out."""


@pytest.mark.parametrize("code", OTHERS)
def test_two_jobs_that_differ(code: str) -> None:
    """What two jobs say differently of one thing is told, with both; of either alone nothing is."""
    one, other, text = OTHERS[code]
    assert [(told, words.replace(HOUSE, "")) for told, words in doubts(one, other)] == [
        (code, text)
    ]
    assert [told for told, _ in doubts(one)] == []
    assert [told for told, _ in doubts(other)] in ([], ["amount-not-known"])


def test_what_is_only_assumed_contradicts_nobody() -> None:
    """A job that doesn't say the hole, thickness, pack or weight of what another does agrees."""
    says_less = hall(eyelet='outside = "2 in"\nopening = "1 in"')
    says_more = planned(
        order_toml(
            "porch",
            eyelet=f'{RING}\nthickness = "1/4"\npack = 10\nspares = 2\nweight = "9 g"',
            tables=f'{LINEN}\nweight = "300 gsm"\n[band]\nroll = "25 yd"',
        )
    )
    assert doubts(STUDY, says_less, says_more) == []
    # On hooks nothing turns, so that a thickness is of no concern.
    hooks = planned(order_toml("attic", eyelet=f'{RING}\nhung = "hooks"'))
    assert doubts(hooks, says_more) == []


def test_measures_that_read_alike_in_one_unit_are_told_in_their_own() -> None:
    """What differs by less than 1/16 in is told apart all the same, each as its job has it."""
    one = hall(eyelet=RING.replace('hole = "1 in"', 'hole = "42 mm"'))
    other = planned(order_toml("porch", eyelet=RING.replace('hole = "1 in"', 'hole = "41.9 mm"')))
    told = [text.replace(HOUSE, "") for _, text in doubts(one, other)]
    assert told == [
        (
            "eyelet 2 in outside, 1 in opening: its hole is ≈ 1 5/8 in (42 mm) for hall; "
            "≈ 1 5/8 in (41.9 mm) for porch. Is it one eyelet?"
        )
    ]
    metric = order_toml(
        "attic",
        "width = 1880\nlength = 2100",
        head='units = "mm"',
        eyelet=RING.replace('hole = "1 in"', "hole = 26"),
        tables='[fabric]\nname = "Heron linen"\nwidth = "54 in"\nrepeat_down = 640',
    )
    patterned = hall(tables=f'{LINEN}\nrepeat_down = "25 1/4"')
    told = [text.replace(HOUSE, "") for _, text in doubts(patterned, planned(metric))]
    assert told == [
        (
            "Heron linen has several repeats: 640 mm down for attic; 25 1/4 in down for hall. "
            "Is it one cloth?"
        ),
        (
            "eyelet 50.8 mm outside, 25.4 mm opening: its hole is 26 mm for attic; 1 in for hall. "
            "Is it one eyelet?"
        ),
    ]


def test_one_job_knows_what_it_says() -> None:
    """Windows of one job that differ are its own concern."""
    plain = f'{PAIR}\n[window.fabric]\nrepeat_down = "none"\nrepeat_across = "none"'
    assert doubts(planned(order_toml("hall", PAIR, plain, tables=f"{LINEN}\n{PATTERN}"))) == []


def test_a_job_with_a_stop_is_ordered_and_told() -> None:
    """What has no template yet is bought for all the same, and that is said."""
    odd = planned(order_toml("landing", PAIR.replace("count = 12", "count = 11")))
    order = joint_order([odd])
    assert order.cloth[0].order.drops
    (doubt,) = order_doubts(order)
    assert (doubt.level, doubt.code) == ("warn", "stop")
    codes = ", ".join(dict.fromkeys(stop.code for stop in odd.plan.stops))
    assert doubt.text.startswith(f"Heron Point, landing: no template is made of it yet ({codes})")


NUMBERED = 'number = "2041"'
OLD = order_toml("study", job=NUMBERED)
NEW = OLD.replace("width = 74", "width = 80")


def versions(*jobs: PlannedJob) -> tuple[list[str], list[str]]:
    """The files of the jobs that count, and the codes of what is doubtful in that."""
    kept, told = counted(jobs)
    return [job.sources[0] for job in kept], [doubt.code for doubt in told]


def test_job_file_counts_before_the_pdf_of_another_version() -> None:
    """A job file that was changed since its PDF was made counts; that is told with both names."""
    file, pdf = planned(NEW, "study.toml"), planned(OLD, "study.pdf")
    for jobs in ([file, pdf], [pdf, file]):
        kept, told = counted(jobs)
        assert kept == (file,)
        assert told == (
            Doubt(
                "warn",
                "two-versions",
                "2041 · Heron Point, study: study.pdf was made from another version than "
                "study.toml, which counts: make the PDF anew",
            ),
        )


def test_versions_of_a_kind_all_count() -> None:
    """Of two job files, or two PDFs, none is known to be the later: both count, which is told."""
    for names in (("a.toml", "b.toml"), ("a.pdf", "b.pdf")):
        kept, (doubt,) = counted([planned(OLD, names[0]), planned(NEW, names[1])])
        assert len(kept) == 2
        assert doubt.text == (
            f"2041 · Heron Point, study: {names[0]} and {names[1]} differ, and each is counted: if "
            "they are versions of one job, leave out the old ones"
        )


def test_one_number_for_two_names() -> None:
    """Two rooms of one number are two jobs, which is told since it may be one, renamed."""
    other = planned(order_toml("hall", job=NUMBERED), "hall.pdf")
    assert versions(planned(OLD, "study.toml"), other) == (
        ["hall.pdf", "study.toml"],
        ["one-number"],
    )


def test_jobs_without_a_number() -> None:
    """These are one by name, client and room."""
    plain, changed = order_toml("study"), order_toml("study").replace("width = 74", "width = 80")
    assert versions(planned(plain, "a.pdf"), planned(changed, "b.toml")) == (
        ["b.toml"],
        ["two-versions"],
    )
    for_room = order_toml("study", job='room = "attic"')
    assert versions(planned(plain, "a.pdf"), planned(for_room, "b.toml")) == (
        ["a.pdf", "b.toml"],
        [],
    )
    assert versions(planned(plain, "a.pdf"), planned(OLD, "b.toml"))[1] == []
