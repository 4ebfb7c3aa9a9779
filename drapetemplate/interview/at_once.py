"""All answers at hand at once in, the questions that they bring up and the answers that count out.

A front with a field for each question has answers to questions that don't come up any more too:
whoever says how much pole a panel covers may have typed a width before. Such an answer is kept by
the front and counts for nothing. A question is looked at after those before it alone, as `new`
asks it, and an empty text takes the default: of a choice too, which `new` then writes out.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from drapetemplate.errors import Fault
from drapetemplate.interview.all_questions import ANOTHER, THE_JOB, THE_PAPER, THE_WINDOWS
from drapetemplate.interview.check_answers import as_kept
from drapetemplate.interview.job_text import windows_in
from drapetemplate.interview.question import Answers, PlacedQuestion, Question

_OF_A_WINDOW = tuple(question for question in THE_WINDOWS if question is not ANOTHER)


@dataclass(frozen=True, slots=True)
class Asked:
    """What answers bring up: `questions` in the order asked, and what counts of the answers.

    `counted` are the answers by path, as a job file spells them, each question's own, "" where it
    takes its default. `faults` are of text that can't be kept, at the path of its question.
    """

    questions: tuple[PlacedQuestion, ...]
    counted: Mapping[str, str]
    faults: tuple[Fault, ...]


def asked_of(answers: Mapping[str, str], window: int) -> Asked:
    """Return what is asked of the job, of one window, from 1, and of the paper.

    What counts of the first window's answers, whose pole, eyelets and cloth are the whole file's,
    counts for a later window too.
    """
    return _asked(answers, [window])


def asked_of_all(answers: Mapping[str, str]) -> Asked:
    """Return what is asked of the job, of all its windows and of the paper."""
    return _asked(answers, range(1, windows_in(answers) + 1))


def _asked(typed: Mapping[str, str], windows: Iterable[int]) -> Asked:
    counted: dict[str, str] = {}
    faults: list[Fault] = []

    def asks(questions: Iterable[Question], window: int) -> list[PlacedQuestion]:
        so_far = Answers(counted, window)
        placed_here = []
        for question in questions:
            path = so_far.path(question.key)
            # Some are asked under two headings, of which the first that applies counts.
            if path in counted or not question.applies(so_far):
                continue
            placed = PlacedQuestion(question, so_far)
            text, fault = as_kept(placed, typed.get(path, "").strip())
            if fault:
                faults.append(Fault(path, fault))
                text = str(question.default) if question.steers else ""
            counted[path] = text
            placed_here.append(placed)
        return placed_here

    wanted = list(windows)
    questions = asks(THE_JOB, 0)
    for window in sorted({1, *wanted}):
        of_window = asks(_OF_A_WINDOW, window)
        questions += of_window if window in wanted else []
    questions += asks(THE_PAPER, 0)
    return Asked(tuple(questions), counted, tuple(faults))
