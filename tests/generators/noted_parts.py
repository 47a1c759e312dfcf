"""One printed part and one that is cut, for the notes beside their files."""

from hangpost.parts.plate_washer import PlateWasher
from hangpost.parts.post_bracket import SlotSpec
from hangpost.parts.spacer import SpacerBlock

BLOCK = SpacerBlock(
    id="block", width=60, length=90, height=12, corner=5, bores_at=((0, 20), (9, -25)), bore=14
)
WASHER = PlateWasher(
    id="plate", plate_thickness=5.0, hole=11.0, slot=SlotSpec(diameter=11.0, travel=9.0, land=0.0)
)
