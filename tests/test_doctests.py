"""The examples in the package's docstrings come out as they are written."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path

import pytest

import drapetemplate

PACKAGE = Path(drapetemplate.__file__).parent
EXAMPLE = ">>> "


def modules() -> list[str]:
    """Every module that has examples."""
    return sorted(
        ".".join((PACKAGE.name, *path.relative_to(PACKAGE).with_suffix("").parts))
        for path in PACKAGE.rglob("*.py")
        if EXAMPLE in path.read_text(encoding="utf-8")
    )


@pytest.mark.parametrize("module", modules())
def test_examples(module: str, capsys: pytest.CaptureFixture[str]) -> None:
    """Each example of a module gives what stands under it."""
    failed, tried = doctest.testmod(import_module(module), optionflags=doctest.ELLIPSIS)
    assert tried > 0
    assert failed == 0, capsys.readouterr().out
