"""All that `drapetemplate new` asks, in order: the job, each window, the paper.

A new question goes into the list of its section, here or in `window_questions` and
`cloth_questions`, where a measure sheet would have it; its key must be one of the job file's.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from drapetemplate.interview.cloth_questions import THE_CLOTH
from drapetemplate.interview.question import (
    Answers,
    InWords,
    PlacedQuestion,
    Question,
    answer_is,
    branch,
)
from drapetemplate.interview.window_questions import (
    THE_EYELETS,
    THE_FINISH,
    THE_POLE,
    THE_WIDTH,
    THE_WINDOW,
)
from drapetemplate.job import defaults
from drapetemplate.job.tables import MOST_WINDOWS

_JOB, _NEXT, _PAPER = "The job", "Another window", "The paper"
_MORE_JOB = (answer_is("?job", "yes"),)
_MORE_PAPER = (answer_is("?paper", "yes"),)
_NONE = InWords("none")


def _room_for_another(answers: Answers) -> bool:
    """Whether a job may have a window more."""
    return answers.window < MOST_WINDOWS


THE_JOB = (
    Question(
        "units",
        _JOB,
        "What do you measure in: in, mm or cm?",
        "The unit of every measure you type without one. You can still write another unit behind "
        "a single measure, such as 190.5 cm.",
        default=defaults.UNITS.words,
        kind="units",
    ),
    Question(
        "job.name",
        _JOB,
        "What is the job called?",
        "It stands on the ticket and on every sheet of the template, such as Heron Point, writing "
        "room.",
        kind="text",
    ),
    branch(
        "?job",
        _JOB,
        "Also a job number, client, room, due date or notes (yes or no)?",
        "They are printed on the ticket. Nothing is worked out from them.",
    ),
    Question(
        "job.number",
        _JOB,
        "Job number?",
        "Your own number for it.",
        default=_NONE,
        kind="text",
        when=_MORE_JOB,
    ),
    Question(
        "job.client", _JOB, "Client?", "Who it is for.", default=_NONE, kind="text", when=_MORE_JOB
    ),
    Question(
        "job.room", _JOB, "Room?", "Where it will hang.", default=_NONE, kind="text", when=_MORE_JOB
    ),
    Question(
        "job.due",
        _JOB,
        "Due date, such as 31 Mar 2027 or 2027-03-31?",
        "Day, month and year. With the month in numbers the year comes first; 31.3.2027 and "
        "3/31/2027 will do too, as they can't be taken for another day.",
        default=_NONE,
        kind="date",
        when=_MORE_JOB,
    ),
    Question(
        "job.notes",
        _JOB,
        "Notes?",
        "Anything the workroom should know, on one line; it is printed as it is.",
        default=_NONE,
        kind="text",
        when=_MORE_JOB,
    ),
)

ANOTHER = branch(
    "?another",
    _NEXT,
    "Another window in this job (yes or no)?",
    "The same questions for one more window. What is the same as at the first one isn't asked "
    "again.",
    _room_for_another,
)

THE_WINDOWS = (*THE_WINDOW, *THE_WIDTH, *THE_POLE, *THE_FINISH, *THE_EYELETS, *THE_CLOTH, ANOTHER)

THE_PAPER = (
    Question(
        "paper.size",
        _PAPER,
        "What paper is the template printed on: letter, legal, tabloid, a4, a3, or a size?",
        "The sheets your printer takes. A size is two sides, such as 13 x 19 in, or a roll by its "
        "width, such as 24 in roll.",
        default=defaults.SIZE,
        kind="text",
    ),
    Question(
        "paper.view",
        _PAPER,
        "Do you mark the back of the panel instead of its face (yes or no)?",
        "Say yes if the panel lies face down as you mark it; the template is then mirrored.",
        default="no",
        kind="side",
    ),
    branch(
        "?paper",
        _PAPER,
        "More about the paper: margin, overlap, joins, strips (yes or no)?",
        "What your printer leaves white; how sheets lap, join and turn; a strip for each panel of "
        "a pair or one for both; the whole strip or a piece to step along; letters in the gaps.",
    ),
    Question(
        "paper.orientation",
        _PAPER,
        "Sheets upright or turned: auto, portrait or landscape?",
        "auto takes whichever needs fewer sheets.",
        default=defaults.ORIENTATION.value,
        kind="text",
        when=_MORE_PAPER,
    ),
    Question(
        "paper.margin",
        _PAPER,
        "How much at the paper's edge can't be printed?",
        "What your printer leaves white all round, at the least.",
        default=defaults.MARGIN,
        when=_MORE_PAPER,
    ),
    Question(
        "paper.overlap",
        _PAPER,
        "How much do two sheets lap?",
        "Paper that is printed on both sheets, so that one can be laid over the other. Never "
        "cloth.",
        default=defaults.OVERLAP,
        when=_MORE_PAPER,
    ),
    Question(
        "paper.joins",
        _PAPER,
        "Joins clear of the eyelets, or in even steps (clear or even)?",
        "clear puts no join through a hole if that can be had; even makes all sheets alike.",
        default=defaults.JOINS.words,
        kind="text",
        when=_MORE_PAPER,
    ),
    Question(
        "paper.strips",
        _PAPER,
        "A strip for each panel of a pair, or one for both (each or one)?",
        "The two are mirror images with the same holes: one strip saves paper.",
        default=defaults.STRIPS.words,
        kind="text",
        when=_MORE_PAPER,
    ),
    Question(
        "paper.style",
        _PAPER,
        "The whole strip, or its ends and a piece to step along (whole or stepping)?",
        "stepping saves paper on a long panel; every hole's measure is printed to check it by.",
        default=defaults.STYLE.words,
        kind="text",
        when=_MORE_PAPER,
    ),
    Question(
        "paper.letters",
        _PAPER,
        "Two marks for gaps in front of the pole and behind it?",
        "One to three letters each, with a space between, such as F B.",
        default=" ".join(defaults.LETTERS.value),
        kind="letters",
        when=_MORE_PAPER,
    ),
)

ALL_QUESTIONS = (*THE_JOB, *THE_WINDOWS, *THE_PAPER)

NOT_ASKED = frozenset({"paper.printer"})
"""Keys of a job file that no question is for.

paper.printer: a job is printed on other printers too; `make --printer` names one as it prints.
"""


def in_order(answers: Mapping[str, str]) -> Iterator[PlacedQuestion]:
    """Yield every question that these answers, by path, bring up, each where it is asked.

    It is lazy: what comes after a question not yet answered rests on its being left open.
    """
    yield from _that_apply(THE_JOB, Answers(answers))
    number = 1
    while True:
        window = Answers(answers, number)
        yield from _that_apply(THE_WINDOWS, window)
        if window.text(ANOTHER.key) != "yes":
            break
        number += 1
    yield from _that_apply(THE_PAPER, Answers(answers))


def _that_apply(questions: Sequence[Question], answers: Answers) -> Iterator[PlacedQuestion]:
    return (
        PlacedQuestion(question, answers) for question in questions if question.applies(answers)
    )


def next_question(answers: Mapping[str, str]) -> PlacedQuestion | None:
    """Return the first question without an answer, or None where all have one."""
    return next((placed for placed in in_order(answers) if placed.path not in answers), None)


def question_for(key: str) -> Question:
    """Return the first question for a key of the job file; KeyError where there is none."""
    return _FIRST_FOR[key]


_FIRST_FOR = {question.key: question for question in reversed(ALL_QUESTIONS)}
