"""The house's order, proved from its source: a module imports only what stands above it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import drapetemplate

# Each module may import those before it. A new module fails until it has its place here.
ORDER = (
    "version",
    "errors",
    "files",
    "measures",
    "printers",
    "spellings",
    "readers",
    "tables",
    "tomlplaces",
    "jobfile",
    "schema",
    "resolve",
    "job",
    "planning",
    "planning.eyelets",
    "planning.folds",
    "planning.places",
    "planning.seams",
    "planning.cloth",
    "planning.hanging",
    "planning.findings",
    "planning.seamfindings",
    "planning.plan",
    "planning.compare",
    "planning.drops",
    "words",
    "given",
    "drawing",
    "template",
    "joins",
    "clip",
    "furniture",
    "tiling",
    "stepping",
    "strips",
    "sheets",
    "picture",
    "above",
    "views",
    "flow",
    "labels",
    "cuts",
    "cutting",
    "assembly",
    "told",
    "ticket",
    "document",
    "greyprofile",
    "calibration",
    "gallery",
    "report",
    "wrapping",
    "linelayout",
    "linepicture",
    "console",
    "sidebyside",
    "listing",
    "render",
    "render.typeface",
    "render.pdf",
    "render.svg",
    "render.png",
    "record",
    "drawn",
    "pageorder",
    "measure",
    "drapetemplate",
    "question",
    "windowquestions",
    "clothquestions",
    "questions",
    "jobtext",
    "readback",
    "interview",
    "asked",
    "asking",
    "making",
    "completing",
    "manual",
    "options",
    "calibrating",
    "cli",
    "__main__",
)

# Libraries that stay in one place, so that they can be told apart, or replaced.
KEPT_TO = {
    "reportlab": ("render",),
    "pypdf": ("record", "measure"),
    "pdfplumber": ("measure",),
    "typer": ("cli", "options"),
    "tomllib": ("jobfile",),
    "platformdirs": ("printers",),
}


def sources() -> dict[str, str]:
    """Every module of the package, named as in ORDER, and its source."""
    house = Path(drapetemplate.__file__).parent
    found = {}
    for path in sorted(house.rglob("*.py")):
        name = ".".join(path.relative_to(house).with_suffix("").parts)
        name = name.removesuffix("__init__").removesuffix(".") or "drapetemplate"
        found[name] = path.read_text(encoding="utf-8")
    return found


def imported(module: str, source: str) -> Iterator[str]:
    """What a module imports, lazily or for types only included, dotted from the top."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{module} has a relative import, which this can't follow"
            assert node.module is not None
            yield node.module
            # "from package import module" means the module too.
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        else:
            name = getattr(node, "id", getattr(node, "attr", ""))
            if name in {"import_module", "__import__"}:
                pytest.fail(f"{module} imports by name, which this can't follow")


def upward(modules: dict[str, str], order: tuple[str, ...]) -> list[str]:
    """Every import of a module of the house that doesn't stand before the importing one."""
    wrong = []
    for module, source in modules.items():
        before = set(order[: order.index(module)])
        for name in imported(module, source):
            target = name.removeprefix("drapetemplate.")
            if name.startswith("drapetemplate.") and target in order and target not in before:
                wrong.append(f"{module} imports {target}")
    return sorted(set(wrong))


def strays(modules: dict[str, str], kept_to: dict[str, tuple[str, ...]]) -> list[str]:
    """Every import of a library that is kept to other modules."""
    return sorted(
        {
            f"{module} imports {library}"
            for module, source in modules.items()
            for name in imported(module, source)
            if (library := name.split(".")[0]) in kept_to
            and not any(
                module == home or module.startswith(home + ".") for home in kept_to[library]
            )
        }
    )


def test_every_module_has_its_place() -> None:
    """The order names every module of the package once, and no other."""
    assert sorted(ORDER) == sorted(sources())


def test_imports_point_up() -> None:
    """No module imports itself or one that stands after it."""
    assert upward(sources(), ORDER) == []


def test_libraries_stay_at_home() -> None:
    """reportlab, pypdf, pdfplumber, typer and tomllib are imported in their own places alone."""
    assert strays(sources(), KEPT_TO) == []


def test_house_is_read() -> None:
    """The reader of imports sees the ones that are surely there, lazy ones included."""
    seen = {module: set(imported(module, source)) for module, source in sources().items()}
    assert "typer" in seen["cli"]
    assert "tomllib" in seen["jobfile"]
    assert "reportlab.pdfgen.canvas" in seen["render.pdf"]
    assert "drapetemplate.render.typeface" in seen["cli"]  # inside a function
    assert "drapetemplate.planning.eyelets" in seen["planning.plan"]  # from planning import ...


@pytest.mark.parametrize(
    "source",
    [
        "import drapetemplate.last",
        "import drapetemplate.last as other",
        "from drapetemplate.last import thing",
        "from drapetemplate import last",
        "def lazy():\n    from drapetemplate.last import thing",
        "if TYPE_CHECKING:\n    from drapetemplate.last import thing",
        "try:\n    import drapetemplate.last\nexcept ImportError:\n    pass",
    ],
)
def test_import_of_a_later_module_is_seen(source: str) -> None:
    """However it is written, an import of a module further down is found."""
    order = ("first", "last")
    assert upward({"first": source}, order) == ["first imports last"]
    assert upward({"last": source.replace("last", "first")}, order) == []


@pytest.mark.parametrize("source", ["import pypdf", "from pypdf.generic import NameObject"])
def test_stray_library_is_seen(source: str) -> None:
    """A library imported outside its own place is found, and inside it isn't."""
    assert strays({"ticket": source, "record": source, "records": source}, KEPT_TO) == [
        "records imports pypdf",
        "ticket imports pypdf",
    ]


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
