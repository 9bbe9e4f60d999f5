"""Every tolerance of the project, in millimetres, with what it means.

They span three scales: what a hand can cut (1 mm), what a printer can show (0.1 mm), what arithmetic must keep.
"""

HAND = 1.0  # finer than this no one chalks, cuts or sews
PRINT = 0.1  # a sheet is true when a test square is off by less
WALK = 0.2  # paired edges walk to the same length plus ease within this
GIRTH = 0.5  # a finished girth equals body plus ease within this
FLATTEN = 0.02  # a polyline strays from its true curve by less
OUTPUT = 0.001  # written coordinates are rounded to this
SAME = 1e-6  # two computed points are one
