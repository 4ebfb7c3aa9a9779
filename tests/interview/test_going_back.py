"""Words at any question: list, back to a number, rest; and what a fault says it rests on."""

from __future__ import annotations

import re

import pytest

from drapetemplate.interview.all_questions import next_question
from drapetemplate.interview.states import State, by_word, list_answers, prompt, step
from tests.helpers.talk import TO_COUNT, TO_EYELET, TO_PAPER, after, asked, dialogue, talk

THREE = {
    "job.name": "Heron Point, hall",
    "eyelet.outside": "3 3/8",
    "eyelet.opening": "2 1/8",
    "eyelet.hole": "2 1/4",
    "window[1].name": "North",
    "window[1].width": "88",
    "window[1].?another": "yes",
    "window[2].width": "60",
    "window[2].?same": "no",
    "window[2].?same eyelet": "no",
    "window[2].eyelet.outside": "2 5/8",
    "window[2].eyelet.opening": "1 9/16",
    "window[2].eyelet.hole": "1 5/8",
    "window[2].?another": "yes",
    "window[3].width": "44",
    "window[3].panels": "single",
}


@pytest.fixture(scope="module")
def three() -> State:
    """All answers of a job of three windows, the second with eyelets of its own."""
    return dialogue(THREE)[0]


def numbered(lines: tuple[str, ...]) -> dict[int, str]:
    """The lines of a list that begin with a number, by it."""
    matches = (re.fullmatch("([0-9]+)[.] (.*)", line) for line in lines)
    return {int(match[1]): match[2] for match in matches if match}


def test_the_list_numbers_as_the_questions_do(three: State) -> None:
    """An answer has its question's number in the list, and back and that number asks it again."""
    listed = numbered(list_answers(three))
    assert list(listed) == list(range(1, len(three.answers) + 1))
    for number in listed:
        moved = by_word(three, f"Back {number}")
        assert moved is not None
        state, said = moved
        assert said == ()
        assert prompt(state)[0].startswith(f"{number}. ")
        assert [*state.answers, *state.taken_back] == list(three.answers)


def test_the_list_says_whose_answer_it_is(three: State) -> None:
    """It stands under its heading, read back; a yes or no with what was asked."""
    lines = list_answers(three)
    assert lines[:3] == ("THE JOB", "1. Units: in", "2. Job: Heron Point, hall")
    assert "WINDOW 2: THE EYELETS" in lines
    at = lines.index("WINDOW 2: THE EYELETS")
    assert lines[at + 1].endswith(". Eyelet outside: 2 5/8 in (66.675 mm)")
    assert any(line.endswith(". Another window in this job: yes") for line in lines)
    assert talk("list", state=State())[1] == ["Nothing is answered yet."]


@pytest.mark.parametrize("word", ["back 0", "back 22", "back 999999"])
def test_back_to_no_answer(word: str) -> None:
    """A number that no answer has is refused, with those that have one."""
    state = after(*TO_COUNT)
    found, said = step(state, word)
    assert found == state
    number = word.split()[1]
    assert said == (
        f"Not taken: there is no answer {number} to go back to: write 1 to {len(state.answers)}",
    )


@pytest.mark.parametrize("number", [2, 9, 17])
def test_rest_goes_on_to_where_one_was(number: int) -> None:
    """After one answer is changed, rest takes those that followed as they were, and no more."""
    state = after(*TO_COUNT)
    again, said = talk(f"back {number}", "", "rest", state=state)
    assert again.answers == state.answers
    assert prompt(again) == prompt(state)
    assert len([line for line in said if not line.startswith("WARN ")]) == 21 - number


def test_rest_stops_where_an_answer_no_longer_holds() -> None:
    """A narrower ring than before doesn't take the old opening: it is asked, the others wait."""
    state = after(*TO_COUNT, "back 17", "2", "rest")
    assert asked(state) == "Its opening, clear inside?"
    assert prompt(state)[1] == "Enter: 2 1/8, as before."
    assert len(after("1 1/2", "rest", state=state).answers) == len(after(*TO_COUNT).answers)


def test_rest_takes_a_heading() -> None:
    """Rest takes what is offered to the end of its heading, or to what needs an answer."""
    state, said = talk("", "Heron Point", "y", "1042", "rest")
    assert said == ["Client: none", "Room: none", "Due: none", "Notes: none"]
    assert asked(state) == "What is this window called?"
    state, said = talk("rest", "", "rest", state=state)
    assert said == ["Not taken: this one needs an answer; ? explains it"]
    assert asked(state) == "Finished width of one panel, laid flat?"


def test_rest_keeps_a_stop_for_its_user() -> None:
    """An answer that was kept against a stop is asked about again."""
    state = after(*TO_COUNT, "17", "keep", "", "back 17", "", "rest")
    assert asked(state) == "How many eyelets in a panel?"
    assert talk("keep", state=state)[1] == ["Eyelets a panel: 17"]


@pytest.mark.parametrize("word", ["list", "Rest", "back", "back 10", "keep", "?"])
def test_a_name_that_is_a_word(word: str) -> None:
    """In quotes a word is a name like any other."""
    assert talk("", "?")[1][1].endswith('goes in quotes: "list".')
    assert not talk("?")[1][1].endswith('goes in quotes: "list".')
    state, said = talk("", f'"{word}"')
    assert said == [f"Job: {word}"]
    assert talk("back", f"“{word}”", state=state)[1] == [f"Job: {word}"]


def test_words_at_the_end() -> None:
    """Where all is answered, list and back still do what they say, and nothing else does."""
    state = after(*TO_PAPER, "rest")
    assert prompt(state) == ()
    listed = by_word(state, " List ")
    assert listed is not None
    assert len(numbered(listed[1])) == len(state.answers)
    moved = by_word(state, "back to 9.")
    assert moved is not None
    assert prompt(moved[0])[:2] == (
        "9. Finished width of one panel, laid flat?",
        "Enter: 88, as before.",
    )
    assert by_word(state, "backwards.toml") is None


def test_a_fault_names_its_own_windows_answers() -> None:
    """What a later window's answers can't do together is said with that window's numbers."""
    state = dialogue(THREE)[0]
    paths = [answer.path for answer in state.answers]
    at = paths.index("window[2].eyelet.opening") + 1
    said = talk(f"back {at}", "2 5/8", state=state)[1]
    ring = paths.index("window[2].eyelet.outside") + 1
    assert said == [
        'Not taken: 2 5/8 in must be less than "Eyelet outside", 2 5/8 in',
        "It rests on earlier answers too:",
        f"{ring}. Eyelet outside: 2 5/8 in (66.675 mm)",
        f"Type another answer, or back {ring} to change that one.",
    ]
    # The third window has the first one's ring, which is the file's.
    at = paths.index("window[3].count") + 1
    said = talk(f"back {at}", "20", state=state)[1]
    assert said[0].startswith("Not taken: 20 eyelets of 3 3/8 in don't fit across 44 in")
    named = {line.partition(". ")[2] for line in said[2:-1]}
    assert "Eyelet outside: 3 3/8 in (85.725 mm)" in named
    assert "Finished width: 44 in (1117.6 mm)" in named
    assert not any("88 in" in line or "2 5/8" in line for line in named)


@pytest.fixture(scope="module")
def measured() -> State:
    """All answers of three windows with cloth, lining and hems, of which none is refused."""
    more = {
        **{f"window[{number}].length": "84" for number in (1, 2, 3)},
        "pole.diameter": "1 3/8",
        "pole.projection": "3 1/2",
        "fabric.width": "54",
        **{f"window[1].?{branch}": "yes" for branch in ("pole", "eyelet", "cloth", "lining")},
        "window[1].?hems fabric": "yes",
        "lining.width": "54",
        "window[3].return": "2 5/8",
    }
    return dialogue(THREE | more)[0]


@pytest.mark.parametrize(
    ("slip", "typed", "shows_at"),
    [
        ("window[1].width", "5", "eyelet.opening"),
        ("pole.diameter", "84", "eyelet.opening"),
        ("pole.projection", "1", "eyelet.opening"),
        ("pole.projection", "44", "window[3].width"),
        ("pole.wall_clearance", "2 1/8", "eyelet.opening"),
        ("pole.length", "84", "window[2].eyelet.opening"),
        ("window[1].covers", "150", "eyelet.opening"),
        ("window[1].fullness", "1", "eyelet.opening"),
        ("window[1].length", "3 3/8", "eyelet.opening"),
        ("window[1].return", "84", "eyelet.opening"),
        ("eyelet.outside", "12", "eyelet.opening"),
        ("window[2].length", "1", "window[2].eyelet.opening"),
        ("window[2].eyelet.outside", "12", "window[2].eyelet.opening"),
        ("window[3].width", "12", "window[3].return"),
    ],
)
def test_a_slip_is_named_where_it_shows(
    measured: State, slip: str, typed: str, shows_at: str
) -> None:
    """One answer is off, all others right: where a right one is refused, its number is told."""
    right = dict(measured.answers)
    at = list(right).index(slip)
    state = after(typed, state=State(measured.answers[:at]))
    while (placed := next_question(dict(state.answers))) is not None:
        found, said = step(state, right[placed.path])
        if found.answers == state.answers:
            break
        state = found
    assert placed is not None
    assert placed.path == shows_at
    assert at + 1 in numbered(said), said


def test_the_way_out_of_a_wrong_early_answer() -> None:
    """A length typed at the leading edge is found out late: its number leads back to it."""
    slip = (*TO_EYELET[:8], "72", "1 3/8", "3 1/2", "", "", "", "84", "1 1/2", "2 5/8")
    state, said = talk(*slip, "1 9/16")
    assert "15. Leading: 84 in (2133.6 mm)" in said
    assert said[1] == "It rests on earlier answers rather than this one:"
    mended = after("back 15", "1 1/2", "rest", state=state)
    assert asked(mended) == "Its opening, clear inside?"
    assert talk("1 9/16", state=mended)[1][0] == "Opening: 1 9/16 in (39.7 mm)"


@pytest.fixture(scope="module")
def by_fullness() -> State:
    """All answers of a window that covers its pole twice over, and of small paper."""
    answers = {
        "units": "mm",
        "?job": "yes",
        "job.name": "Heron Point, hall",
        "job.number": "1042",
        "window[1].name": "North",
        "window[1].?route": "covers",
        "window[1].covers": "1000",
        "window[1].fullness": "2",
        "eyelet.outside": "66",
        "eyelet.opening": "40",
        "?paper": "yes",
        "paper.size": "200 x 200 mm",
    }
    return dialogue(answers)[0]


@pytest.mark.parametrize(
    ("path", "typed", "expected"),
    [
        # 2000 mm and what lies along the edges hold no 40 rings, whoever they are for.
        (
            "window[1].count",
            "40",
            ["Pole covered", "Fullness", "Leading", "Return", "Eyelet outside"],
        ),
        ("paper.margin", "80", ["Paper"]),
    ],
)
def test_what_a_fault_rests_on(
    by_fullness: State, path: str, typed: str, expected: list[str]
) -> None:
    """Every answer that has a part in it and no other: no name, no units, of paper the paper's."""
    at = [answer.path for answer in by_fullness.answers].index(path) + 1
    said = talk(f"back {at}", typed, state=by_fullness)[1]
    assert said[0].startswith("Not taken: ")
    rests_on = numbered(tuple(said)).values()
    assert [line.partition(":")[0] for line in rests_on] == expected
