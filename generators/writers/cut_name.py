"""What a cut file is called: all that a cutter asks before he opens it.

<mark>-rev<revision>-<thickness>mm-<grade>-<quantity>off; the mark ends in the hand where the part
has one. Whoever opens the files in another order than the list still cuts the right plate.
"""

import re

from hangpost.generators.survey.display import plain
from hangpost.generators.survey.shop import Shop
from hangpost.parts.part import Part

LONGEST = 20  # house: letters kept of a revision or a grade


def cut_name(part: Part, quantity: int, shop: Shop) -> str:
    """The name without its ending: "post-bracket-upper-RH-revA-6.35mm-ASTM-A36-1off"."""
    revision, grade = file_word(shop.revision), file_word(shop.steel.grade)
    return f"{part.mark}-rev{revision}-{plain(part.thickness)}mm-{grade}-{quantity}off"


def file_word(text: str) -> str:
    """Letters and figures that every file system and mail program takes."""
    return re.sub(r"[^A-Za-z0-9.]+", "-", text)[:LONGEST].strip("-.") or "x"
