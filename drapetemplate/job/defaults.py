"""What a job file leaves out is taken to be this."""

from __future__ import annotations

from drapetemplate.measures import INCH

# What a job file leaves out is taken to be this: design, section 2.
BAND_OVER_EYELET = 2 * INCH
WALL_CLEARANCE = INCH / 2
OFF_FLOOR = INCH / 2
SEAM = INCH / 2
SIDE_HEM = 3 * INCH
BOTTOM_HEM = 8 * INCH
LEADING = INCH * 3 / 2
STACK_EACH = INCH * 5 / 4
PAPER_EDGE = INCH / 2
