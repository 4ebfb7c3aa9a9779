"""Two whole jobs by hand: from what was measured at the window to each figure on the printed pages.

Every figure was worked out with pencil and calculator from the trade's rules and stands here as it
must be printed, its sum beside it. Nothing of the package works anything out here: the job file
goes in, and the PDF's pages are read by pdfplumber. The folds alone take more than a calculator:
`test_the_folds` has them by scipy's quadrature.

Each row is a label and its value as they stand on the page; what runs over several lines is read
as one.
"""

from __future__ import annotations

from functools import cache
from io import BytesIO
from math import acos, atan, cos, degrees, hypot, pi, radians, sin, sqrt
from pathlib import Path

import pdfplumber
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from tests.helpers.made import made

TIDE = (Path(__file__).parent.parent / "sample_jobs" / "tide_room.toml").read_text(encoding="utf-8")
STRIPE = """
units = "in"
[job]
name = "Heron Point, breakfast room"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
hole = "1 5/8"
thickness = "1/8"
weight = "0.4 oz"
[pole]
diameter = 1
projection = 4
top = 90
supports = 1
[fabric]
name = "awning stripe"
width = 54
repeat_across = "4 1/2"
motif = 2
weight = "8 oz/yd2"
[lining]
name = "cream sateen"
width = 54
weight = "4 oz/yd2"
[[window]]
name = "East window"
covers = 44
fullness = 2
pattern = "folds"
glass = 60
"""

# A pair in mm on a pole of 2312: eyelets of 66 outside and 44 inside, 3 thick; band 110; p = 95.
# Each panel covers 2312/2 = 1156. b >= p - 33 sin(74.0 deg) = 63.28 (test_the_folds), so b = 64.
# W = 2 * 1156 + 40 + 64 + 66 = 2482.
# S = (2482 - 40 - 64 - 66 N)/(N - 1): 16 eyelets 88.1, 18 eyelets 1190/17 = 70, 20 eyelets 55.7.
# Nearest to 66 is 70, so N = 18 and P = 136; P/2 = 68 <= 95 - 12.
# Centres 40 + 33 + 136 i. Top to eyelet (110 - 66)/2 = 22; centre line 22 + 33 = 55.
TIDE_TICKET = (
    "Each panel: finished 2482 mm wide × 2441 mm long",  # 2420 + (22 + 33 - 22) - 12
    "18 eyelets each, 70 mm apart edge to edge (136 mm centre to centre)",
    "For the pair: cut 4 drops of 2861 mm; lining 4 drops of 2516 mm",
    "Eyelet outside 66 mm",
    "Opening 44 mm",
    "Hole to cut 46 mm",
    "Band height 110 mm",
    "Band cut 2482 mm for each panel",
    "Top to eyelet 22 mm",
    "Leading 40 mm, leading edge to eyelet 1",
    "Return 64 mm, last eyelet to return edge",
    "Gaps 9 front (F), 8 back (B)",  # 17 gaps, front first and last
    "Pole covered 1156 mm closed, first eyelet to last",
    "Fullness 2.00 times",  # 17 * 136/1156
    # half a ring's 32 at the finial and half where the panels meet; 2312/1124 = 2.057
    "On this pole 1124 mm between end eyelets, 2.06 times: rings take the rest",
    "Stack 576 mm of pole, open",  # 18 * 32
    "Glass, drawn open 270 mm covered at either side",  # 576 - (2312 - 1700)/2
    # The end ones stand 32 in, a ring's stack: more than the 66 cos + 3 sin of 74 deg = 21.1 that
    # a ring takes closed. The other in the middle.
    "Brackets 32 mm, 1156 mm, 2280 mm from the pole's left end; 1 between the ends",
    "Pole past bracket 32 mm at each end, for the eyelet between it and the finial",
    "Lower edge 12 mm off the floor",
    "Folds, closed 53 mm from pole's centre",  # 52.68
    "Folds, stacked to 68 mm from pole's centre",  # 136/2
    "Free to the wall 42 mm closed, 27 mm stacked, 12 mm asked for",  # 95 - 52.68, 95 - 68
    # acos(sqrt(19 * 44)/sqrt(44^2 + 3^2)) - atan(3/44) = 49.0 - 3.9; jammed, acos(19/44.1) - 3.9
    "Rings turn 45° before they lift off the pole's top; needs 45° to open and close",
    "Rings jam at 60°",
    # face 2.632 * 2.861 * 310 = 2334 g, lining 2.482 * 2.516 * 140 = 874 g, eyelets 18 * 11 = 198 g
    "Weight, each panel 3.4 kg",
    "Fabric 4 drops of 2861 mm: 11444 mm",
    "Fabric seams 804 mm, 2164 mm from the leading edge, all hidden",
    "Lining finished 2402 mm × 2416 mm, loose",  # 2482 - 2 * 40, 2441 - 25
    "Lining 4 drops of 2516 mm: 10064 mm",
    "Lining seams 1308 mm from the lining's leading edge, all hidden",
    # the strip is 2482 + 64 - 40 long, and 10 sheets would end 27 short of it with laps in gaps:
    # 194, then each as far as 261 or the last lap that keeps 6 off a flange allows, come to 2212
    "Template sheets 11 for both, A4, landscape",
    "on the line 55 mm below the panel's top",
    # 1156 grows to 1682: W = 3364 + 40 + 64 + 66 = 3534, S = (3430 - 66 N)/(N - 1), nearest to 66
    # 26 eyelets with 68.6; 26 * 32 = 832, and 1700 + 2 * 832 = 3364
    (
        "576 mm of stack covers 270 mm of the glass at either side: a pole of 3364 mm clears it, "
        "1700 mm of glass and 2 stacks of 832 mm"
    ),
    "Fabric 11.6 m undyed linen twill, 1400 mm wide (11444 mm cut)",
    "Lining 10.2 m white cotton sateen, 1400 mm wide (10064 mm cut)",
)
TIDE_HOLES = (
    *("1 73 mm", "2 209 mm", "3 345 mm", "4 481 mm", "5 617 mm", "6 753 mm", "7 889 mm"),
    *("8 1025 mm", "9 1161 mm", "10 1297 mm", "11 1433 mm", "12 1569 mm", "13 1705 mm"),
    *("14 1841 mm", "15 1977 mm", "16 2113 mm", "17 2249 mm", "18 2385 mm"),
)
# Raw, a face is 2482 + 150 = 2632. Of two widths the seam would stand between 1172 and 1310, where
# no back gap lets it: those behind eyelets 8 and 10 do from 1025 + 33 + 18 = 1076 to 1110 and from
# 1348. So three pieces, two of which share a drop: then the widest is at least 2632 + 60 - 1400 =
# 1292, which only five back gaps on, 5 * 272 = 1360, comes near: seams behind eyelets 6 and 16,
# 753 + 33 + 15 + 3 = 804 and 2113 + 51 = 2164.
# Pieces: 804 + 75 + 15 = 894, 1360 + 30 = 1390, 2482 - 2164 + 75 + 15 = 408; 894 + 408 <= 1400.
# The lining, 2402 + 80 = 2482 raw, is two pieces with a seam between 1097 and 1385 of the face's
# measure, as near to the return as may be: behind eyelet 10, 1348, which is 1308 of its own.
# Pieces: 1308 + 40 + 15 = 1363 and 2402 - 1308 + 55 = 1149.
# Cuts: 2441 + 220 + 200 = 2861; 2416 + 0 + 100 = 2516. 4 * 2861 + 100 = 11544; 4 * 2516 + 100.
TIDE_CUTTING = (
    "undyed linen twill, 1400 mm wide: 11.6 m (4 drops 11444 mm + 100 mm allowance = 11544 mm)",
    "white cotton sateen, 1400 mm wide: 10.2 m (4 drops 10064 mm + 100 mm allowance = 10164 mm)",
    "66 mm outside, 44 mm opening: 36, and one to test",
    "band 110 mm high: 5.0 m (4964 mm), and a piece to test",  # 2 * 2482
    "0 mm 2861 mm 5722 mm",
    "5722 mm 8583 mm 11444 mm",
    # A left panel's return edge is at its left, as the left selvage is: what is left over, 1400 -
    # 1390 = 10 and 1400 - 408 - 894 = 98, lies there, and its leading piece at the right.
    (
        "Drop 1 2861 mm long. Slit at 10 mm: 10 mm left over; Sea window, left panel, piece 2 of "
        "3, 1390 mm wide"
    ),
    (
        "Drop 2 2861 mm long. Slit at 98 mm and 506 mm: 98 mm left over; Sea window, left panel, "
        "piece 3 of 3, 408 mm wide; Sea window, left panel, piece 1 of 3, 894 mm wide"
    ),
    (
        "Drop 3 2861 mm long. Slit at 1390 mm: Sea window, right panel, piece 2 of 3, 1390 mm "
        "wide; 10 mm left over"
    ),
    (
        "Drop 4 2861 mm long. Slit at 894 mm and 1302 mm: Sea window, right panel, piece 1 of 3, "
        "894 mm wide; Sea window, right panel, piece 3 of 3, 408 mm wide; 98 mm left over"
    ),
    "0 mm 2516 mm 5032 mm",
    "5032 mm 7548 mm 10064 mm",
    (
        "Drop 1 2516 mm long. Slit at 37 mm: 37 mm left over; Sea window, left lining, piece 1 of "
        "2, 1363 mm wide"
    ),
    (
        "Drop 2 2516 mm long. Slit at 251 mm: 251 mm left over; Sea window, left lining, "
        "piece 2 of 2, 1149 mm wide"
    ),
    (
        "Drop 3 2516 mm long. Slit at 1363 mm: Sea window, right lining, piece 1 of 2, 1363 mm "
        "wide; 37 mm left over"
    ),
    (
        "Drop 4 2516 mm long. Slit at 1149 mm: Sea window, right lining, piece 2 of 2, 1149 mm "
        "wide; 251 mm left over"
    ),
    "Finished width 2482 mm, finished length 2441 mm.",
    "side hems 75 mm",
    "heading 220 mm, bottom hem 200 mm",
    "Seams, as finished, from the leading edge: 804 mm, 2164 mm. Pieces as cut, from",
    "1 is 894 mm, 2 is 1390 mm, 3 is 408 mm.",  # 804 + 90; 2164 - 804 + 30; 2482 - 2164 + 90
    "Finished width 2402 mm, finished length 2416 mm.",
    "set in 40 mm from each side edge of the face, 25 mm short of the face's foot",
    "side hems 40 mm",
    "bottom hem 100 mm",
    "Seams, as finished, from the lining's leading edge: 1308 mm. Pieces as cut, from",
)
TIDE_ASSEMBLY = (
    "11 sheets of A4",
    "its ends are the dashed ones, 24 mm from the left panel's",  # 64 - 40
    "panel end to panel end 2482 mm",
    "hole 1 73 mm 2409 mm",  # 2482 - 73
    "hole 5 617 mm 1865 mm",
    "hole 9 1161 mm 1321 mm",
    "hole 14 1841 mm 641 mm",
    "hole 18 2385 mm 97 mm",
    "may be off by 8.5 mm",  # 2482/400 + 10/4 = 8.7, down to a half
)
# On the pole the end eyelet stands half way between finial and bracket, at 16, and eyelet 1 at
# 1156 - 16 = 1140: a panel weighs on the middle of that, 578, closed; on 288 drawn open. Between
# brackets at 32 and 1156, 1124 apart, closed the middle one bears (578 - 32)/1124 of 3.407 kg from
# either side and 5/4 of both: 4.14. Open the end one bears (1156 - 288)/1124 of it: 2.63.
TIDE_HANGING = (
    "pole 2312 mm",
    "pole's top 2420 mm",
    "2441 mm long",
    "glass 1700 mm",
    "pole covered 1156 mm each",
    "Pole 2312 mm between the finials, 19 mm thick",
    "Top of pole 2420 mm above the floor",
    "Projection 95 mm, wall to pole's centre",
    "Brackets 1 at 32 mm; 2 at 1156 mm; 3 at 2280 mm, from the pole's left end",
    "Past end bracket 32 mm of pole",
    "Left of bracket 1 left panel's eyelet 18",
    "Between 1 and 2 left panel's eyelets 17 to 1",
    "Between 2 and 3 right panel's eyelets 1 to 17",
    "Right of bracket 3 right panel's eyelet 18",
    "Return 64 mm of cloth turns back to the wall",
    "Stack, open 576 mm each panel",
    "Glass, open 270 mm covered at either side",
    "Lower edge 12 mm off the floor",
    "Weight on the pole 6.8 kg (15 lb 0 oz)",  # 2 * 3.407 = 6.813; /0.45359 = 15.02 lb
    "Weight, each panel 3.4 kg (7 lb 8 oz)",  # 7.51 lb
    "Most on a bracket 1: 2.6 kg (5 lb 13 oz); 2: 4.1 kg (9 lb 2 oz); 3: 2.6 kg (5 lb 13 oz)",
    "1156 mm of pole covered, folds 53 mm from pole's centre, 42 mm free to the wall",
    "576 mm of pole, folds up to 68 mm from pole's centre, 27 mm free to the wall",
    "finished width 2482 mm",
)

# A pair in inches of cloth striped every 4 1/2, the first stripe's centre 2 from its left selvage,
# on its folds, each to cover 44 twice as full.
# P = m * 4.5/2 with S >= 1, so P >= 3 5/8, and P/2 <= 4 - 1/2: m = 2 or 3, P = 4 1/2 or 6 3/4.
# Asked for are 2 * 44 = 88 between the end centres. 19 * 4.5 = 85.5, 21 * 4.5 = 94.5, 13 * 6.75 =
# 87.75, 15 * 6.75 = 101.25: nearest is 87.75, so N = 14 and S = 6 3/4 - 2 5/8 = 4 1/8.
# b >= 4 - 1.3125 sin(77.0 deg) = 2.721 (test_the_folds), up to sixteenths 2 3/4.
# W = 87.75 + 1.5 + 2.75 + 2.625 = 94.625; asked for 88 + the same ends = 94.875.
# Centres 2.8125 + 6.75 i. Band 2 5/8 + 2; top to eyelet 1; centre line 1 + 1.3125 = 2 5/16.
STRIPE_TICKET = (
    "Each panel: finished 94 5/8 in wide × ≈ 91 1/16 in long",  # 90 + 1.53125 - 0.5 = 91.03125
    "14 eyelets each, 4 1/8 in apart edge to edge (6 3/4 in centre to centre)",
    "For the pair: cut 5 drops of 108 3/8 in; lining 4 drops of 94 1/8 in",
    "Band height 4 5/8 in",
    "Band cut 94 5/8 in for each panel",
    "Top to eyelet 1 in",
    "Leading 1 1/2 in, leading edge to eyelet 1",
    "Return 2 3/4 in, last eyelet to return edge",
    "Gaps 7 front (F), 6 back (B)",
    "1 1/2 repeats of 4 1/2 in from eyelet to eyelet",
    # the middle of gap 1, 2.8125 + 6.75/2 = 6.1875, and at each front gap after it
    "Motif centre 6 3/16 in from the leading edge, every 13 1/2 in from there",
    "Pole covered 44 in closed, first eyelet to last",
    "Fullness 1.99 times",  # 87.75/44 = 1.9943
    "Stack 17 1/2 in of pole, open",  # 14 * 1.25
    "Pole worked out 95 in: 60 in of glass and 2 stacks of 17 1/2 in",
    # a ring's stack of 1 1/4 is more than 2.625 cos + 0.125 sin of 77 deg = 0.71
    "Brackets 1 1/4 in, 47 1/2 in, 93 3/4 in from the pole's left end; 1 between the ends",
    "Pole past bracket 1 1/4 in at each end",
    "Lower edge 1/2 in off the floor",
    "Folds, closed 2 5/8 in from pole's centre",  # 2.573, up to sixteenths
    "Folds, stacked to 3 3/8 in from pole's centre",  # 6.75/2
    # 4 - 2.573 = 1.427, down to sixteenths; 4 - 3 3/8
    "Free to the wall 1 3/8 in closed, 5/8 in stacked, 1/2 in asked for",
    # acos(sqrt(1.5625)/1.5675) - atan(0.08) = 37.1 - 4.6; jammed, acos(1/1.5675) - 4.6 = 45.8. For
    # 45 deg a pole of (1.5675 cos 49.6)^2/1.5625 = 0.661, down to eighths 5/8
    "Rings turn 32° before they lift off the pole's top; needs 45° to open and close",
    "Rings jam at 45°",
    "What would do: a pole of 5/8 in or thinner",
    # (94.625 + 6) * 108.375/1296 * 8 = 67.3 oz, (91.625 + 3) * 94.125/1296 * 4 = 27.5 oz, 14 * 0.4
    "Weight, each panel 6 lb 4 oz",  # 100.4 oz
    "Fabric 5 drops of 108 3/8 in: 541 7/8 in",
    "Fabric seams 38 1/2 in, 79 in from the leading edge, all hidden",
    "Lining finished 91 5/8 in × ≈ 90 1/16 in, loose",  # 94.625 - 3, 91.03125 - 1
    "Lining 4 drops of 94 1/8 in: 376 1/2 in",
    "Lining seams 50 1/2 in from the lining's leading edge, all hidden",
    # the panels' eyelets lie on one another, and a lap of 1/2 in clear of every flange would take a
    # join a gap (13.5 - 3.625 is over the 9.5 of a sheet): so only holes are kept clear of, and
    # (94.625 + 1.25 - 0.5)/9.5 = 10.04
    "Template sheets 11 for both, letter, landscape",
    "on the line 2 5/16 in below the panel's top",
    (
        "so a panel is 94 5/8 in wide, 1/4 in less than the 94 7/8 in asked for, "
        "fullness 1.99 times in place of 2.00 times"
    ),
    "Fabric 15 1/4 yd awning stripe, 54 in wide (541 7/8 in cut)",
    "Lining 10 3/4 yd cream sateen, 54 in wide (376 1/2 in cut)",
)
STRIPE_HOLES = (
    *("1 2 13/16 in 71.4 mm", "2 9 9/16 in 242.9 mm", "3 16 5/16 in 414.3 mm"),
    *("4 23 1/16 in 585.8 mm", "5 29 13/16 in 757.2 mm", "6 36 9/16 in 928.7 mm"),
    *("7 43 5/16 in 1100.1 mm", "8 50 1/16 in 1271.6 mm", "9 56 13/16 in 1443 mm"),
    *("10 63 9/16 in 1614.5 mm", "11 70 5/16 in 1785.9 mm", "12 77 1/16 in 1957.4 mm"),
    *("13 83 13/16 in 2128.8 mm", "14 90 9/16 in 2300.3 mm"),
)
# Back gaps let a seam stand 1.3125 + 0.5 + 0.125 = 1.9375 behind eyelets 2, 4, 6 ...: from 11.5,
# 25, 38.5, 52, 65.5 and 79, each for 2.875. Of two widths it would stand between 44.125 and 50.5,
# where none does. Of three, the stripes match only 13.5, 27 or 40.5 apart, and no piece is so wide
# that the two others go into 54: so each panel takes two whole drops, but two return pieces share
# one. Nearest to the return: 38.5 and 79. Pieces 38.5 + 3.5 = 42, 40.5 + 1 = 41.5, and
# 94.625 - 79 + 3.5 = 19.125.
# The lining, 91.625 + 3 raw, is two pieces, its seam 41.125 to 53.5 of the face's measure: 52, of
# its own 50.5. Pieces 50.5 + 2 = 52.5 and 91.625 - 50.5 + 2 = 43.125.
# Cuts 91.03125 + 9.25 + 8 = 108.28, up to eighths; 90.03125 + 4 = 94.03. 5 * 108.375 + 4 = 545.875
# in, 15.16 yd; 4 * 94.125 + 4 = 380.5 in, 10.57 yd.
STRIPE_CUTTING = (
    "awning stripe, 54 in wide: 15 1/4 yd (5 drops 541 7/8 in + 4 in allowance = 545 7/8 in)",
    "cream sateen, 54 in wide: 10 3/4 yd (4 drops 376 1/2 in + 4 in allowance = 380 1/2 in)",
    "2 5/8 in outside, 1 9/16 in opening: 28, and one to test",
    # 2 * 94.625 = 189.25 in, 5.26 yd, up to quarters
    "band 4 5/8 in high: 5 1/2 yd (189 1/4 in), and a piece to test",
    "0 in 108 3/8 in 216 3/4 in",
    "216 3/4 in 325 1/8 in 433 1/2 in",
    "433 1/2 in 541 7/8 in",
    # A right panel's pieces begin, raw and from its leading edge, at 0, 38.5 + 3 - 0.5 = 41 and
    # 79 + 2.5 = 81.5; the motif of gap 1 is at 6.1875 + 3 = 9.1875. On the cloth motifs are at 2
    # and every 4.5 from there, so the pieces are cut from 2 + 2 * 4.5 - 9.1875 = 1.8125 and, whole
    # repeats on, from 41 + 1.8125 - 40.5 = 2.3125 and 81.5 + 1.8125 - 81 = 2.3125, and the next
    # motifs are 2 - 1.8125 and 6.5 - 2.3125 into them.
    # A left panel is cut from its return edge on: its raw width is 100.625, its motif at 91.4375,
    # and its pieces 3, 2 and 1 begin at 0, 19.125 - 1 = 18.125 and 18.125 + 40.5 = 58.625. 92 = 2 +
    # 20 * 4.5, so they are cut from 0.5625, 18.6875 - 18 and 59.1875 - 58.5, or whole repeats on:
    # piece 3 beside the right panel's, which ends at 21.4375, from 0.5625 + 22.5; the others, near
    # the right selvage, from 0.6875 + 9.
    (
        "Drop 1 108 3/8 in long. Slit at 9 11/16 in and 51 11/16 in: 9 11/16 in left over; "
        "East window, left panel, piece 1 of 3, 42 in wide, a motif's centre 1 5/16 in from its "
        "left edge; 2 5/16 in left over"
    ),
    (
        "Drop 2 108 3/8 in long. Slit at 9 11/16 in and 51 3/16 in: 9 11/16 in left over; "
        "East window, left panel, piece 2 of 3, 41 1/2 in wide, a motif's centre 1 5/16 in from "
        "its left edge; 2 13/16 in left over"
    ),
    (
        "Drop 3 108 3/8 in long. Slit at 1 13/16 in and 43 13/16 in: 1 13/16 in left over; "
        "East window, right panel, piece 1 of 3, 42 in wide, a motif's centre 3/16 in from its "
        "left edge; 10 3/16 in left over"
    ),
    (
        "Drop 4 108 3/8 in long. Slit at 2 5/16 in and 43 13/16 in: 2 5/16 in left over; "
        "East window, right panel, piece 2 of 3, 41 1/2 in wide, a motif's centre 4 3/16 in from "
        "its left edge; 10 3/16 in left over"
    ),
    (
        "Drop 5 108 3/8 in long. Slit at 2 5/16 in, 21 7/16 in, 23 1/16 in and 42 3/16 in: "
        "2 5/16 in left over; East window, right panel, piece 3 of 3, 19 1/8 in wide, a motif's "
        "centre 4 3/16 in from its left edge; 1 5/8 in left over; East window, left panel, "
        "piece 3 of 3, 19 1/8 in wide, a motif's centre 1 7/16 in from its left edge; "
        "11 13/16 in left over"
    ),
    (
        "Drop 1 94 1/8 in long. Slit at 1 1/2 in: 1 1/2 in left over; East window, left lining, "
        "piece 1 of 2, 52 1/2 in wide"
    ),
    (
        "Drop 4 94 1/8 in long. Slit at 43 1/8 in: East window, right lining, piece 2 of 2, "
        "43 1/8 in wide; 10 7/8 in left over"
    ),
    "Finished width 94 5/8 in, finished length ≈ 91 1/16 in.",
    "side hems 3 in",
    "heading 9 1/4 in, bottom hem 8 in",
    "Seams, as finished, from the leading edge: 38 1/2 in, 79 in.",
    "Finished width 91 5/8 in, finished length ≈ 90 1/16 in.",
    "set in 1 1/2 in",
    "from the lining's leading edge: 50 1/2 in",
)
STRIPE_ASSEMBLY = (
    "11 sheets of letter",
    "its ends are the dashed ones, 1 1/4 in from the left panel's",  # 2 3/4 - 1 1/2
    "panel end to panel end 94 5/8 in = 2403.5 mm",
    "hole 1 2 13/16 in = 71.4 mm 91 13/16 in = 2332.0 mm",
    "hole 4 23 1/16 in = 585.8 mm 71 9/16 in = 1817.7 mm",
    "hole 7 43 5/16 in = 1100.1 mm 51 5/16 in = 1303.3 mm",
    "hole 11 70 5/16 in = 1785.9 mm 24 5/16 in = 617.5 mm",
    "hole 14 90 9/16 in = 2300.3 mm 4 1/16 in = 103.2 mm",
    "may be off by 5/16 in",  # 94.625/400 + 10/101.6 = 0.335, down to sixteenths
)
# Eyelet 14 at 0.625, eyelet 1 44 further: the middle at 22.625, open at 8.75; brackets 46.25 apart.
# Closed, the middle one bears 2 * 5/4 * (22.625 - 1.25)/46.25 of 6.275 lb = 7.25, open an end one
# (47.5 - 8.75)/46.25 of it = 5.26.
STRIPE_HANGING = (
    "pole 95 in",
    "pole's top 90 in",
    "glass 60 in",
    "pole covered 44 in each",
    "Brackets 1 at 1 1/4 in; 2 at 47 1/2 in; 3 at 93 3/4 in, from the pole's left end",
    "Left of bracket 1 left panel's eyelet 14",
    "Between 1 and 2 left panel's eyelets 13 to 1",
    "Return 2 3/4 in of cloth turns back to the wall",
    "Stack, open 17 1/2 in each panel",
    "Glass, open clear",
    "Weight on the pole 12 lb 9 oz (5.7 kg)",  # 200.8 oz, 5.693 kg
    "Weight, each panel 6 lb 4 oz (2.8 kg)",  # 2.846 kg
    "Most on a bracket 1: 5 lb 4 oz (2.4 kg); 2: 7 lb 4 oz (3.3 kg); 3: 5 lb 4 oz (2.4 kg)",
    "44 in of pole covered, folds 2 5/8 in from pole's centre, 1 3/8 in free to the wall",
    "17 1/2 in of pole, folds up to 3 3/8 in from pole's centre, 5/8 in free to the wall",
    "finished width 94 5/8 in",
)


@cache
def printed(toml: str) -> dict[str, str]:
    """The words of each kind of page to read: of whole lines, then of its left and right half."""
    found: dict[str, str] = {}
    (data,) = made(toml)
    with pdfplumber.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            middle = page.width / 2
            # The right column's first letters reach over the middle.
            left = page.within_bbox((0, 0, middle, page.height))
            right = page.crop((middle, 0, page.width, page.height))
            texts = [part.extract_text() for part in (page, left, right)]
            # A page of the ticket has its name and number at the foot; a template sheet has not.
            *_, kind = texts[0].splitlines()[-1].rpartition(", page ")[0].split() or [""]
            found[kind] = " ".join([found.get(kind, ""), *" ".join(texts).split()])
    return found


@pytest.mark.parametrize(
    ("toml", "kind", "rows"),
    [
        pytest.param(TIDE, "ticket", TIDE_TICKET + TIDE_HOLES, id="mm-ticket"),
        pytest.param(TIDE, "cutting", TIDE_CUTTING, id="mm-cutting"),
        pytest.param(TIDE, "assembly", TIDE_ASSEMBLY, id="mm-assembly"),
        pytest.param(TIDE, "hanging", TIDE_HANGING, id="mm-hanging"),
        pytest.param(STRIPE, "ticket", STRIPE_TICKET + STRIPE_HOLES, id="in-ticket"),
        pytest.param(STRIPE, "cutting", STRIPE_CUTTING, id="in-cutting"),
        pytest.param(STRIPE, "assembly", STRIPE_ASSEMBLY, id="in-assembly"),
        pytest.param(STRIPE, "hanging", STRIPE_HANGING, id="in-hanging"),
    ],
)
def test_every_page(toml: str, kind: str, rows: tuple[str, ...]) -> None:
    """Each figure stands on its page as it was worked out by hand."""
    words = printed(toml)[kind]
    assert [row for row in rows if row not in words] == []


@pytest.mark.parametrize(
    ("outside", "gap", "covers", "gaps", "angle", "depth"),
    [(66, 70, 1156, 17, 74.00, 52.68), (2.625, 4.125, 44, 13, 77.02, 2.573)],
    ids=["mm", "in"],
)
def test_the_folds(  # a row of the table above
    outside: float, gap: float, covers: float, gaps: int, angle: float, depth: float
) -> None:
    """The closed folds of both jobs: their depth, and the rings' angle that the return comes from.

    With the pole along x, a strip bent by a force along it has the slope t where
    (y^2 - y0^2) w^2/2 = cos t - cos t0, from the ring, at y0 and t0, to mid-gap, where t = 0.
    """

    def height(t: float, t0: float, w: float) -> float:
        return sqrt((outside / 2 * sin(t0)) ** 2 + 2 * (cos(t) - cos(t0)) / w**2)

    def along(t0: float, w: float, *, pole: bool) -> float:
        """Half a gap's cloth, or the pole that it takes."""
        return float(
            quad(lambda t: (cos(t) if pole else 1) / (w**2 * height(t, t0, w)), 0, t0, limit=200)[0]
        )

    def bent(t0: float) -> float:
        return float(brentq(lambda w: along(t0, w, pole=False) - gap / 2, 0.1 / gap, 100 / gap))

    def pole(t0: float) -> float:
        return outside * cos(t0) + 2 * along(t0, bent(t0), pole=True)

    t0 = float(brentq(lambda t: pole(t) - covers / gaps, 0.1, pi / 2))
    assert degrees(t0) == pytest.approx(angle, abs=0.01)
    assert height(0, t0, bent(t0)) == pytest.approx(depth, abs=0.005)


@pytest.mark.parametrize(
    ("opening", "thickness", "pole", "lifts", "jams"),
    [(44, 3, 19, 45.13, 60.58), (1.5625, 0.125, 1, 32.54, 45.79)],
    ids=["mm", "in"],
)
def test_the_rings(
    opening: float, thickness: float, pole: float, lifts: float, jams: float
) -> None:
    """How far the rings of both jobs turn, to the hundredth of a degree, as noted beside the rows.

    A ring turned by t passes D cos t - T sin t, which is hypot(D, T) cos(t + atan(T/D)): what is
    clear when it jams is the pole, and when it lifts off its top the root of pole * D.
    """
    for clear, turn in ((sqrt(pole * opening), lifts), (pole, jams)):
        passes = hypot(opening, thickness) * cos(radians(turn) + atan(thickness / opening))
        assert passes == pytest.approx(clear, rel=2e-4)
        assert degrees(acos(clear / hypot(opening, thickness))) > turn
