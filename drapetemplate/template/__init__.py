"""A panel's plan in, its strip out: full scale, in panel coordinates."""

from drapetemplate.template.panel_drawing import template
from drapetemplate.template.stepping import StepPiece, pieces, steps
from drapetemplate.template.strip import Ring, Strip, Template, strip

__all__ = ["Ring", "StepPiece", "Strip", "Template", "pieces", "steps", "strip", "template"]
