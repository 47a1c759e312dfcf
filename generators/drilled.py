"""Where a bracket comes to stand on holes that were not drilled where their template says.

Each hole lets its bolt stand anywhere in the part's slot and play; the bracket may be where all of
them agree, and is taken to stand in the middle of that. It shifts without turning. Offsets are
told as one looks at the template: right and up from the mark. mm.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final

from hangpost.generators.hardware.design import LeafDesign, Template
from hangpost.generators.survey.mistakes import Mistake, SurveyError, nearest
from hangpost.generators.survey.shop import Shop
from hangpost.parts.part import Part
from hangpost.parts.tables import shank

PLAY: Final = 0.5  # mm beside a bolt whose size is not known; house

Vector = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a bracket comes to stand on the holes that were drilled, from its drawn place."""

    right: float
    up: float
    reach: tuple[Vector, Vector]  # least and most it can be pushed to: right, up
    fits: bool

    @property
    def can_be_drawn(self) -> bool:
        """Whether slots and play let it go to its drawn place."""
        return self.fits and all(low <= 0.0 <= high for low, high in self.reach)


def stand(
    offsets: Mapping[str, Vector], design: LeafDesign, end: str, shop: Shop, file: str
) -> Stand | None:
    """Where the bracket of one end stands on holes that are off; None when none was measured."""
    if not offsets:
        return None
    sheet = _sheet(design, end)
    names = [hole.name for hole in sheet.holes] if sheet else []
    wrong = [name for name in offsets if name not in names]
    if wrong or sheet is None:
        raise SurveyError(
            Mistake(
                file=file,
                key=f"{end}_holes.{name}",
                wrong="is no hole on the template",
                allowed=", ".join(names),
                nearest=nearest(name, names),
            )
            for name in wrong or offsets
        )
    spans_right, spans_up = [], []
    for hole in sheet.holes:
        right, up = offsets.get(hole.name, (0.0, 0.0))
        play = _play(design, (hole.u, hole.v), shop)
        along = play + hole.slot_length / 2.0
        spans_right.append((right - along, right + along))
        spans_up.append((up - play, up + play))
    (right_low, right_high), (up_low, up_high) = _common(spans_right), _common(spans_up)
    return Stand(
        right=(right_low + right_high) / 2.0,
        up=(up_low + up_high) / 2.0,
        reach=((right_low, right_high), (up_low, up_high)),
        fits=right_low <= right_high and up_low <= up_high,
    )


def _common(spans: Iterable[Vector]) -> Vector:
    lows, highs = zip(*spans, strict=True)
    return (max(lows), min(highs))


def _sheet(design: LeafDesign, end: str) -> Template | None:
    return next((s for s in design.templates if s.part_id.startswith(f"{end}-bracket")), None)


def travel(design: LeafDesign, end: str) -> float:
    """Travel of the shortest slot of a bracket, 0 where it has round holes."""
    sheet = _sheet(design, end)
    return min((hole.slot_length for hole in sheet.holes), default=0.0) if sheet else 0.0


def _play(design: LeafDesign, at: Vector, shop: Shop) -> float:
    """Room beside the bolt in the part's hole over a mark of the sheet."""
    for part in parts(design):
        for bore in part.bores:
            hole = bore.hole
            if hole.use in ("post", "leaf") and hypot(hole.u - at[0], hole.v - at[1]) < 0.01:
                for size in {*shop.fasteners.bolts, *shop.fasteners.lags}:
                    if abs(shop.bolt_hole(size) - hole.diameter) < 0.01:
                        return (hole.diameter - shank(size)) / 2.0
    return PLAY


def parts(design: LeafDesign) -> Sequence[Part]:
    """The parts of a leaf's hardware that are made."""
    return [placed.item for placed in design.placed if isinstance(placed.item, Part)]
