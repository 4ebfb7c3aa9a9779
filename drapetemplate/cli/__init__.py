"""The command line: parses, calls, prints."""

from drapetemplate.cli.start import main

__all__ = ["main"]
