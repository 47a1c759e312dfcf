"""Lobed channel: one plate whose ears fold out of the middle of its web.

The web lies on a rail or a steel post; its two ends are lobes that carry the bolts left and
right of the ears, where height is scarce and width is not. The ears reach out to the pin, which
may stand to one side of their root. What it is fixed to makes it a leaf or a post bracket.
The bends take their radius out of the gap, so what joins web and lobe is a neck no higher than
gap - 2 x radius; where it is too weak, a wider gap (and bushes on the pin) makes it stronger.

Frame: the seat frame, datum on the pin's level: u to the right, v up, w out. It is its own
mirror image only when the pin stands over the middle of equal lobes. Units: mm.
"""

from dataclasses import dataclass
from typing import ClassVar

from hangpost.parts.ear import EarHole, ear_path, join_rules
from hangpost.parts.flat import Hole, Use, marks, require
from hangpost.parts.folded import Flange, FoldedPlate
from hangpost.parts.loop import Loop, rounded
from hangpost.parts.part import SheetPart
from hangpost.parts.post_bracket import SlotSpec

LEAST_STEP = 2.0  # house: a lobe taller than the neck by less is not worth its corners
RELIEF = 1.0  # house: a notch ends this far behind the start of the bend


def least_gap(neck: float, bend_radius: float) -> float:
    """The clear gap between the ears that leaves a neck of this height between the notches."""
    return neck + 2 * (RELIEF + bend_radius)


@dataclass(frozen=True, slots=True, kw_only=True)
class Channel(SheetPart):
    """A lobed channel; bad values raise ParameterError."""

    fixed_to: ClassVar[Use]
    plate_thickness: float
    bend_radius: float
    k_factor: float | None
    gap: float  # clear between the ears
    pin: float  # hole for the pin
    pin_u: float = 0.0
    reach: float  # pin to the seat
    tip: float  # radius of the ears about the pin
    root_u: float = 0.0  # middle of the ears' root
    root_width: float | None = None  # of an ear at its root; None: tip and plate on either side
    columns: tuple[float, ...]  # distance of the bolts from the root's middle, to the right
    left_columns: tuple[float, ...] | None = None  # to the left; None: the same as to the right
    rows: tuple[float, ...] = (0.0,)  # v of the bolts
    slot: SlotSpec
    round_columns: int = 0  # without slots, from the ears on: drilled once it is adjusted
    joins: tuple[EarHole, ...] = ()  # second holes in the ears, for a pivot extension
    corner: float = 6.0

    def __post_init__(self) -> None:
        """Refuse what cannot be cut, bent or fastened."""
        nearest = min(self.columns[0], self.left[0])
        inner = nearest - self.slot.diameter / 2 - self.slot.travel / 2 - self.root
        require(
            f"{self.id}",
            ("thickness", self.plate_thickness, 2.0, "house: thinnest plate for a bracket"),
            ("bend radius", self.bend_radius, 0.5, "a bend has an inside radius"),
            ("gap between the ears", self.gap, 5.0, "the actuator's eye must pass"),
            ("pin edge", self.tip - self.pin / 2, 0.5 * self.pin, "house: half a pin of steel"),
            ("ear length", self.ear_length - self.tip, 0.0, "the eye of the ear clears the bend"),
            ("ear root", 2 * self.root, 2 * self.tip, "as wide as its tip"),
            ("neck beside the ears", self.neck, self.plate_thickness, "house: holds the lobe"),
            *join_rules(
                self.joins, (self.pin_u, self.reach, self.pin), self.plate_thickness, self._start
            ),
            ("hole to relief", inner, 1.5 * self.plate_thickness, "house: web beside the relief"),
            ("washer beside the ear", nearest - self.slot.half, self.root, "washer lies flat"),
        )

    @property
    def left(self) -> tuple[float, ...]:
        """Distance of the left-hand bolts from the root's middle."""
        return self.columns if self.left_columns is None else self.left_columns

    @property
    def bend_line(self) -> float:
        """V of the tangent where the web ends and the upper bend begins."""
        return self.gap / 2 - self.bend_radius

    @property
    def ear_length(self) -> float:
        """From the end of the bend to the pin."""
        return self.reach - self.plate_thickness - self.bend_radius

    @property
    def root(self) -> float:
        """Half the width of the ears at their root."""
        if self.root_width is None:
            return self.tip + self.plate_thickness
        return self.root_width / 2

    @property
    def ends(self) -> tuple[float, float]:
        """U of the bracket's left and right end."""
        return (
            self.root_u - self.left[-1] - self.slot.half,
            self.root_u + self.columns[-1] + self.slot.half,
        )

    @property
    def half_height(self) -> float:
        """Half the height of the lobes: they stay behind the bends unless bolts need more."""
        needed = max(abs(v) for v in self.rows) + self.slot.land
        step = self.bend_line - self.relief
        return step if needed <= step else max(needed, step + LEAST_STEP)

    @property
    def relief(self) -> float:
        """How far the notch beside an ear goes behind the bend."""
        return RELIEF

    @property
    def neck(self) -> float:
        """Height of web that joins the middle to a lobe, between the two notches."""
        return 2 * (self.bend_line - self.relief)

    def _folded(self) -> FoldedPlate:
        """Web, lobes and two ears; the lower ear is the first edge of the outline."""
        outline, upper = self._web()
        ears = [self._ear("lower ear", 0, -1.0), self._ear("upper ear", upper, 1.0)]
        across = [self.root_u - c for c in reversed(self.left)]
        across += [self.root_u + c for c in self.columns]
        travels = [*self._travels(self.left)[::-1], *self._travels(self.columns)]
        mark = marks()
        holes = tuple(
            Hole(next(mark), u, v, self.slot.diameter, self.fixed_to, travel)
            for v in self.rows
            for u, travel in zip(across, travels, strict=True)
        )
        return FoldedPlate(
            thickness=self.plate_thickness,
            outline=outline,
            holes=holes,
            flanges=tuple(ears),
            k_factor=self.k_factor,
        )

    def _travels(self, columns: tuple[float, ...]) -> list[float]:
        """The slot of each column of one side, from the ears on."""
        return [0.0 if i < self.round_columns else self.slot.travel for i in range(len(columns))]

    @property
    def _start(self) -> float:
        """Reach at which the bend ends and the flat of an ear begins."""
        return self.plate_thickness + self.bend_radius

    def _ear(self, name: str, edge: int, way: float) -> Flange:
        """The ear that grows from the upper (`way` 1) or the lower (-1) edge of the web."""
        line = way * self.bend_line
        far = line + way * self.ear_length
        bores, discs = [Hole("P" if way > 0 else "Q", self.pin_u, far, self.pin, "pin")], []
        for i, join in enumerate(self.joins):
            v = line + way * (join.reach - self._start)
            mark = f"{'X' if way > 0 else 'Y'}{i + 1}"
            bores.append(Hole(mark, join.u, v, join.diameter, "join"))
            discs.append((join.u, v, join.edge))
        left, right = self.root_u - self.root, self.root_u + self.root
        return Flange(
            name=name,
            edge=edge,
            path=ear_path(left, right, line, (self.pin_u, far), self.tip, discs),
            radius=self.bend_radius,
            holes=tuple(bores),
        )

    def _web(self) -> tuple[Loop, int]:
        """The web's outline and the number of the edge that carries the upper ear."""
        line = self.bend_line
        far_left, far_right = self.ends
        right = self._side(far_right - self.root_u)
        left = [(-x, -y, r) for x, y, r in self._side(self.root_u - far_left)]
        loop = rounded([left[-1], *right, *left[:-1]]).moved(self.root_u, 0.0)
        at = next(
            i
            for i, e in enumerate(loop.edges)
            if abs(e.start[1] - line) < 1e-9 and abs(e.end[1] - line) < 1e-9
        )
        return loop, at

    def _side(self, wide: float) -> list[tuple[float, float, float]]:
        """The way up the right-hand side, from the lower ear's root to the upper one's."""
        a, line, high = self.root, self.bend_line, self.half_height
        step, notch = line - self.relief, self.plate_thickness
        foot = 0.9 * min(self.relief, notch / 2)
        if high > step + 1e-9:  # lobes taller than the neck: a notch on either side of an ear
            turn = min(notch / 2, 0.45 * (high - step))  # two of them in the height of the step
            side = [(a, step, foot), (a + notch, step, turn), (a + notch, high, turn)]
            side.append((wide, high, self.corner))
        else:
            side = [(a, step, foot), (wide, step, min(self.corner, 0.9 * step))]
        return [(a, -line, 0.0), *((x, -y, r) for x, y, r in side), *side[::-1], (a, line, 0.0)]
