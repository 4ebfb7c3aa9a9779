"""Every finding has short words, which are no code and fit into a table."""

from __future__ import annotations

from drapetemplate.planning.codes import CODES
from drapetemplate.planning.finding_words import SHORT


def test_every_code_has_words_of_its_own() -> None:
    """Neither more nor fewer, no two alike, short and without a hyphen or a full stop."""
    assert list(SHORT) == list(CODES)
    assert len(set(SHORT.values())) == len(SHORT)
    assert all(len(words) <= 40 and not set("-_.") & set(words) for words in SHORT.values())
