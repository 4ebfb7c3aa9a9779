"""Which version of the tool this is; every PDF says which it was made by."""

__version__ = "0.1.0"
