"""A `Document` or a `CutDrawing` in, bytes out, through a backend of a few methods."""

from drapetemplate.render.backend import Backend, LayeredBackend, draw, render, render_cut

__all__ = ["Backend", "LayeredBackend", "draw", "render", "render_cut"]
