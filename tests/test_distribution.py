"""What is handed on, wheel and sdist: every file that is needed, and none that only lies about."""

from __future__ import annotations

import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[set[str], set[str]]:
    """The names in the wheel, and in the sdist without the folder that all of it lies in."""
    folder = tmp_path_factory.mktemp("dist")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-t", "sdist", "-d", folder],
        cwd=ROOT,
        capture_output=True,
        check=True,
    )
    (wheel,), (sdist,) = folder.glob("*.whl"), folder.glob("*.tar.gz")
    with zipfile.ZipFile(wheel) as inside, tarfile.open(sdist) as archive:
        names = (member.name.partition("/")[2] for member in archive.getmembers())
        return set(inside.namelist()), set(names)


@pytest.fixture(scope="module")
def kept() -> set[str]:
    """Every file of the project, as git has it or would take it."""
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    if listed.returncode:
        pytest.skip("this is no clone")
    return {name for name in listed.stdout.split("\0") if name and (ROOT / name).exists()}


def test_the_wheel(built: tuple[set[str], set[str]], kept: set[str]) -> None:
    """All of the package: fonts with their licence, the desk's page; its own licence; no tests."""
    wheel = built[0]
    about = {name.rpartition("/")[2] for name in wheel if ".dist-info/" in name}
    held = {name for name in wheel if ".dist-info/" not in name}
    assert held == {name for name in kept if name.startswith("drapetemplate/")}
    assert {"METADATA", "entry_points.txt", "LICENSE", "RECORD", "WHEEL"} == about
    assert {
        "drapetemplate/render/fonts/DejaVuSans.ttf",
        "drapetemplate/render/fonts/LICENSE-DejaVu.txt",
        "drapetemplate/desk/static/index.html",
    } <= held


def test_the_sdist(built: tuple[set[str], set[str]], kept: set[str]) -> None:
    """The project as it is kept, with its sample jobs and tests."""
    assert built[1] - {"PKG-INFO"} == kept
    assert {"sample_jobs/writing_room.toml", "LICENSE", "tests/conftest.py"} <= built[1]
    assert not [name for name in built[1] if "__pycache__" in name or name.endswith(".pyc")]
