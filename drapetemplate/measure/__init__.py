"""A PDF in; how true it is out."""
