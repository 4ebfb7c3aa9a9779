"""All that `drapetemplate new` asks, in order: the job, each window, the paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from drapetemplate.interview.cloth_questions import THE_CLOTH
from drapetemplate.interview.question import Question, Said, Test, Worked, chose, gate
from drapetemplate.interview.window_questions import THE_EYELETS, THE_FINISH, THE_POLE, THE_WINDOW
from drapetemplate.job import defaults
from drapetemplate.job.tables import MOST_WINDOWS

_JOB, _NEXT, _PAPER = "The job", "Another window", "The paper"
_MORE_JOB: tuple[Test, ...] = (chose("?job", "yes"),)
_MORE_PAPER: tuple[Test, ...] = (chose("?paper", "yes"),)
_NONE = Worked("none")

THE_JOB = (
    Question(
        "units",
        _JOB,
        "What do you measure in: in, mm or cm?",
        "The unit of every measure you type without one. You can still write another unit behind "
        "a single measure, such as 190.5 cm.",
        defaults.UNITS.words,
        "text",
    ),
    Question(
        "job.name",
        _JOB,
        "What is the job called?",
        "It stands on the ticket and on every sheet of the template, such as Heron Point, writing "
        "room.",
        None,
        "text",
    ),
    gate(
        "?job",
        _JOB,
        "Also a job number, client, room, due date or notes (yes or no)?",
        "They are printed on the ticket. Nothing is worked out from them.",
    ),
    Question(
        "job.number", _JOB, "Job number?", "Your own number for it.", _NONE, "text", _MORE_JOB
    ),
    Question("job.client", _JOB, "Client?", "Who it is for.", _NONE, "text", _MORE_JOB),
    Question("job.room", _JOB, "Room?", "Where it will hang.", _NONE, "text", _MORE_JOB),
    Question(
        "job.due",
        _JOB,
        "Due date?",
        "Year, month and day, such as 2027-03-31.",
        _NONE,
        "text",
        _MORE_JOB,
    ),
    Question(
        "job.notes",
        _JOB,
        "Notes?",
        "Anything the workroom should know, on one line; it is printed as it is.",
        _NONE,
        "text",
        _MORE_JOB,
    ),
)

ANOTHER = gate(
    "?another",
    _NEXT,
    "Another window in this job (yes or no)?",
    "The same questions for one more window. What is the same as at the first one isn't asked "
    "again.",
    lambda said: said.window < MOST_WINDOWS,
)

THE_WINDOWS = (*THE_WINDOW, *THE_POLE, *THE_FINISH, *THE_EYELETS, *THE_CLOTH, ANOTHER)

THE_PAPER = (
    Question(
        "paper.size",
        _PAPER,
        "What paper is the template printed on: letter, legal, tabloid, a4, a3, or a size?",
        "The sheets your printer takes. A size is two sides, such as 13 x 19 in, or a roll by its "
        "width, such as 24 in roll.",
        defaults.SIZE.words,
        "text",
    ),
    Question(
        "paper.view",
        _PAPER,
        "Do you mark the back of the panel instead of its face (yes or no)?",
        "Say yes if the panel lies face down as you mark it; the template is then mirrored.",
        "no",
        "side",
    ),
    gate(
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
        defaults.ORIENTATION.value,
        "text",
        _MORE_PAPER,
    ),
    Question(
        "paper.margin",
        _PAPER,
        "How much at the paper's edge can't be printed?",
        "What your printer leaves white all round, at the least.",
        defaults.MARGIN.value,
        when=_MORE_PAPER,
    ),
    Question(
        "paper.overlap",
        _PAPER,
        "How much do two sheets lap?",
        "Paper that is printed on both sheets, so that one can be laid over the other. Never "
        "cloth.",
        defaults.OVERLAP.value,
        when=_MORE_PAPER,
    ),
    Question(
        "paper.joins",
        _PAPER,
        "Joins clear of the eyelets, or in even steps (clear or even)?",
        "clear puts no join through a hole if that can be had; even makes all sheets alike.",
        defaults.JOINS.words,
        "text",
        _MORE_PAPER,
    ),
    Question(
        "paper.strips",
        _PAPER,
        "A strip for each panel of a pair, or one for both (each or one)?",
        "The two are mirror images with the same holes: one strip saves paper.",
        defaults.STRIPS.words,
        "text",
        _MORE_PAPER,
    ),
    Question(
        "paper.style",
        _PAPER,
        "The whole strip, or its ends and a piece to step along (whole or stepping)?",
        "stepping saves paper on a long panel; every hole's measure is printed to check it by.",
        defaults.STYLE.words,
        "text",
        _MORE_PAPER,
    ),
    Question(
        "paper.letters",
        _PAPER,
        "Two marks for gaps in front of the pole and behind it?",
        "One to three letters each, with a space between, such as F B.",
        " ".join(defaults.LETTERS.value),
        "letters",
        _MORE_PAPER,
    ),
)

EVERY = (*THE_JOB, *THE_WINDOWS, *THE_PAPER)

NOT_ASKED = frozenset({"paper.printer"})
"""Keys of a job file that no question is for.

paper.printer: a job is printed on other printers too; `make --printer` names one as it prints.
"""


def in_order(answers: Mapping[str, str]) -> Iterator[tuple[Said, Question]]:
    """Yield every question that these answers bring up, each with where it is asked.

    It is lazy: what comes after a question not yet answered rests on its being left open.
    """
    said = Said(answers)
    yield from ((said, question) for question in THE_JOB if question.applies(said))
    number = 1
    while True:
        said = Said(answers, number)
        yield from ((said, question) for question in THE_WINDOWS if question.applies(said))
        if said(ANOTHER.key) != "yes":
            break
        number += 1
    said = Said(answers)
    yield from ((said, question) for question in THE_PAPER if question.applies(said))


def next_question(answers: Mapping[str, str]) -> tuple[Said, Question] | None:
    """Return the first question without an answer, or None where all have one."""
    return next(((s, q) for s, q in in_order(answers) if s.path(q.key) not in answers), None)


def default_of(key: str) -> Question:
    """Return the first question for a key of the job file; KeyError where there is none."""
    return _FOR[key]


_FOR = {question.key: question for question in reversed(EVERY)}
