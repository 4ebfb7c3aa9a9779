"""A flow's pages are changed by its own methods alone, proved from the package's sources."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import drapetemplate
from drapetemplate.ticket.flow import Flow
from tests.helpers.flows import flow

MAKERS = {"Flow", "paper_flow"}
PUBLIC = {name for name in vars(Flow) if not name.startswith("_")}


def flows(tree: ast.AST) -> set[str]:
    """The names that stand for a flow: arguments of that type, and what a maker gave."""
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.arg) and node.annotation is not None:
            if ast.unparse(node.annotation) == "Flow":
                found.add(node.arg)
        elif isinstance(node, ast.Assign | ast.AnnAssign) and isinstance(node.value, ast.Call):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            if ast.unparse(node.value.func) in MAKERS:
                found |= {target.id for target in targets if isinstance(target, ast.Name)}
    return found


def intrusions(source: str) -> Iterator[str]:
    """What a module does to a flow past its methods: what it sets or deletes, and what is private.

    `flow.y -= 3`, `flow.pages[0] = …`, `del flow.pages[0]` and `flow._y` are, `flow.gap(3)` isn't.
    """
    tree = ast.parse(source)
    names = flows(tree)
    for node in ast.walk(tree):
        if not isinstance(node, ast.Attribute | ast.Subscript):
            continue
        root: ast.expr = node
        while isinstance(root, ast.Attribute | ast.Subscript):
            inner, root = root, root.value
        if not (isinstance(root, ast.Name) and root.id in names):
            continue
        set_here = not isinstance(node.ctx, ast.Load)
        if set_here or not (isinstance(inner, ast.Attribute) and inner.attr in PUBLIC):
            yield ast.unparse(node)


def test_no_module_reaches_inside() -> None:
    """No module but its own sets an attribute of a flow, or reads one that isn't public."""
    house = Path(drapetemplate.__file__).parent
    users = 0
    for path in house.rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        if path.name != "flow.py":
            assert list(intrusions(source)) == [], path
            users += bool(flows(ast.parse(source)))
    assert users >= 6  # so that the reader does see those that have one


def test_what_is_public_is_documented_and_only_read() -> None:
    """Each public name is a method or a property without a setter, with its docstring."""
    filled = flow()
    for name in PUBLIC:
        member = vars(Flow)[name]
        assert member.__doc__, name
        assert callable(member) or member.fset is None, name
        with pytest.raises(AttributeError):
            setattr(filled, name, None)
    with pytest.raises(AttributeError):
        filled.other = 1  # type: ignore[attr-defined]


def test_pages_that_were_read_are_a_copy() -> None:
    """What is drawn later isn't in pages that were read before."""
    filled = flow()
    filled.line("first")
    before = filled.pages
    filled.line("second")
    assert (len(before[0]), len(filled.pages[0])) == (1, 2)


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("flow.y -= 3", "flow.y"),
        ("flow.bottom = 3", "flow.bottom"),
        ("flow.pages[-1] += marks", "flow.pages[-1]"),
        ("flow.pages[0][1:] = marks", "flow.pages[0][1:]"),
        ("del flow.pages[1]", "flow.pages[1]"),
        ("x, flow.y = 1, 2", "flow.y"),
        ("x = flow._y", "flow._y"),
        ("flow._pages.append(marks)", "flow._pages"),
        ("flow.turn()", "flow.turn"),
    ],
)
@pytest.mark.parametrize(
    "head", ["def put(flow: Flow) -> None:", "def put() -> None:\n    flow = paper_flow(a, b)"]
)
def test_intrusion_is_seen(head: str, line: str, found: str) -> None:
    """However a module reaches into a flow, it is found; what it calls and reads isn't."""
    assert found in set(intrusions(f"{head}\n    {line}\n"))
    assert list(intrusions(f"{head}\n    flow.gap(3)\n    x = flow.pages[0], flow.y\n")) == []
    assert list(intrusions(f"def put(other: Other) -> None:\n    {line}\n")) == []
