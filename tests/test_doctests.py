"""The examples in the package's docstrings come out as they are written."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import drapetemplate

PACKAGE = Path(drapetemplate.__file__).parent
# Rules that are easiest seen by an example; the others may have some.
SHOULD = {
    "drapetemplate.measures",
    "drapetemplate.planning.folds",
    "drapetemplate.sheets.joins",
    "drapetemplate.template.stepping",
    "drapetemplate.ticket.flow",
    "drapetemplate.words.plan_words",
}


def modules() -> set[str]:
    """Every module that has examples."""
    return {
        ".".join((PACKAGE.name, *path.relative_to(PACKAGE).with_suffix("").parts))
        for path in PACKAGE.rglob("*.py")
        if ">>> " in path.read_text(encoding="utf-8")
    }


@pytest.mark.parametrize("module", sorted(modules() | SHOULD))
def test_examples(module: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each example of a module gives what stands under it, and where one should be there is one."""
    failed, tried = doctest.testmod(import_module(module), optionflags=doctest.ELLIPSIS)
    assert tried > 0
    assert failed == 0, capsys.readouterr().out
