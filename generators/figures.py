"""The numbers of a pack that people compare: where they stand, their names, what is noise.

Lengths that differ by less than 0.05 mm, angles by less than 0.05 degrees and everything else
that is measured by less than 1 % are the same (house). Units as in pack.json unless said.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from hangpost.generators.survey.display import plain

LENGTH: Final = 0.05  # mm
ANGLE: Final = 0.05  # degrees
SHARE: Final = 0.01
MASS: Final = 0.005  # kg that nobody weighs

Data = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """A number of the pack: how to find it, what to call it, in which unit it is told."""

    words: str
    read: Callable[[Data], Any]
    unit: str = "mm"
    scale: float = 1.0  # from the pack's unit to the one that is told

    def change(self, old: Data, new: Data) -> str | None:
        """The change in words, nothing for noise."""
        was, now = self.read(old), self.read(new)
        if was is None and now is None:
            return None
        if was is None or now is None:
            return f"{self.words} {self._said(was)} to {self._said(now)}"
        if same(float(was), float(now), self.unit):
            return None
        figures = self._shown(was, 2), self._shown(now, 2)
        if figures[0] == figures[1]:
            figures = self._shown(was, 4), self._shown(now, 4)
        return f"{self.words} {figures[0]} to {figures[1]} {self.unit}".strip()

    def _shown(self, value: Any, places: int) -> str:
        return plain(float(value) * self.scale, places=places)

    def _said(self, value: Any) -> str:
        return "none" if value is None else f"{self._shown(value, 2)} {self.unit}".strip()


MOUNT: Final = (
    Figure(words="least leverage", read=lambda m: m["leverage"]["least"]),
    Figure(words="pin to pin, closed", read=lambda m: m["closed_length"]),
    Figure(words="pin to pin, open", read=lambda m: m["open_length"]),
    Figure(words="stroke used", read=lambda m: m["stroke_used"]),
    Figure(words="stroke left, drawn in", read=lambda m: m["margin"]["retracted"]),
    Figure(words="stroke left, run out", read=lambda m: m["margin"]["extended"]),
    Figure(words="folded clearance", read=lambda m: m["folded_clearance"]),
    Figure(words="bracket moment", read=lambda m: m.get("bracket_moment"), unit="N m", scale=1e-3),
    Figure(words="swing", read=lambda m: m.get("swing_time"), unit="s"),
    Figure(words="latch edge", read=lambda m: m.get("edge_speed"), unit="mm/s"),
)
QUANTITY: Final = Figure(words="quantity", read=lambda p: p["quantity"], unit="")
PART: Final = (
    Figure(words="plate", read=lambda p: p["thickness"]),
    QUANTITY,
    Figure(words="mass", read=lambda p: p["mass"], unit="kg"),
    Figure(words="flat, long", read=lambda p: (p["flat"] or {}).get("length")),
    Figure(words="flat, wide", read=lambda p: (p["flat"] or {}).get("width")),
    Figure(words="bends", read=lambda p: len((p["flat"] or {}).get("bends", ())), unit=""),
)
HOLE: Final = (
    Figure(words="diameter", read=lambda h: h["diameter"]),
    Figure(words="slot travel", read=lambda h: h.get("slot_length", 0.0)),
    Figure(words="slot angle", read=lambda h: h.get("slot_angle", 0.0), unit="degrees"),
)


def same(was: float, now: float, unit: str) -> bool:
    """Whether two numbers are the same but for noise."""
    if unit == "mm":
        return abs(was - now) < LENGTH
    if unit == "degrees":
        return abs(was - now) < ANGLE
    if unit == "kg" and abs(was - now) < MASS:
        return True
    if unit == "":
        return was == now
    return abs(was - now) <= SHARE * max(abs(was), abs(now))
