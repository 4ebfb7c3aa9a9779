"""Shell completion: what is offered, and in real shells that nothing typed for one is run."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
import typer

from drapetemplate.cli.app import app
from drapetemplate.cli.completion import FILES, FREE, OFFERS
from drapetemplate.cli.completion_install import install
from drapetemplate.cli.completion_scripts import SCRIPTS, SHELLS
from drapetemplate.cli.shell_words import completed_for_bash, read_line
from tests.helpers.commands import STARTS, Start, forked, refused, run
from tests.helpers.jobfiles import job_toml
from tests.helpers.shells import Shell


def completed(
    words: str, folder: Path, start: Start = forked, env: dict[str, str] | None = None
) -> list[str]:
    """What fish is told for the last word of a line."""
    asked = {"_DRAPETEMPLATE_COMPLETE": "fish"} | (env or {})
    done = start(*words.split(" "), cwd=folder, env=asked)
    assert done.stderr == b""
    return done.stdout.decode().splitlines()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with two jobs."""
    inside = tmp_path / "w"
    inside.mkdir()
    (inside / "linen.toml").write_text(
        job_toml(
            "width = 40\nname = 'Bay'", "width = 50\nname = 'Bow'", "width = 60\nname = 'Sash'"
        )
    )
    (inside / "lamp.toml").write_text("faulty = ")
    return inside


WINDOWS = ["words", "Bay", "Bow", "Sash"]
JOBS = ["files toml"]


@pytest.mark.parametrize("start", STARTS)
@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("make l", JOBS),
        ("make ", JOBS),
        ("make linen.toml ", JOBS),
        ("make linen.toml --open ", JOBS),
        ("plan ", JOBS),
        ("plan linen.toml ", ["words"]),
        ("measure l", ["files pdf"]),
        ("plan linen.toml --csv ", ["files"]),
        ("plan linen.toml --csv=l", ["files"]),
        ("picture linen.toml --page ", ["words"]),
        ("cutfile linen.toml --out ", ["files"]),
        ("cutfile linen.toml --window ", WINDOWS),
        (
            "cutfile linen.toml --o",
            ["words", "--help", "--out", "--accept", "--window", "--uncorrected"],
        ),
        ("make linen.toml --window B", WINDOWS),
        ("plan linen.toml --window ", WINDOWS),
        ("make -- linen.toml --window ", JOBS),
        ("make lamp.toml nowhere.toml --window B", ["words"]),
        ("make linen.toml --window=B", ["words", "--window=Bay", "--window=Bow", "--window=Sash"]),
        ("calibrate --paper l", ["words", "letter", "legal", "tabloid", "a4", "a3"]),
        ("shelf ", ["files"]),
        ("shelf jobs ", ["words"]),
        ("schema -", ["words", "--help", "--out"]),
        ("nothing ", ["words"]),
        ("--show-completion ", ["words", "bash", "zsh", "fish"]),
    ],
)
def test_offered(folder: Path, words: str, expected: list[str], start: Start) -> None:
    """Files by their ending, papers and the windows of the jobs on the line; faults offer none."""
    assert completed(words, folder, start) == expected


def test_commands_and_codes(folder: Path) -> None:
    """Every command is offered, and every code of a stop."""
    assert completed("c", folder)[1:] == [command.name for command in app.registered_commands]
    assert "wont-close" in completed("make linen.toml --accept wo", folder)


def test_printers(folder: Path) -> None:
    """Printers that were calibrated are offered; a missing or damaged list offers none."""
    kept = folder / "drapetemplate" / "printers.json"
    kept.parent.mkdir()
    home = {"XDG_CONFIG_HOME": str(folder), "HOME": str(folder)}
    line = "make linen.toml --printer w"
    assert completed(line, folder, env=home) == ["words"]
    kept.write_text('{"format": 1, "printers": {"work room": {"across": "1", "down": "1"}}}')
    assert completed(line, folder, env=home) == ["words", "work room"]
    kept.write_text("{")
    assert completed(line, folder, env=home) == ["words"]


def test_older_scripts_are_told_nothing(folder: Path) -> None:
    """Scripts that older releases installed, which run what they are told, are told nothing."""
    for shell in SHELLS:
        env = {"_DRAPETEMPLATE_COMPLETE": f"complete_{shell}", "COMP_WORDS": "drapetemplate make "}
        done = forked(cwd=folder, env={**env, "COMP_CWORD": "2", "_TYPER_COMPLETE_ARGS": "make "})
        assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")


def test_every_option_is_known() -> None:
    """What is offered by an option's name, or by its value's word in help, exists as such."""
    program = typer.main.get_command(app)
    assert isinstance(program, typer.core.TyperGroup)
    commands = [program, *program.commands.values()]
    params = [param for command in commands for param in command.params]
    assert set(OFFERS) <= {name for param in params for name in param.opts}
    assert set(FILES) <= {param.metavar for param in params}
    arguments = [param for param in params if param.param_type_name == "argument"]
    assert {param.metavar for param in arguments} <= set(FILES) | FREE


@pytest.mark.parametrize(
    "word",
    [
        "plain",
        "a b",
        "it's",
        'say "hi"',
        "$(touch ran)",
        "`x`",
        "a\\",
        "~",
        "*",
        "!",
        "é",
        "a'\"\\$b",
    ],
)
def test_quoted_words_mean_themselves(word: str) -> None:
    """Bash reads a quoted word as it was, whatever quote was open; so does our own reading."""
    for begun in ("", "'", '"', "--x=", "pre\\ '", "a'b'\""):
        for quoted in completed_for_bash([read_line(begun).begun + word], f"run {begun}", ""):
            line = f"{begun}{quoted}"
            expected = read_line(begun).begun + word
            shown = subprocess.run(
                ["bash", "-c", f"printf %s {line}"], capture_output=True, text=True, check=True
            )
            assert shown.stdout == expected
            assert read_line(line).begun == expected


def test_nothing_that_bash_cannot_quote_is_offered() -> None:
    """No ! in double quotes, where bash looks for an earlier command; nothing that steers."""
    assert completed_for_bash(["wow!"], 'make --window "w', "w") == []
    assert completed_for_bash(["wow!"], "make --window 'w", "w") == ["wow!'"]
    assert completed_for_bash(["a\nb", "a\x1bb", "a\N{LINE SEPARATOR}b"], "make ", "") == []
    assert completed_for_bash(["ab"], "make $'a", "a") == []
    assert completed_for_bash(["ab"], "make a\\", "a\\") == []


NAMES = {
    "A b": "a space",
    "B$(touch ran)": "a command",
    "C`touch ran`": "an older form of one",
    "D;touch ran": "an end of a command",
    'E\'s "x"': "both quotes",
    "~root": "a home",
    "F*": "a pattern",
    "Gwow!": "an earlier command",
    "Hé ü": "other letters",
    "I\\": "a backslash at the end",
    "-Odash": "an option",
    "J=x:y@z": "signs that divide words",
    "K{a,b}&|<>#": "signs of the shells' own",
}
IN_QUOTES = [name for name in NAMES if name[0] in "BCEGI~"]
ESCAPED = str.maketrans({"~": "\\~", " ": "\\ "})


@pytest.mark.parametrize("shell", SHELLS)
def test_window_names_in_a_shell(
    shell: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A window's name of a stranger's job arrives as it is, and no command in it is run."""
    folder = tmp_path / "w"
    folder.mkdir()
    windows = [*NAMES, "Lleft x", "Lleft y", "M\nn"]
    job = job_toml(*(f"width = 40\nname = {json.dumps(name)}" for name in windows))
    (folder / "job.toml").write_text(job)
    monkeypatch.chdir(folder)
    with Shell(shell, folder) as keys:
        for name in NAMES:
            for quote in ("", "'", '"') if name in IN_QUOTES else ("",):
                if (shell, quote) == ("bash", '"') and "!" in name:
                    continue  # not offered
                begun = quote + (name[0] if quote else name[0].translate(ESCAPED))
                asked = ["make", "job.toml", "--window", name]
                assert keys.type(f"drapetemplate make job.toml --window {begun}\t") == asked
                if name < "C":
                    asked = ["make", "job.toml", f"--window={name}"]
                    assert keys.type(f"drapetemplate make job.toml --window={begun}\t") == asked
        # Of several, what they have in common is typed; then one more sign tells which.
        for quote in ("", "'", '"'):
            asked = ["plan", "job.toml", "--window", "Lleft y"]
            assert keys.type(f"drapetemplate plan job.toml --window {quote}L\ty\t") == asked
        asked = ["plan", "job.toml", "--window", "M"]
        assert keys.type("drapetemplate plan job.toml --window M\t") == asked  # not offered
    assert [path.name for path in folder.iterdir()] == ["job.toml"]


@pytest.mark.parametrize("shell", SHELLS)
def test_file_names_in_a_shell(shell: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file's name arrives as it is, completed by the shell itself, and is not run."""
    folder = tmp_path / "w"
    folder.mkdir()
    for name in IN_QUOTES:
        (folder / f"{name}.toml").touch()
    monkeypatch.chdir(folder)
    with Shell(shell, folder) as keys:
        for name in IN_QUOTES:
            for quote in ("", "'", '"'):
                if shell == "zsh" and quote and quote in name:
                    continue  # zsh leaves the quote open, for more
                given = f"./{name}.toml"
                assert keys.type(f"drapetemplate make {quote}./{name[0]}\t") == ["make", given]
                if quote == "" and name < "C":
                    asked = ["plan", "x", f"--csv={name}.toml"]
                    assert keys.type(f"drapetemplate plan x --csv={name[0]}\t") == asked
    assert {path.name for path in folder.iterdir()} == {f"{name}.toml" for name in IN_QUOTES}


def test_installed(tmp_path: Path) -> None:
    """A script goes where its shell looks, and a start file, or its link, keeps what it held."""
    own = tmp_path / "kept in a repository"
    own.write_text("alias d=drapetemplate")
    (tmp_path / ".bashrc").symlink_to(own)
    home = {"HOME": str(tmp_path)}
    script = tmp_path / ".bash_completions" / "drapetemplate.sh"
    assert install("bash", home) == [script, tmp_path / ".bashrc"]
    assert install("bash", home) == [script]
    assert script.read_text() == SCRIPTS["bash"]
    line = "source ~/.bash_completions/drapetemplate.sh"
    assert own.read_text() == f"alias d=drapetemplate\n{line}\n"
    assert (tmp_path / ".bashrc").is_symlink()


def test_options(tmp_path: Path) -> None:
    """A script is printed or installed by its shell's name; another shell is one line of fault."""
    for shell in SHELLS:
        shown = run("--show-completion", shell)
        assert (shown.exit_code, shown.stdout) == (0, SCRIPTS[shell])
    done = forked("--install-completion", "bash", cwd=tmp_path, env={"HOME": str(tmp_path)})
    assert done.returncode == 0
    assert str(tmp_path / ".bashrc") in done.stdout.decode()
    for option in ("--show-completion", "--install-completion"):
        refused(
            run(option, "csh"), f'{option}: "csh" isn\'t a shell known here: use bash, zsh, fish'
        )
