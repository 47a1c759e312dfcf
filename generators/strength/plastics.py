"""What printed blocks are made of, and what they may be pressed with. Units: MPa, kg/mm3.

No standard says it: a share of the tensile strength of ASA, for good or for moments (factors.csv),
and of that what another plastic bears in the sun (plastics.csv).
"""

import re
from dataclasses import dataclass
from typing import Final

from hangpost.generators.strength.factors import factor
from hangpost.generators.strength.tables import table

UNLISTED: Final = 0.25  # house: share of what is not listed


@dataclass(frozen=True, slots=True)
class Plastic:
    """One plastic: its density and what it bears as a share of what ASA does."""

    name: str  # as the table has it; empty: not listed
    density: float
    share: float

    @property
    def lasting(self) -> float:
        """Pressure it stands for good."""
        return self.share * factor("print.lasting")

    @property
    def short(self) -> float:
        """Pressure it stands for moments."""
        return self.share * factor("print.short")

    @property
    def source(self) -> str:
        """Where that comes from, in words."""
        if self.share == 1.0:
            return "of the tensile strength of ASA (memory)"
        of = f"of {self.name}" if self.name else "of a plastic that is not listed"
        return f"of the tensile strength of ASA (memory), {self.share:g} of it for a block {of}"


def plastic(material: str) -> Plastic:
    """The plastic that a filament's name tells: "PETG black", "ASA"."""
    words = re.findall(r"[A-Z]+", material.upper())
    rows = table("plastics")
    row = next((rows[word] for word in words if word in rows), None)
    if row is None:
        return Plastic("", float(rows["ASA"]["density"]), UNLISTED)
    return Plastic(row["name"], float(row["density"]), float(row["share"]))
