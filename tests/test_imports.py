"""The house's order, proved from its source: a folder imports only from those above it."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

import drapetemplate

# The pipeline: each folder, or file of that name, may import from those before it. Inside a folder
# any order will do that goes in no circle. "drapetemplate" is the package's own interface.
ORDER = (
    "version",
    "errors",
    "measures",
    "wording",
    "files",
    "job",
    "planning",
    "words",
    "drawing",
    "template",
    "sheets",
    "ticket",
    "document",
    "printers",
    "render",
    "record",
    "shelf",
    "measure",
    "report",
    "interview",
    "drapetemplate",
    "desk",
    "cli",
    "__main__",
)

# Libraries that stay in one place, so that they can be told apart, or replaced.
KEPT_TO = {
    "reportlab": ("render",),
    "pypdf": ("record", "measure"),
    "typer": ("cli",),
    "rich": ("report", "cli"),
    "tomllib": ("job.parse",),
    "platformdirs": ("printers", "desk.starter"),
    "starlette": ("desk",),
    "uvicorn": ("desk",),
    "tomlkit": ("interview",),
}

Sources = dict[str, str]
"""Source texts by module: "job.model"; "job" is its front, "drapetemplate" the interface."""


def sources() -> Sources:
    """Every module of the package."""
    house = Path(drapetemplate.__file__).parent
    found = {}
    for path in sorted(house.rglob("*.py")):
        name = ".".join(path.relative_to(house).with_suffix("").parts)
        name = name.removesuffix("__init__").removesuffix(".") or "drapetemplate"
        found[name] = path.read_text(encoding="utf-8")
    return found


def imported(module: str, source: str) -> Iterator[tuple[str, str]]:
    """What a module imports, lazily or for types only included: from where, and which name of it.

    The name is empty for `import a.b`.
    """
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from ((alias.name, "") for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module} has a relative import, which this can't follow"
            assert node.module is not None
            yield from ((node.module, alias.name) for alias in node.names)
        else:
            name = getattr(node, "id", getattr(node, "attr", ""))
            if name in {"import_module", "__import__"}:
                pytest.fail(f"{module} imports by name, which this can't follow")


def inside(modules: Sources) -> dict[str, set[str]]:
    """Which modules of the house each one imports: the file itself where one is named."""
    found: dict[str, set[str]] = {}
    for module, source in modules.items():
        found[module] = set()
        for origin, name in imported(module, source):
            for path in (f"{origin}.{name}", origin):
                target = path.removeprefix("drapetemplate.")
                if path.partition(".")[0] == "drapetemplate" and target in modules:
                    found[module].add(target)
                    break
            else:
                assert not origin.startswith("drapetemplate."), f"{module}: no module {origin}"
    return found


def room(module: str) -> str:
    """The folder a module lies in, or itself where it lies in none."""
    return module.partition(".")[0]


def upward(modules: Sources, order: tuple[str, ...]) -> list[str]:
    """Every import from a folder that doesn't stand before the importing one."""
    return sorted(
        f"{module} imports {target}"
        for module, targets in inside(modules).items()
        for target in targets
        if order.index(room(target)) > order.index(room(module))
    )


def circle(modules: Sources) -> list[str]:
    """One circle of imports, module by module; none is an empty list."""
    try:
        list(TopologicalSorter(inside(modules)).static_order())
    except CycleError as error:
        return list(error.args[1])
    return []


def strays(modules: Sources, kept_to: dict[str, tuple[str, ...]]) -> list[str]:
    """Every import of a library that is kept to other modules."""
    return sorted(
        {
            f"{module} imports {library}"
            for module, source in modules.items()
            for origin, _ in imported(module, source)
            if (library := origin.partition(".")[0]) in kept_to
            and not any(
                module == home or module.startswith(home + ".") for home in kept_to[library]
            )
        }
    )


HANDS_ON = {"cli", "drawing"}
"""Folders whose own `__init__.py` hands names on: who takes a file of these takes all of it."""


def own_work(source: str, *, hands_on: bool = False) -> list[str]:
    """What a folder's `__init__.py` does beside its docstring: nothing, where all is well.

    One that hands names on may also import them and name them.
    """
    return [
        ast.unparse(node)
        for node in ast.parse(source).body[1:]
        if not hands_on
        or not (
            isinstance(node, ast.ImportFrom)
            or (isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__")
        )
    ]


def fronts(modules: Sources) -> Iterable[tuple[str, str]]:
    """Each folder's own `__init__.py`."""
    rooms = {room(module) for module in modules if "." in module}
    return ((module, source) for module, source in modules.items() if module in rooms)


def test_every_folder_has_its_place() -> None:
    """The order names every folder and file at the top of the package once, and no other."""
    assert sorted(ORDER) == sorted({room(module) for module in sources()})


def test_imports_point_up() -> None:
    """No folder imports from one that stands after it."""
    assert upward(sources(), ORDER) == []


def test_no_circle() -> None:
    """No import leads back to where it began, in a folder or between them."""
    assert circle(sources()) == []


def test_fronts_load_nothing() -> None:
    """A folder's `__init__.py` says what it is for, so that a file of it is loaded alone.

    Where it hands names on they are from its own files, and it does nothing else.
    """
    modules = sources()
    seen = inside(modules)
    for module, source in fronts(modules):
        assert own_work(source, hands_on=module in HANDS_ON) == [], module
        assert {room(target) for target in seen[module]} <= {module}


def test_libraries_stay_at_home() -> None:
    """reportlab, pypdf, typer and tomllib are imported in their own places alone."""
    assert strays(sources(), KEPT_TO) == []


def test_house_is_read() -> None:
    """The reader of imports sees the ones that are surely there, lazy ones included."""
    modules = sources()
    seen = inside(modules)
    assert "render.typeface" in seen["cli.rendering"]  # inside a function
    assert "planning.eyelets" in seen["planning.plan"]  # from planning import ...
    assert "cli.start" in seen["cli"]  # a folder's front
    libraries = {module: dict(imported(module, text)) for module, text in modules.items()}
    assert "typer" in libraries["cli.app"]
    assert "tomllib" in libraries["job.parse"]
    assert "reportlab.pdfbase.pdfdoc" in libraries["render.pdf_file"]


@pytest.mark.parametrize(
    "source",
    [
        "import drapetemplate.last",
        "import drapetemplate.last as other",
        "import drapetemplate.last.file",
        "from drapetemplate.last import thing",
        "from drapetemplate.last.file import thing",
        "from drapetemplate.last import file",
        "from drapetemplate import last",
        "def lazy():\n    from drapetemplate.last import thing",
        "if TYPE_CHECKING:\n    from drapetemplate.last import thing",
        "try:\n    import drapetemplate.last\nexcept ImportError:\n    pass",
    ],
)
def test_import_of_a_later_folder_is_seen(source: str) -> None:
    """However it is written, an import from a folder further down is found."""
    order = ("first", "last")
    house = {"first": "", "first.file": "", "last": "", "last.file": ""}
    for module in ("first", "first.file"):
        (found,) = upward(house | {module: source}, order)
        assert found in {f"{module} imports last", f"{module} imports last.file"}
    back = source.replace("last", "first")
    assert upward(house | {"last.file": back}, order) == []


@pytest.mark.parametrize("source", ["import drapetemplate", "from drapetemplate import plan_job"])
def test_import_of_the_interface_is_seen(source: str) -> None:
    """The package's own functions are no part of the pipeline's folders."""
    house = {"job": "", "job.file": source, "drapetemplate": ""}
    assert upward(house, ("job", "drapetemplate")) == ["job.file imports drapetemplate"]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("from drapetemplate.job.b import x", "from drapetemplate.job.a import y"),
        ("from drapetemplate.job import b", "def lazy():\n    from drapetemplate.job.a import y"),
    ],
)
def test_circle_is_seen(one: str, other: str) -> None:
    """Two files of a folder that import each other are found, lazily or not."""
    assert set(circle({"job": "", "job.a": one, "job.b": other})) == {"job.a", "job.b"}
    assert circle({"job": "", "job.a": one, "job.b": ""}) == []


def test_use_of_ones_own_front_is_seen() -> None:
    """A file that imports from its own folder's front leads back to itself."""
    front = "from drapetemplate.job.a import x"
    assert circle({"job": front, "job.a": "from drapetemplate.job import x"})


@pytest.mark.parametrize("line", ["X = 1", "def f():\n    pass", "if X:\n    import y"])
def test_work_in_a_front_is_seen(line: str) -> None:
    """A front that defines or decides something is found, and one that loads what it needn't."""
    names = 'from drapetemplate.job.a import x\n__all__ = ["x"]'
    front = f'"""Doc."""\n{names}\n{line}\n'
    assert own_work(front, hands_on=True) == [ast.unparse(ast.parse(line))]
    assert own_work(front)[0] == "from drapetemplate.job.a import x"


@pytest.mark.parametrize("source", ["import pypdf", "from pypdf.generic import NameObject"])
def test_stray_library_is_seen(source: str) -> None:
    """A library imported outside its own place is found, and inside it isn't."""
    house = {"ticket.flow": source, "record.read": source, "records": source}
    assert strays(house, KEPT_TO) == ["records imports pypdf", "ticket.flow imports pypdf"]


@pytest.mark.parametrize(
    "source",
    [
        "from importlib import import_module\nimport_module('x')",
        "import importlib\nimportlib.import_module('x')",
        "__import__('x')",
    ],
)
def test_import_by_name_is_refused(source: str) -> None:
    """Imports by a name worked out as the program runs are refused rather than missed."""
    with pytest.raises(pytest.fail.Exception, match="imports by name"):
        list(imported("cli", source))


def test_relative_import_is_refused() -> None:
    """Relative imports are refused rather than missed."""
    with pytest.raises(AssertionError, match="relative import"):
        list(imported("cli", "from . import job"))
