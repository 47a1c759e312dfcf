"""Lock receiver: the plate on the latch post, or on the second leaf, that takes the lock's bolt.

Its opening leaves the bolt room and the sag the latch edge may come to; the rim is bevelled, so
that a bolt that comes low is led in. Vertical slots let the plate follow the leaf down; what
carries it sideways is the crossing plate. A flange folded up along one edge is the stop that the
closed leaf rests against.

Frame: the seat frame of the post face that looks at the leaf, datum at the bolt's middle when
the leaf is new: u right, v up, w towards the leaf. Units: mm.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from hangpost.parts import spacing
from hangpost.parts.chamfer import countersink
from hangpost.parts.flat import Hole, ParameterError, Use, broken, marks, refuse
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Loop, Point, Vertex, rectangle, rounded
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec

if TYPE_CHECKING:
    import cadquery as cq

LEAD = 3.0  # house: the bolt's end stands this far past the keeper plate
RUN = 3.0  # house: the leaf's latch edge keeps this far from the plate


@dataclass(frozen=True, slots=True, kw_only=True)
class Reset:
    """One line of the re-set table: what to do once the bolt has come down by `drop`."""

    drop: float
    lower: float  # how far the plate goes down in its slots; 0: nothing to do yet
    left: float  # room below the bolt after that


@dataclass(frozen=True, slots=True, kw_only=True)
class LockReceiver(SheetPart):
    """The keeper plate; bad values raise ParameterError."""

    kind: ClassVar[str] = "lock receiver"
    plate_thickness: float
    bolt: float  # diameter of the lock's bolt
    clearance: float  # round the bolt
    sag: float  # what the bolt may drop before the plate is set anew
    bevel: float  # of the opening's rim, 45 degrees
    sides: tuple[float, float]  # least and greatest u of the flat; a stop takes the place of one
    half_height: float
    bolts: tuple[Point, ...]
    slot: SlotSpec  # its travel runs up and down
    stop_u: float | None = None  # the face the leaf rests on; negative: left of the bolt
    stop_height: float = 0.0  # how far the stop stands out of the seat
    bend_radius: float = 0.0
    k_factor: float | None = None
    corner: float = 5.0
    fixed_to: Use = "latch"  # "join" on a crossing plate

    def __post_init__(self) -> None:
        """Refuse plates that miss the bolt, cannot be cut or folded, or tear."""
        flange = self.stop_height - self.plate_thickness - self.bend_radius
        found = broken(
            self.id,
            ("thickness", self.plate_thickness, 3.0, "house: thinnest keeper"),
            ("lock bolt", self.bolt, 5.0, "house: smallest bolt"),
            ("clearance", self.clearance, 1.0, "house: a bolt must run free"),
            ("sag", self.sag, 0.0, "a drop counts down"),
            ("bevel", self.bevel, 0.0, "none, or some"),
            ("edge left by the bevel", self.plate_thickness - self.bevel, 1.0, "house"),
            ("slot travel", self.slot.travel, 0.0, "up and down"),
        )
        if self.stop_u is not None:
            found += broken(
                self.id,
                ("bend radius", self.bend_radius, 0.5, "a bend has an inside radius"),
                ("stop flange", flange, 2 * self.plate_thickness, "common practice: 4 t outside"),
                ("stop beside the bolt", abs(self.stop_u), self.bolt, "the leaf is between them"),
            )
        if not found:
            low, high = self.flat_sides
            shrunk = rectangle(low, -self.half_height, high, self.half_height)
            lands = [
                min(u - self.slot.land - low, high - u - self.slot.land) for u, _ in self.bolts
            ]
            heights = [self.half_height - abs(v) - self.slot.half for _, v in self.bolts]
            found = broken(
                self.id,
                ("washers beside each other", min(lands, default=0.0), 0.0, "they lie flat"),
                ("washers below the end", min(heights, default=0.0), 0.0, "they lie flat"),
                *spacing.rules(shrunk, self.holes[1:], self.plate_thickness),
                spacing.opening_rule(self.opening, self.holes[1:], self.plate_thickness),
            )
        if len(self.bolts) < 2:
            found.append(f"{self.id}: one bolt lets the plate turn; it needs two")
        refuse(found)

    @property
    def flat_sides(self) -> tuple[float, float]:
        """Least and greatest u of the flat, a stop's bend line taken for its side."""
        left, right = self.sides
        if self.stop_u is None:
            return left, right
        line = abs(self.stop_u) - self.bend_radius
        return (left, line) if self.stop_u > 0 else (-line, right)

    @property
    def opening(self) -> Hole:
        """The opening for the bolt: a slot that hangs down by the sag."""
        room = self.bolt + 2 * self.clearance
        return Hole("L", 0.0, -self.sag / 2, room, "latch", self.sag, 90.0 if self.sag else 0.0)

    @property
    def holes(self) -> tuple[Hole, ...]:
        """The opening, then the slots."""
        d, travel = self.slot.diameter, self.slot.travel
        listed = zip(marks(), self.bolts, strict=False)
        slots = (Hole(m, u, v, d, self.fixed_to, travel, 90.0) for m, (u, v) in listed)
        return (self.opening, *slots)

    def _folded(self) -> FoldedPlate:
        """Plate and, if there is one, its stop."""
        (left, right), high, r = self.flat_sides, self.half_height, self.corner
        rounds = {"left": r, "right": r}
        if self.stop_u is not None:
            rounds["right" if self.stop_u > 0 else "left"] = 0.0
        corners = [
            (left, -high, rounds["left"]),
            (right, -high, rounds["right"]),
            (right, high, rounds["right"]),
            (left, high, rounds["left"]),
        ]
        outline = rounded(corners)
        return FoldedPlate(
            thickness=self.plate_thickness,
            outline=outline,
            holes=self.holes,
            flanges=self._stop(outline, left, right),
            k_factor=self.k_factor,
        )

    def _stop(self, outline: Loop, left: float, right: float) -> tuple[Flange, ...]:
        """The flange along the side of the stop, folded up to stand square to the plate."""
        if self.stop_u is None:
            return ()
        line, way = (right, 1.0) if self.stop_u > 0 else (left, -1.0)
        edge = next(
            i
            for i, e in enumerate(outline.edges)
            if abs(e.start[0] - line) < 1e-9 and abs(e.end[0] - line) < 1e-9
        )
        far = line + way * (self.stop_height - self.plate_thickness - self.bend_radius)
        start = way * -self.half_height
        inner = rounded(
            [
                (line, start, 0.0),
                (far, start, self.corner),
                (far, -start, self.corner),
                (line, -start, 0.0),
            ]
        ).vertices
        path = tuple(Vertex(c.x, c.y, c.bulge) for c in inner[1:-1])
        return (Flange(name="stop", edge=edge, path=path, radius=self.bend_radius),)

    @property
    def volume(self) -> float:
        """Of the folded plate, less the bevel."""
        return self.drawn().volume - countersink(self.opening.loop, self.bevel)

    def solid(self) -> "cq.Solid":
        """The folded plate with the rim of its opening bevelled on the leaf's side."""
        from hangpost.parts.solids import bevelled

        solid = SheetPart.solid(self)
        if not self.bevel:
            return solid
        opening = self.opening if self.hand == "right" else self.opening.mirrored(across_u=True)
        return bevelled(solid, opening.loop, self.plate_thickness, self.bevel)

    # -- what it takes ---------------------------------------------------------------------

    @property
    def sag_as_set(self) -> float:
        """Drop of the bolt that the opening takes before anything is touched."""
        return self.sag + self.clearance

    @property
    def sag_led_in(self) -> float:
        """Drop at which the bevel still leads the bolt in, lifting the leaf by the rest."""
        return self.sag_as_set + self.bevel

    @property
    def sag_in_all(self) -> float:
        """Drop that can be followed with the plate let down to the end of its slots."""
        return self.sag_as_set + self.slot.travel / 2

    def reset_table(self, step: float) -> tuple[Reset, ...]:
        """Lines for every `step` of drop: below the sag nothing, above it down by the drop."""
        if not step > 0:
            raise ParameterError(f"{self.id}: step = {step:g} mm, needs more than 0 mm")
        lines, most = [], self.slot.travel / 2
        for i in range(1, int(self.sag_in_all / step + 1e-9) + 1):
            drop = i * step
            lower = 0.0 if drop <= self.sag else min(drop, most)
            lines.append(Reset(drop=drop, lower=lower, left=self.sag_as_set - drop + lower))
        return tuple(lines)

    def engagement(self, *, throw: float, gap: float, behind: float = 0.0) -> float:
        """How far the bolt stands in the plate: `gap` edge to post, `behind` plates and shims."""
        return throw - (gap - behind - self.plate_thickness)

    def gaps(self, *, throw: float, behind: float = 0.0) -> tuple[float, float]:
        """Least and greatest gap, latch edge to post, at which the lock still holds."""
        stands_out = behind + self.plate_thickness
        return stands_out + RUN, stands_out + throw - self.plate_thickness - LEAD
