"""A panel's plan in, its strip out: full scale, in panel coordinates."""

from drapetemplate.template.stepping import Piece, pieces, steps
from drapetemplate.template.strip import Ring, Strip, Template, strip, template

__all__ = ["Piece", "Ring", "Strip", "Template", "pieces", "steps", "strip", "template"]
