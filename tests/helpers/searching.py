"""How far a test searches: hypothesis's profile for long runs, and tests that look at it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import pytest
from hypothesis import settings

LONG = "long"
"""The profile of a long search, by name: `--hypothesis-profile=long`."""

_Test = TypeVar("_Test", bound=Callable[..., Any])


def register() -> None:
    """Make the profile known; the examples are those of a test that sets no number of its own.

    No example has a time of its own in any run: on a busy machine one may wait long.
    """
    settings.register_profile("usual", deadline=None)
    settings.load_profile("usual")
    settings.register_profile(LONG, max_examples=150, deadline=None, print_blob=True)


def is_long() -> bool:
    """Whether this run is a long search."""
    return settings.get_current_profile_name() == LONG


def searched(examples: int, **more: Any) -> Callable[[_Test], _Test]:  # noqa: ANN401  # as hypothesis has it
    """Mark a property that tries so many examples in a long run, and a fifth of them in others.

    `more` are further settings of hypothesis.
    """
    few = max(examples // 5, 10)
    chosen = settings(max_examples=examples if is_long() else few, deadline=None, **more)

    def marked(test: _Test) -> _Test:
        pytest.mark.searched(chosen(test))
        return test

    return marked
