"""Post bracket as a pair of angles: one blank, cut twice, one bent up and one bent down.

Each angle has a seat on the post and an ear at right angles to it; the seats lie above and
below, the ears inside, and the pin stands between them in double shear. The fasteners keep to
one or two columns, because a timber post wants its edge distance, and run in rows along it.
Slots let it be adjusted; the round holes of the other rows are then drilled through into the
post, because along a slot nothing but friction holds.

Frame: the seat frame of the post face, datum at the post's leaf-side edge at pin height: u to
the right, v up, w out of the post. The lower angle is the upper one mirrored in v. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar, Literal

from hangpost.parts.ear import EarHole, ear_path, join_rules
from hangpost.parts.flat import Hole, marks, require
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Loop, Vertex, rounded
from hangpost.parts.part import SheetPart


@dataclass(frozen=True, slots=True, kw_only=True)
class SlotSpec:
    """The opening in a seat for one fastener: hole diameter, slot travel, edge it needs."""

    diameter: float
    travel: float  # between the arc centres, along u
    land: float  # from the fastener's axis to the edge of its washer
    cover: float = 0.0  # likewise along u, where a plate washer lies over the slot

    @property
    def half(self) -> float:
        """Half the width of seat that washer and slot travel cover."""
        return self.travel / 2 + max(self.land, self.cover)


@dataclass(frozen=True, slots=True, kw_only=True)
class PostAngle(SheetPart):
    """One of the two angles that carry the post pivot; bad values raise ParameterError."""

    kind: ClassVar[str] = "post bracket angle"
    place: Literal["upper", "lower"]
    plate_thickness: float
    bend_radius: float
    k_factor: float | None
    gap: float  # clear between the ears: the actuator's eye and its washers
    pin: float  # hole for the pin
    pin_u: float  # pin to the datum
    reach: float  # pin to the post face
    tip: float  # radius of the ear about the pin
    root: tuple[float, float]  # the ear's root on the seat, least and greatest u
    seat: tuple[float, float]  # the seat, least and greatest u
    columns: tuple[float, ...]  # u of the fastener columns
    rows: tuple[float, ...]  # height of the rows above the pin, rising
    slot: SlotSpec
    round_rows: int = 0  # rows without slots, from the ear on: drilled once it is adjusted
    joins: tuple[EarHole, ...] = ()  # second holes in the ear, for a pivot extension
    corner: float = 6.0

    def __post_init__(self) -> None:
        """Refuse what cannot be cut, bent or fastened."""
        start = self.plate_thickness + self.bend_radius
        washer = self.rows[0] - self.slot.land - self.bend_line
        near_bend = self.rows[0] - self.slot.diameter / 2 - self.bend_line
        require(
            f"{self.id}",
            ("thickness", self.plate_thickness, 2.0, "house: thinnest plate for a bracket"),
            ("bend radius", self.bend_radius, 0.5, "a bend has an inside radius"),
            ("gap between the ears", self.gap, 5.0, "the actuator's eye must pass"),
            ("pin edge", self.tip - self.pin / 2, 0.5 * self.pin, "house: half a pin of steel"),
            ("ear length", self.ear_length - self.tip, 0.0, "the eye of the ear clears the bend"),
            ("ear root", self.root[1] - self.root[0], 2 * self.tip, "as wide as its tip"),
            ("root on the seat", self.root[0] - self.seat[0], 0.0, "the ear grows from the seat"),
            ("root on the seat", self.seat[1] - self.root[1], 0.0, "the ear grows from the seat"),
            ("seat beside slots", self.columns[0] - self.seat[0], self.slot.half, "washer land"),
            ("seat beside slots", self.seat[1] - self.columns[-1], self.slot.half, "washer land"),
            *join_rules(
                self.joins, (self.pin_u, self.reach, self.pin), self.plate_thickness, start
            ),
            ("hole to bend", near_bend, 2 * self.plate_thickness, "common practice: 2 t from it"),
            ("washer to bend", washer, 0.0, "the washer lies flat"),
        )

    @property
    def bend_line(self) -> float:
        """V of the tangent where seat ends and bend begins, on the upper angle."""
        return self.gap / 2 + self.plate_thickness + self.bend_radius

    @property
    def ear_length(self) -> float:
        """From the end of the bend to the pin."""
        return self.reach - self.plate_thickness - self.bend_radius

    @property
    def top(self) -> float:
        """V of the seat's far edge, on the upper angle."""
        return self.rows[-1] + self.slot.land

    @property
    def _travels(self) -> tuple[float, ...]:
        slotted = len(self.rows) - self.round_rows
        return (0.0,) * self.round_rows + (self.slot.travel,) * slotted

    def _folded(self) -> FoldedPlate:
        """The upper angle, or its mirror image in v for the lower one."""
        line, start = self.bend_line, self.plate_thickness + self.bend_radius
        ear_holes = [Hole("P", self.pin_u, line - self.ear_length, self.pin, "pin")]
        discs = []
        for i, join in enumerate(self.joins):
            v = line - (join.reach - start)
            ear_holes.append(Hole(f"X{i + 1}", join.u, v, join.diameter, "join"))
            discs.append((join.u, v, join.edge))
        ear = Flange(
            name="ear",
            edge=0,
            path=ear_path(*self.root, line, (self.pin_u, line - self.ear_length), self.tip, discs),
            radius=self.bend_radius,
            holes=tuple(ear_holes),
        )
        mark = marks()
        holes = tuple(
            Hole(next(mark), u, v, self.slot.diameter, "post", travel)
            for v, travel in zip(self.rows, self._travels, strict=True)
            for u in self.columns
        )
        plate = FoldedPlate(
            thickness=self.plate_thickness,
            outline=self._seat_outline(line),
            holes=holes,
            flanges=(ear,),
            k_factor=self.k_factor,
        )
        return plate if self.place == "upper" else plate.mirrored(across_u=False)

    def _seat_outline(self, line: float) -> Loop:
        """The seat, its first edge the ear's root; shoulders step back to relieve the bend."""
        (left, right), (a, b) = self.seat, self.root
        relief = self.plate_thickness
        corners: list[tuple[float, float, float]] = [(a, line, 0.0), (b, line, 0.0)]
        if right - b > relief:
            corners += [(b, line + relief, relief / 2), (right, line + relief, self.corner / 2)]
        elif right > b:
            corners += [(right, line + relief, 0.0)]
        corners += [(right, self.top, self.corner), (left, self.top, self.corner)]
        if a - left > relief:
            corners += [(left, line + relief, self.corner / 2), (a, line + relief, relief / 2)]
        elif a > left:
            corners += [(left, line + relief, 0.0)]
        loop = rounded(corners)
        return Loop(tuple(Vertex(v.x, v.y, v.bulge) for v in loop.vertices))
