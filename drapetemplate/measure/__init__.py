"""A PDF in; how true it is out."""

from drapetemplate.measure.check_pdf import Measured, measure

__all__ = ["Measured", "measure"]
