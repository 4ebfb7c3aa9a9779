"""A `Document` or a `CutDrawing` in, bytes out, through a backend of a few methods."""
