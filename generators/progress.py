"""How long work tells of itself: report(step, done, total); a total of 0 is not known."""

from collections.abc import Callable

Report = Callable[[str, int, int], None]
