"""A `Document` in, bytes out, through a backend of a few methods."""

from drapetemplate.render.backend import Backend, draw, render

__all__ = ["Backend", "draw", "render"]
