"""Published strength rules as pure functions: one clause, one function, numbers in, a number out.

Units: N, mm, MPa (wind speeds in m/s); a formula printed in inches is converted beside it.
Nothing here knows of parts, sites or gates; the files are named after what they are about.
"""
