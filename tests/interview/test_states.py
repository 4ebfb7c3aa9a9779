"""The interview: typed lines in, what is said and the next state out, by the reader's rules."""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drapetemplate.interview.job_text import job_text
from drapetemplate.interview.states import (
    WORDS,
    Answer,
    State,
    go_back,
    is_done,
    last_answer,
    prompt,
    resume,
    section_title,
    step,
)
from drapetemplate.job.build import read_job
from drapetemplate.job.parse import read_file
from drapetemplate.planning.plan import plan
from tests.helpers.searching import searched
from tests.helpers.talk import TO_COUNT, TO_EYELET, TO_PAPER, after, asked, files_answers, talk


def numbers_named(lines: Iterable[str]) -> list[int]:
    """The numbers of the answers that these lines name."""
    return [int(line.split(".")[0]) for line in lines if re.match(r"[0-9]+[.] ", line)]


START = after("", "Heron Point, linen store", "")


def _at(*lines: str) -> State:
    """The state after the job and these answers about its window."""
    return after(*lines, state=START)


def test_a_first_job() -> None:
    """A few measures and empty lines make a job that can be planned without a stop."""
    state = after(*TO_PAPER, "", "", "")
    assert is_done(state)
    assert (prompt(state), section_title(state)) == ((), "")
    assert step(state, "more") == (state, ())
    assert files_answers(state) == {
        "job.name": "Heron Point, linen store",
        "window[1].width": "88",
        "pole.diameter": "1 3/8",
        "pole.projection": "3 1/2",
        "eyelet.outside": "3 3/8",
        "eyelet.opening": "2 1/8",
    }
    planned = plan(read_job(job_text(dict(state.answers)).encode(), "job.toml"))
    assert planned.stops == ()


@pytest.mark.parametrize(
    ("before", "typed", "said"),
    [
        ((), "", "Units: in"),
        ((), "CM", "Units: cm"),
        (("",), " Heron Point ", "Job: Heron Point"),
        (("", "x"), "", "No."),
        (("", "x"), "Y", "Yes."),
        (TO_EYELET[:8], "88", "Finished width: 88 in (2235.2 mm)"),
        (TO_EYELET[:8], "6' 3 1/2\"", "Finished width: 75 1/2 in (1917.7 mm)"),
        (TO_EYELET[:8], "75½", "Finished width: 75 1/2 in (1917.7 mm)"),
        (TO_EYELET[:8], "190.5 cm", "Finished width: 75 in (1905 mm)"),
        (("mm", *TO_EYELET[1:8]), "2235", "Finished width: 2235 mm (≈ 88 in)"),
        (TO_EYELET, "2 5/8", "Eyelet outside: 2 5/8 in (66.675 mm)"),
        (TO_EYELET[:5], "Left", "Panels: left"),
        (TO_EYELET[:4], "", "Windows alike: 1"),
        (TO_EYELET[:9], "", "Pole diameter: not known, so it isn't checked how far the rings turn"),
        (TO_EYELET[:-2], "", "Leading: 1 1/2 in (38.1 mm)"),
        (TO_EYELET[:3], "", "Window: Window 1"),
        (TO_COUNT, "", "Eyelets a panel: auto"),
        (TO_COUNT, "AUTO", "Eyelets a panel: auto"),
        (TO_PAPER, "A4", "Paper: A4"),
        (TO_PAPER, "13 x 19 in", "Paper: 13 x 19 in"),
        ((*TO_PAPER, ""), "", "Template shows: the face"),
        ((*TO_PAPER, ""), "yes", "Template shows: the back"),
        ((*TO_PAPER, "", "", "y", *[""] * 6), "V,H", "Gap letters: V in front, H behind"),
        (("", "x", "y", "", "", ""), "2027-03-31", "Due: 31 March 2027"),
        (("", "x", "y", "", "", ""), "Mar 31, 2027", "Due: 31 March 2027"),
        (("", "x", "y", "", "", ""), "none", "Due: none"),
        (("", "x", "y", ""), "None", "Client: none"),
        (
            TO_EYELET[:9],
            "not known",
            "Pole diameter: not known, so it isn't checked how far the rings turn",
        ),
        ((), "inches", "Units: in"),
        ((), "Millimeters", "Units: mm"),
    ],
)
def test_read_back(before: tuple[str, ...], typed: str, said: str) -> None:
    """An answer is said as it was understood, a length in both systems, a default in words."""
    assert talk(*before, typed)[1][0] == said


def test_read_back_of_a_break_on_the_floor() -> None:
    """A minus before the air under a panel is read back as cloth on the floor."""
    state = after(*TO_EYELET[:13], "90")
    assert asked(state) == "How far off the floor does the panel end?"
    assert talk("-1", state=state)[1] == ["Off the floor: 1 in (25.4 mm) on the floor"]
    refused = talk("-30", state=state)[1][0]
    assert refused.startswith('Not taken: "-30" is more cloth on the floor than is ever wanted')


def test_glass_settles_a_width() -> None:
    """By what is covered, glass and fullness are enough; an empty line passes by the glass."""
    by_covers = _at("", "", "", "", "covers", "")
    assert asked(by_covers) == "How wide is the glass that is to be seen through?"
    covers = after("60", state=by_covers)
    assert prompt(covers)[1].startswith("Enter: all of a pole that clears the glass")
    assert talk("", "2", state=covers)[1] == ["Fullness: 2"]
    needed = after("", state=by_covers)
    assert talk("", state=needed)[1] == ["Not taken: this one needs an answer; ? explains it"]


def test_brackets_are_asked() -> None:
    """How many brackets, and only without an answer how much pole may be left without one."""
    more = after(*TO_EYELET[:11], "y", "", "96")
    assert asked(more) == "How many brackets hold the pole between its two ends?"
    assert asked(after("1", state=more)) == "How wide is the glass that is to be seen through?"
    span = after("", state=more)
    assert asked(span) == "Then what is the most pole that may be left without a bracket?"
    assert asked(after("", state=span)) == "How wide is the glass that is to be seen through?"


def test_read_back_of_cloth() -> None:
    """Fullness, weights, shares and yes or no are read back too."""
    by_covers = ("", "", "", "", "covers", "", "", "44")
    assert talk(*by_covers, "2 1/2", state=START)[1] == ["Fullness: 2.5"]
    cloth = (*TO_COUNT, *[""] * 4, "y", "linen", "54", "", "", "y")
    state, said = talk(*cloth, "y")
    assert said == ["Fabric railroaded: yes"]
    assert talk("8 oz/yd2", state=state)[1] == ["Fabric weight: 271.2 gsm"]
    assert talk("250 gsm", "3 %", state=state)[1] == ["Fabric shrinkage: 3 %"]
    assert talk(*TO_COUNT, "", "", "", "y", "", "", "", "12 g")[1] == ["Eyelet weight: 12 g"]


@pytest.mark.parametrize(
    ("before", "typed", "said"),
    [
        ((), "feet", '"feet" is not known here: write in, mm or cm'),
        (("",), "", "this one needs an answer; ? explains it"),
        (("",), "\u200b", '"\N{REPLACEMENT CHARACTER}" is blank: write a name'),
        (("", "x"), "maybe", '"maybe" is not known here: write yes or no'),
        (TO_EYELET[:4], "0", "0 is out of range: write 1 to 1000"),
        (TO_EYELET[:4], "two", '"two" is not a whole number: write 1 to 1000'),
        (
            TO_EYELET[:8],
            "75,500",
            '"75,500" may be 75500 or 75.500: write one of them, without a comma',
        ),
        (TO_EYELET[:8], "0", '"0" means nothing here: write a length over 0'),
        (TO_EYELET[:8], "9 ells", '"9 ells" has an unknown unit: use in, ft, yd, mm, cm or m'),
        (
            TO_EYELET[:7],
            "w",
            '"w" is not known here: write width, covers or widths',
        ),
        (
            ("", "x", "y", "", "", ""),
            "31 March",
            (
                '"31 March" needs a day and a year of four digits: write it as 31 Mar 2027 or '
                "2027-03-31"
            ),
        ),
        ((*TO_PAPER, ""), "face", '"face" is neither: write yes or no'),
        (("",), "x" * 20_001, None),
        (("",), "x" * 2_000_000, None),
    ],
)
def test_unreadable(before: tuple[str, ...], typed: str, said: str | None) -> None:
    """What the reader can't take is said at once, in its words, and asked again."""
    state = after(*before)
    found, lines = step(state, typed)
    assert found == state
    assert len(lines) == 1
    assert lines[0].startswith("Not taken: ")
    assert said is None or lines[0] == f"Not taken: {said}"


@pytest.mark.parametrize(
    ("before", "typed", "said", "rests_on"),
    [
        (
            (*TO_EYELET, "2"),
            "2",
            '2 in must be less than "Eyelet outside", 2 in',
            [17],
        ),
        (
            (*TO_EYELET, "2"),
            "1 1/4",
            (
                "a pole of 1 3/8 in doesn't pass an opening of 1 1/4 in: take a thinner pole "
                "or a wider"
                " eyelet"
            ),
            [10],
        ),
        (
            TO_EYELET[:10],
            "1/2",
            '1/2 in from wall to pole centre must be more than "Kept off the wall", 1/2 in',
            [],
        ),
        (
            TO_EYELET[:13],
            "1/4",
            '1/4 in from floor to pole must be more than "Off the floor", 1/2 in',
            [],
        ),
        (  # the return: 3 1/2 - 3 3/8 / 2 * sin 45 = 2.307, so 2 5/16, and 1 1/2 leading
            (*TO_EYELET[:8], "5", *TO_EYELET[9:], "3 3/8"),
            "2 1/8",
            (
                "2 eyelets of 3 3/8 in don't fit across 5 in with 3 13/16 in kept at the ends: "
                "two need"
                " a panel of 11 9/16 in or more"
            ),
            [9, 11, 15, 17],
        ),
        (
            (*TO_EYELET[:12], "5", "", "", "", "3 3/8"),
            "2 1/8",
            "5 in must be more than the band, 5 3/8 in high",
            [13, 17],
        ),
        (
            TO_COUNT,
            "200",
            (
                "200 eyelets of 3 3/8 in don't fit across 88 in with 3 13/16 in kept at the "
                "ends: up to"
                " 18 fit well"
            ),
            [9, 11, 15, 17],
        ),
    ],
)
def test_can_not_work(before: tuple[str, ...], typed: str, said: str, rests_on: list[int]) -> None:
    """What can't be with what was said before is told at once, with what would do, and whence."""
    state = after(*before)
    found, lines = step(state, typed)
    assert (found, lines[0]) == (state, f"Not taken: {said}")
    assert numbers_named(lines) == rests_on
    # The last line says how to go to the last of them, and that does.
    if rests_on:
        word = re.findall(r"back [0-9]+", lines[-1])[0]
        assert len(after(word, state=found).answers) == rests_on[-1] - 1


def test_width_is_judged_once_it_is_told() -> None:
    """Half of what settles a width is no fault yet: covers before fullness, widths before cloth."""
    covers = _at("", "", "", "", "covers", "", "", "44")
    assert asked(covers) == "Fullness, how many times the pole is the flat cloth, such as 2?"
    widths = _at("", "", "", "", "widths", "1.5")
    assert asked(widths) == "How wide is the cloth, from selvage to selvage?"
    found, lines = talk("3", state=widths)
    assert found == widths
    assert lines == [
        (
            "Not taken: 1.5 of 3 in leave nothing between hems of 3 in: give more widths, or "
            "narrower hems"
        ),
        "It rests on earlier answers too:",
        "9. Widths a panel: 1.5",
        "Type another answer, or back 9 to change that one.",
    ]
    assert asked(after("54", state=widths)) == "Pole diameter?"


def test_warning_is_told_once() -> None:
    """A warning is said with the answer that brings it, and asking goes on."""
    state, said = talk(*TO_EYELET, "2 5/8", "1 9/16")
    assert said[0] == "Opening: 1 9/16 in (39.7 mm)"
    assert [line.split(":")[0] for line in said[1:]] == ["WARN tight-turn"]
    # What rests on the hole waits for its question.
    after_hole, told = talk("", state=state)
    assert told[0] == "Hole to cut: not measured: the opening is taken, which is less than a barrel"
    assert [line.split(":")[0] for line in told[1:]] == ["WARN die-not-measured"]
    assert talk("1 5/8", state=state)[1] == ["Hole to cut: 1 5/8 in (41.275 mm)"]
    assert talk("", state=after_hole)[1] == [
        "Ring thickness: 0, so the rings may turn less than is worked out"
    ]
    # Gone back over and given again, it is told again.
    assert talk("back", "back", "", state=after("", state=state))[1] == said


def test_return_short_of_the_wall() -> None:
    """A return that stops short of the wall is warned of as soon as the eyelet is known."""
    state = after(*TO_EYELET[:-1], "1", "3 3/8")
    assert [line.split(":")[0] for line in talk("2 1/8", state=state)[1]] == [
        "Opening",
        "WARN short-return",
        "WARN tight-turn",  # a pole of 1 3/8 in an opening of 2 1/8: acos(sqrt(11/17)) = 36
    ]


def test_stop_asks_again() -> None:
    """An odd count is said to be a stop, with the even ones beside; it is kept only on demand."""
    state = after(*TO_COUNT)
    doubtful, said = talk("17", state=state)
    assert doubtful.answers == state.answers
    assert said == [
        (
            "STOP odd-count: 17 eyelets would turn one end of the panel to the wall and the "
            "other to "
            "the room: use an even count, 16 or 18"
        ),
        "Type another answer, or back for the question before.",
        "keep leaves it so: the template is then made only with --accept odd-count.",
    ]
    kept, said = talk("Keep", state=doubtful)
    assert kept.answers == (*state.answers, ("window[1].count", "17"))
    assert said == ["Eyelets a panel: 17"]
    assert talk("", state=kept)[1] == ["Eyelets a pack: not known"]
    assert talk("16", state=doubtful)[1] == ["Eyelets a panel: 16"]


def test_keep_is_for_stops_alone() -> None:
    """Without a stop, or after another answer, keep is an answer like any other."""
    state = after(*TO_COUNT)
    assert talk("keep", state=state)[1][0].startswith('Not taken: "keep" is not a whole number')
    assert talk("17", "none", "keep", state=state)[1][0].startswith('Not taken: "keep"')
    assert talk("17", "?", "keep", state=state)[1] == ["Eyelets a panel: 17"]


def test_wall_is_a_stop() -> None:
    """A closed fold that reaches the wall is a stop at the answer that lets it be known."""
    near = (*TO_EYELET[:10], "1 1/2", "", "", "", "", "", "2 5/8")
    said = talk(*near, "1 9/16")[1]
    assert said[0].startswith("STOP back-fold-hits-wall")
    # How deep its folds are rests on how much cloth hangs on rings how wide, not on the opening.
    assert said[1] == "It rests on earlier answers rather than this one:"
    assert numbers_named(said) == [9, 11, 17]


def test_help() -> None:
    """? explains the word and what can be typed, and asks again."""
    state = after(*TO_EYELET)
    found, said = step(state, " ? ")
    assert found == state
    assert said == (
        (
            "The whole ring from edge to edge. Measure a real one with a caliper; a box says "
            "what it "
            "is called, not always what it measures."
        ),
        " ".join(WORDS),
    )
    assert talk(*TO_EYELET[:-2], "?")[1][1].startswith("Enter: 1 1/2 in (38.1 mm). back goes")
    # After back it says what the prompt says.
    again = after(*TO_EYELET[:11], "back", "back")
    assert talk("?", state=again)[1][1].startswith(" ".join(prompt(again)[1:]))


def test_back() -> None:
    """Back goes one question back, offers what was said there, and what came after it in turn."""
    state = after(*TO_EYELET[:11], "back", "BACK")
    assert prompt(state) == (
        "10. Pole diameter?",
        "Enter: 1 3/8, as before.",
        "- and Enter: not known, so it isn't checked how far the rings turn.",
    )
    again = after("", state=state)
    assert dict(again.answers)["pole.diameter"] == "1 3/8"
    assert prompt(again)[1] == "Enter: 3 1/2, as before."
    assert dict(after("-", state=state).answers)["pole.diameter"] == ""
    assert dict(after("1", state=state).answers)["pole.diameter"] == "1"
    assert after("", "", state=state).taken_back == ()


def test_back_at_the_first() -> None:
    """There is nothing before the first question."""
    assert step(State(), "back") == (State(), ("This is the first question.",))
    told = "Not taken: there is no answer 99 to go back to: this is the first question"
    assert step(State(), "back 99") == (State(), (told,))


def test_back_takes_another_way() -> None:
    """After another answer the questions that follow are that one's; the old are left out."""
    state = _at("", "", "", "", "width", "88", "back", "back", "covers", "", "", "40", "2")
    assert files_answers(state) == {
        "job.name": "Heron Point, linen store",
        "window[1].covers": "40",
        "window[1].fullness": "2",
    }


def test_a_second_window() -> None:
    """Another window is asked under its own heading, its defaults the first window's."""
    second = after(*TO_PAPER[:-1], "y")
    assert section_title(second) == "Window 2"
    state = after("", "", "", "n", "n", "y", "y", "", "40", state=second)
    assert section_title(state) == "Window 2: the pole"
    assert prompt(state)[1] == "Enter: 1 3/8, as at the first window."
    found, said = step(state, "")
    assert said[0] == "Pole diameter: 1 3/8 in (34.925 mm)"
    # What is wrong with it is said with it, not before it is asked.
    assert [line.split(":")[0] for line in said[1:]] == ["WARN tight-turn"]
    found, said = step(after("1", "", "", "", "", "", "", state=state), "9")
    assert said[0].startswith("STOP odd-count")
    assert dict(found.answers)["window[2].pole.diameter"] == "1"
    assert section_title(after("6", "", state=found)) == "Another window"


def test_a_panel_that_is_not_to_close() -> None:
    """On a pole of known length a narrow panel is let by until it is asked what it covers."""
    first = ("", "Heron Point, linen store", *[""] * 5, "covers", "96", "", "2", "1", "3 1/2")
    by_pole = after(*first, *[""] * 5, "3 3/8", "2 1/8", *[""] * 8, "y", "", "", "", "")
    # 44 - 1 1/2 - 3 1/2 - 3 3/8 in, for half of 96.
    wide, said = talk("width", "44", state=by_pole)
    assert said == ["Finished width: 44 in (1117.6 mm)"]
    for told in (talk("no", state=wide)[1], talk("yes", "", "", state=wide)[1]):
        assert told[0].startswith("Not taken: 35 5/8 in of cloth")
        # The pole's length, width, projection, leading and ring; or what this question leads to.
        assert told[1] == "It rests on earlier answers too:"
        assert told[0].endswith("or give covers for a panel that isn't to close")
    open_, said = talk("yes", "", "16", state=wide)
    assert said == ["Pole covered: 16 in (406.4 mm)"]
    assert asked(open_) == "Finished length, from the top edge to the bottom edge?"


def test_hooks() -> None:
    """On hooks nothing is asked of a pole, and any count will do."""
    state = _at("", "", "single", "hooks", "", "70", "74", "1", "7/8", "7/16", "", "")
    assert asked(state) == "How many eyelets in a panel?"
    assert talk("13", state=state)[1] == ["Eyelets a panel: 13"]


def test_paper_without_room() -> None:
    """Paper too small for a sheet is refused where it is named."""
    state = after(*TO_PAPER)
    found, said = step(state, "2 x 2 in")
    assert found == state
    assert said[0].startswith("Not taken: ")


def test_last_fault_is_not_let_through() -> None:
    """What was still open at an earlier question must be right at the last one."""
    state = after(*TO_PAPER, "", "")
    broken = State(
        tuple(
            Answer(path, "" if path == "eyelet.outside" else text) for path, text in state.answers
        )
    )
    assert talk("", state=broken)[1] == [
        'Not taken: missing: give the width over the flange, such as "2 5/8"',
        "It rests on earlier answers too:",
        "17. Eyelet outside: no answer",
        "Type another answer, or back 17 to change that one.",
    ]


def test_resumed() -> None:
    """A kept interview goes on where it stopped, as far as its answers still fit the questions."""
    state = after(*TO_COUNT, "back")
    assert resume(state.answers, state.taken_back) == state
    strange = (*state.answers[:9], Answer("pole.colour", "white"), *state.answers[9:])
    assert resume(strange, ()).answers == state.answers[:9]
    unreadable = (*state.answers[:8], Answer("window[1].width", "wide"))
    assert resume(unreadable, ()).answers == state.answers[:8]
    assert (
        last_answer(resume(state.answers, ()))
        == "Ring thickness: 0, so the rings may turn less than is worked out"
    )
    assert last_answer(State()) == ""


def test_going_back_tells_nothing() -> None:
    """Going back says nothing of itself."""
    state, said = go_back(after("", "x"))
    assert (state.taken_back, said) == ((("job.name", "x"),), ())


@searched(40)
@given(st.lists(st.text(max_size=12) | st.sampled_from(["", "yes", "2", "60", "back", "keep"])))
def test_any_lines(lines: list[str]) -> None:
    """Whatever is typed, what is said can be shown, and the answers make a readable file."""
    state = after(*TO_COUNT[:9])
    for line in lines:
        state, said = step(state, line)
        assert all(line.isprintable() for line in (*said, *prompt(state)))
    read_file(job_text(dict(state.answers)).encode(), "job.toml")


def test_hostile_text_is_never_raw() -> None:
    """Control and bidi characters are escaped in what is said and in what is offered again."""
    typed = "\x1b[2Ja\N{RIGHT-TO-LEFT OVERRIDE}b"
    state, said = talk("", typed)
    sign = "\N{REPLACEMENT CHARACTER}"
    assert said == [f"Job: {sign}[2Ja{sign}b"]
    assert prompt(go_back(state)[0])[1] == f"Enter: {sign}[2Ja{sign}b, as before."
    assert dict(state.answers)["job.name"] == typed


TO_ROUTE = TO_EYELET[:7]


@pytest.mark.parametrize("typed", ["88", '88 1/2"', "2240 mm", "64,5"])
def test_a_number_where_words_are_asked_is_the_width(typed: str) -> None:
    """Who types the finished width where the way to it is asked has said both."""
    at_once, said = talk(*TO_ROUTE, typed)
    by_words = after(*TO_ROUTE, "width", typed)
    assert at_once.answers == by_words.answers
    assert said[0] == "Width."
    assert said[1].startswith("Finished width: ")


@pytest.mark.parametrize("typed", ["2", "1.5", "20", "2 1/2"])
def test_a_number_that_may_be_widths_is_asked_again(typed: str) -> None:
    """A small number may be widths, or how full: the refusal says how to go on."""
    before = after(*TO_ROUTE)
    state, said = talk(typed, state=before)
    assert state.answers == before.answers
    (line,) = said
    assert line == (
        f'Not taken: "{typed}" may be any of them: write width, covers or widths, and then the '
        "number"
    )


def test_a_width_that_cant_be_is_asked_again() -> None:
    """The way is settled all the same, and the width asked for."""
    state, said = talk(*TO_ROUTE, "0 in")
    assert asked(state) == "Finished width of one panel, laid flat?"
    assert said == ["Width.", 'Not taken: "0 in" means nothing here: write a length over 0']


def test_only_that_choice_takes_a_number() -> None:
    """A yes or no is no place for one."""
    assert talk(*TO_EYELET[:2], "88")[1] == ['Not taken: "88" is not known here: write yes or no']
