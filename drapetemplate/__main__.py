"""`python -m drapetemplate`: the same command."""

from drapetemplate.cli import main

main()
