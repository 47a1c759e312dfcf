"""The inch system inside a clause: exact factors for formulas printed in inch, lbf and psi.

Only formulas whose constants belong to those units use these; everything outside is N, mm, MPa.
Sources: 1 in = 25.4 mm and 1 lbf = 4.4482216152605 N, both exact by definition.
"""

INCH = 25.4
LBF = 4.4482216152605
PSI = LBF / INCH**2  # in MPa
