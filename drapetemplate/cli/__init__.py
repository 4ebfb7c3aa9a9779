"""The command line: parses, calls, prints."""

from drapetemplate.cli.app import app, main

__all__ = ["app", "main"]
