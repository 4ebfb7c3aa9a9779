"""A shell's name in, its completion script put where that shell looks for it."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from drapetemplate import files
from drapetemplate.cli.completion_scripts import SCRIPTS


def install(shell: str, environment: Mapping[str, str] = os.environ) -> list[Path]:
    """Put a shell's script where it looks; return the files written or added to.

    Where it looks into no folder by itself, a line in its own start file says so. FileError where
    one can't be written.
    """
    home = Path(environment.get("HOME") or Path.home())
    if shell == "fish":
        configured = Path(environment.get("XDG_CONFIG_HOME") or home / ".config")
        script, start, line = configured / "fish/completions/drapetemplate.fish", None, ""
    elif shell == "zsh":
        script = home / ".zfunc/_drapetemplate"
        start = Path(environment.get("ZDOTDIR") or home) / ".zshrc"
        line = "fpath+=~/.zfunc; autoload -Uz compinit; compinit"
    else:
        script = home / ".bash_completions/drapetemplate.sh"
        start, line = home / ".bashrc", "source ~/.bash_completions/drapetemplate.sh"
    files.make_folder(script.parent)
    files.write(script, SCRIPTS[shell].encode())
    if start is None or not files.add_line(start, line):
        return [script]
    return [script, start]
