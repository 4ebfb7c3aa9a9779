"""What pyproject.toml says is needed is what is imported, no less and no more."""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
TOOLS = {
    "axe-playwright-python", "hatchling",
    "mypy", "pytest-cov", "pytest-xdist", "ruff", "scipy-stubs", "types-jsonschema",
    "types-reportlab",
}  # fmt: skip
"""What is run, or read as a file or by mypy, and imported by nobody."""

HANDED_ON = {"pillow", "rl-accel"}
"""What the package uses without importing it: pypdfium2 hands its pictures on, and reportlab writes
numbers by its parts in C where it finds them."""


def declared(requirements: list[str]) -> set[str]:
    """The names in a list of requirements, each as PyPI compares them."""
    return {_plain(re.split(r"[^A-Za-z0-9._-]", each)[0]) for each in requirements}


def _plain(name: str) -> str:
    return re.sub("[-_.]+", "-", name).lower()


def imported(folder: Path) -> Iterator[tuple[str, Path]]:
    """Each module from outside that a folder's files import, lazily too, by its first name."""
    for path in sorted(folder.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                names = [str(node.module)]
            else:
                continue
            for name in names:
                first = name.partition(".")[0]
                if first not in {*sys.stdlib_module_names, "drapetemplate", "tests"}:
                    yield first, path.relative_to(ROOT)


def needed(folder: Path) -> dict[str, Path]:
    """The distributions that a folder's imports come from, each with a file that needs it."""
    homes = packages_distributions()
    return {_plain(homes[name][0]): path for name, path in imported(folder)}


BASE = declared(PROJECT["dependencies"])
TEST = declared(PROJECT["optional-dependencies"]["test"])


@pytest.mark.parametrize(
    ("folder", "said"), [("drapetemplate", BASE), ("tests", BASE | TEST)], ids=["package", "tests"]
)
def test_what_is_imported_is_declared(folder: str, said: set[str]) -> None:
    """Not only what another library happens to bring along."""
    found = needed(ROOT / folder)
    assert {name: path for name, path in found.items() if name not in said} == {}
    assert len(found) > 8


def test_what_is_declared_is_needed() -> None:
    """Nobody installs what nothing here imports or runs."""
    used = needed(ROOT / "drapetemplate")
    assert set(used) | HANDED_ON == BASE
    assert set(needed(ROOT / "tests")) - BASE == TEST - TOOLS
    assert {"pypdfium2", "pydantic-core", "reportlab"} <= set(used)


def test_each_has_a_lower_bound() -> None:
    """That .ci/run installs, and tests."""
    for each in (*PROJECT["dependencies"], *PROJECT["optional-dependencies"]["test"]):
        assert re.fullmatch(r"[A-Za-z0-9._-]+(\[[a-z]+\])?>=[0-9.]+(; .+)?", each), each
