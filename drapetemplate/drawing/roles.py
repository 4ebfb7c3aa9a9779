"""What a mark stands for, so that a drawing can be read back without looking at it.

A role's name is its value in capitals. Marks that mean the same in a strip and in a picture of it
share a role.
"""

from __future__ import annotations

from enum import StrEnum, unique
from typing import Literal


@unique
class Role(StrEnum):
    """Every role there is: of the strip, the sheets, the check sheet, pages to read, pictures."""

    # The strip; the ones a picture of the flat heading has too are here.
    BAND_LINE = "band-line"  # the band's upper and lower edge
    PANEL_END = "panel-end"  # where the panel is cut off
    CENTER_LINE = "center-line"  # through all eyelets' centres
    RETURN_FOLD = "return-fold"  # where the panel turns back to the wall
    FOLD_LABEL = "fold-label"  # its words
    END_LABEL = "end-label"  # which edge a panel's end is
    LEADING_WEDGE = "leading-wedge"  # points at the leading edge
    OUTSIDE = "outside"  # an eyelet's flange
    HOLE = "hole"  # what the die cuts
    HOLE_WORDS = "hole-words"  # that this is it, inside it
    GUIDE = "guide"  # upright at a flange's edge
    CENTER_CROSS = "center-cross"  # an eyelet's centre
    CENTER_HOLE = "center-hole"  # to prick through
    NUMBER = "number"  # an eyelet's, over it
    MEASURE = "measure"  # its centre's from the leading edge, under it
    LETTER_FRONT = "letter-front"  # in a gap that passes before the pole
    LETTER_BACK = "letter-back"  # in one that passes behind it
    SEAM = "seam"
    SEAM_LABEL = "seam-label"  # how far a seam is from its eyelet
    MOTIF = "motif"  # the centre of the cloth's motif in a front fold
    OTHER_NUMBER = "other-number"  # of a pair's second panel on one strip: its eyelets' numbers,
    OTHER_MEASURE = "other-measure"  # their measures from its own leading edge,
    OTHER_END = "other-end"  # its ends,
    OTHER_FOLD = "other-fold"  # its return fold,
    OTHER_SEAM = "other-seam"  # its seams,
    OTHER_MOTIF = "other-motif"  # its motifs' centres, where they aren't the first panel's,
    OTHER_LABEL = "other-label"  # and the words of these

    # What a cutting machine's file has besides.
    OUTLINE = "outline"  # the band's, in one closed line
    STRIP_NAME = "strip-name"  # what it is a strip of, and how it lies

    # What a sheet carries beside its part of the strip.
    SHEET_NUMBER = "sheet-number"
    SHEET_TITLE = "sheet-title"  # beside it, as large: whose panel, which side, which window
    HEADING = "heading"  # the lines under it
    BAND_TOP = "band-top"  # which side of the band is its top
    BAR_ACROSS_MM = "bar-across-mm"  # the check bars, by their direction and length
    BAR_DOWN_MM = "bar-down-mm"
    BAR_ACROSS_IN = "bar-across-in"
    BAR_DOWN_IN = "bar-down-in"
    BAR_TICK = "bar-tick"
    BAR_LABEL = "bar-label"
    MAP_SHEET = "map-sheet"  # the strip in small: what this sheet shows of it,
    MAP_STRIP = "map-strip"  # its outline,
    MAP_EYELET = "map-eyelet"  # its eyelets
    MAP_JOIN = "map-join"  # and its joins
    REGISTRATION = "registration"  # a registration mark's circle
    REGISTRATION_CROSS = "registration-cross"
    JOIN_NAME = "join-name"  # which join, and where it runs over a circle
    LAP_WORDS = "lap-words"  # what is done at a join
    CUT_LINE = "cut-line"  # where a sheet is cut before it is laid over
    LANDING_LINE = "landing-line"  # where the next one's cut edge lands
    CUT_WEDGE = "cut-wedge"  # points at a cut line
    LAND_WEDGE = "land-wedge"  # points at a landing line
    COVERED = "covered"  # what the next sheet will lie on
    LANE_CUT = "lane-cut"  # where lanes are cut apart, and a roll's sheets
    LANE_NAME = "lane-name"
    ROLL_PAGE = "roll-page"  # which page of a roll, and what is cut from it
    LANE_OWNER = "lane-owner"  # whose strip it is a part of

    # The printer's check sheet; its 4 in bars are a sheet's.
    BAR_ACROSS_LONG = "bar-across-long"  # the bars to measure
    BAR_DOWN_LONG = "bar-down-long"
    TICK_ACROSS_LONG = "tick-across-long"
    TICK_DOWN_LONG = "tick-down-long"
    TICK_ACROSS_IN = "tick-across-in"
    TICK_DOWN_IN = "tick-down-in"
    BLANK = "blank"  # where a reading is written
    SQUARE = "square"
    DIAGONAL = "diagonal"
    SQUARE_LABEL = "square-label"
    COMMAND = "command"  # what is typed afterwards

    # Pages to read: ticket, cutting, assembly.
    TEXT = "text"
    KICKER = "kicker"  # which kind of page this is
    TITLE = "title"
    SECTION = "section"  # a heading over a part of the page
    RULE = "rule"
    NAME = "name"  # of a pair of name and value
    VALUE = "value"
    CAPTION = "caption"  # over a picture
    PAGES = "pages"  # what the pages after the ticket are for
    STEP = "step"  # of what is done in order
    FOOT = "foot"  # job and page number
    FOOT_ROUNDED = "foot-rounded"  # what the sign before a rounded measure means
    GLANCE_NAME = "glance-name"  # what is read first: its name
    GLANCE = "glance"  # and its value
    HEADLINE = "headline"  # a window's finished size, gap and cut
    NOTES = "notes"
    FINDING = "finding"
    BAR = "bar"  # the heavy bar or frame beside a finding
    ACCEPTED = "accepted"  # a stop that was taken on
    SIGN = "sign"  # what is signed for
    SIGN_LINE = "sign-line"
    SIGN_HINT = "sign-hint"
    OWN_LINE = "own-line"  # for the workroom's own times and notes
    HOLE_CENTRE = "hole-centre"  # a hole's running measure in figures
    GIVEN_WINDOW = "given-window"  # what the job says of one window
    CORRECTED = "corrected"  # which printer the sheets are corrected for
    CUT_LIST = "cut-list"
    MADE_FOR = "made-for"  # which windows a strip is for
    MEASURED_FROM = "measured-from"  # over a column of measures
    MAY_BE_OFF = "may-be-off"
    CLEARANCE = "clearance"  # a join that runs over a circle, in words

    # Any picture.
    GROUND = "ground"  # white under words
    SIZE_LINE = "size-line"  # from end to end of what is measured
    SIZE = "size"  # how long that is
    # A panel on its pole, from above.
    CLOTH = "cloth"
    RING = "ring"
    POLE = "pole"
    POLE_AXIS = "pole-axis"
    REACH = "reach"  # how far folds come forward and back
    WALL = "wall"
    WALL_HATCH = "wall-hatch"
    # From the front, and its heading flat.
    PANEL = "panel"
    BACK_FOLD = "back-fold"
    FOLD_EDGE = "fold-edge"
    BAND_FOOT = "band-foot"
    RING_EDGE_ON = "ring-edge-on"
    BAND = "band"
    # A window from the front.
    PANEL_GROUND = "panel-ground"  # white under a panel
    FLOOR = "floor"
    GLASS = "glass"  # where the glass begins and ends
    FINIAL = "finial"
    BRACKET = "bracket"
    BRACKET_NUMBER = "bracket-number"
    # Cloth off the roll.
    LEFT_OVER = "left-over"
    SELVAGE = "selvage"
    CROSSCUT = "crosscut"  # where a drop is cut off
    SLIT = "slit"  # where it is parted along its length
    END_TRIM = "end-trim"  # where what whole repeats leave of a run is cut off
    REPEAT = "repeat"  # of the pattern
    PIECE = "piece"
    PIECE_LABEL = "piece-label"
    TOP = "top"  # on the cutting pages: points at the top of a raw piece
    DROP_NUMBER = "drop-number"
    RUNNING_MEASURE = "running-measure"
    # A panel flat and raw.
    RAW_EDGE = "raw-edge"
    FOLD = "fold"
    EYELET = "eyelet"
    PANEL_WORDS = "panel-words"
    PIECE_NUMBER = "piece-number"
    SEAM_MEASURE = "seam-measure"
    # The taped strip on the assembly page.
    PART_OUTLINE = "part-outline"
    PART_END = "part-end"  # which end of the panel this is, and which side its top
    PART_HOLE = "part-hole"  # an eyelet's number
    PART_HOLE_OF = "part-hole-of"  # whose numbers a row of them are
    PART_EYELET = "part-eyelet"
    PART_INNER_END = "part-inner-end"  # where a panel of a pair ends before its strip does
    PART_ROW = "part-row"
    PART_JOIN = "part-join"
    PART_JOIN_NAME = "part-join-name"
    PART_NAME = "part-name"


LETTERS: dict[Literal["front", "back"], Role] = {
    "front": Role.LETTER_FRONT,
    "back": Role.LETTER_BACK,
}
"""A gap's letter, by which side of the pole the gap passes."""
