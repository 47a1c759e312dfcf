"""Two ears welded onto a steel post: the fillets on both sides of each ear.

Each ear is one elastic group of its two seams and takes half of the level force; the weight rests
on one of them. The face of a square post gives way in its middle, so only the ends of ear and
seams are counted there. The gap to a round post stays under the 1/16 in that AWS D1.1 lets
pass without a larger leg (memory).
Frame: the seat frame, the seams along u on the post's surface, v up. Units: N, mm, MPa.
Sources: AISC 360-16 J2.2, J2.4, J4.2; AISC 360-10 K1, K4; wire or electrode of 70 ksi (common
practice, no source).
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.tube import Tube, post_tube
from hangpost.generators.judging.bench import STRENGTH, Bench
from hangpost.generators.judging.ear_bars import bar_checks, ear_actions, ear_checks
from hangpost.generators.judging.ears import Ears
from hangpost.generators.judging.loads import Floats, PinLoads
from hangpost.generators.judging.tube_pressed import Footprint, pressed_wall
from hangpost.generators.strength import plates, tubes, weld_lines, welds
from hangpost.generators.strength.factors import allowable
from hangpost.parts.weld_ear import WeldEar

ELECTRODE = 482.0  # MPa, 70 ksi
WALL_LEG = 1.5  # walls: a larger leg burns through; house
PIECES = 24  # straight pieces that stand for the arc of a seam


@dataclass(frozen=True, slots=True, kw_only=True)
class Welded:
    """An ear, what it is welded to, and where the actuator's pin is: u and reach."""

    of: str
    ear: WeldEar
    ears: Ears
    tube: Tube
    pin: tuple[float, float]

    def seams(self, share: float) -> tuple[Floats, ...]:
        """What works of the seams above and below the ear, from their ends inwards.

        In u, v, w of the seat; v = 0 in the ear's middle.
        """
        left, right = self.ear.root
        if share == 1.0:
            chains = [np.linspace(left, right, PIECES + 1)]
        else:
            end = share * (right - left) / 2
            chains = [np.array((left, left + end)), np.array((right - end, right))]
        half = self.ear.plate_thickness / 2
        found = []
        for nodes in chains:
            back = np.array([self.ear.back_edge(float(u)) for u in nodes])
            flat = np.full(len(nodes), half)
            found += [np.column_stack((nodes, side * flat, back)) for side in (1.0, -1.0)]
        return tuple(found)

    @property
    def middle(self) -> tuple[float, float]:
        """Where the seams' middle is: u, and how far the pin is out of the farthest of them."""
        u = (self.ear.root[0] + self.ear.root[1]) / 2
        return u, self.pin[1] - min(self.ear.back_edge(end) for end in self.ear.root)


def welded_ear(bench: Bench, ear: WeldEar, loads: PinLoads) -> Iterator[Check]:
    """Every check of two like ears, their pin, their seams and the wall that these stand on."""
    pin, eye = _pin(bench, ear), bench.hung.actuator.post_eye
    ears = Ears(
        of="post bracket",
        thickness=ear.plate_thickness,
        hole=ear.pin,
        tip=ear.tip,
        gap=float(eye.thickness + 2 * bench.shop.clearances.ear_side),
        reach=pin[1],
        start=min(ear.back_edge(end) for end in ear.root),
        pin_u=pin[0],
        root=ear.root,
        eye=float(eye.thickness),
        pin=float(eye.pin),
        joint="root",
    )
    # Where a pivot extension carries the pin its own judge looks at pin and eyes.
    yield from bar_checks(bench, ears, loads) if ear.joins else ear_checks(bench, ears, loads)
    tube = post_tube(bench.hung.post)
    welded = Welded(of=ears.of, ear=ear, ears=ears, tube=tube, pin=pin)
    yield from _legs(bench, welded)
    yield from _seams(bench, welded, loads)
    yield from pressed_wall(
        bench,
        ears.of,
        tube,
        Footprint(pin=pin, root=ear.root, lever=welded.middle[1], thickness=ear.plate_thickness),
        loads,
    )


def _pin(bench: Bench, ear: WeldEar) -> tuple[float, float]:
    """Where the post pin is in the frame of the ear: u and reach."""
    frame = next(p.frame for p in bench.leaf.placed if p.item is ear)
    off = [a - b for a, b in zip(bench.leaf.mount.post_pivot, frame.origin[:2], strict=True)]
    return (
        off[0] * frame.u[0] + off[1] * frame.u[1],
        off[0] * frame.v[0] + off[1] * frame.v[1],
    )


def _share(bench: Bench, welded: Welded) -> float:
    """Share of ear and seam that works: all of it on a round tube."""
    tube, t = welded.tube, welded.ear.plate_thickness
    if tube.is_round:
        return 1.0
    fy = bench.steel[0]
    return tubes.uneven_share(tube.fy, tube.side, tube.wall, plate_fy=fy, plate=t)


def _legs(bench: Bench, welded: Welded) -> Iterator[Check]:
    ear, tube, of = welded.ear, welded.tube, welded.of
    said = f"fillet of {ear.weld_leg:.1f} mm leg along both sides of each ear of the {of}"
    yield bench.fits(
        STRENGTH,
        f"{of} least weld leg",
        f"{said}, the thinner of ear and wall {min(ear.plate_thickness, tube.wall):.1f} mm",
        value=ear.weld_leg,
        least=welds.least_leg(min(ear.plate_thickness, tube.wall)),
        source="AISC 360-16 Table J2.4",
        working=f"thinner part min({ear.plate_thickness:.2f}, {tube.wall:.2f})",
    )
    yield bench.fits(
        STRENGTH,
        f"{of} largest weld leg",
        f"{said} on a wall of {tube.wall:.2f} mm",
        value=ear.weld_leg,
        most=WALL_LEG * tube.wall,
        source="house: 1.5 walls, a larger one burns through",
        working=f"{WALL_LEG:g} t = {WALL_LEG:g} x {tube.wall:.2f}",
        warning=True,
    )


def seam_force(welded: Welded, force: Floats, share: float = 1.0) -> Floats:
    """Greatest force per length in the seams of one ear, one for each force at the pin.

    Of seams that work in part their ends do: AISC 360-10 Table K4.1.
    """
    half = force * np.array((0.5, 1.0, 0.5))
    at = np.array((welded.pin[0], 0.0, welded.pin[1]))
    return weld_lines.force_per_length(welded.seams(share), half, at)


def _seams(bench: Bench, welded: Welded, loads: PinLoads) -> Iterator[Check]:
    tube_fy, tube_fu = plates.steel(welded.tube.steel)
    ear, tube, of = welded.ear, welded.tube, welded.of
    share, (middle, lever) = _share(bench, welded), welded.middle
    each = seam_force(welded, loads.force, share)
    row = int(np.argmax(each))
    along, down, out = loads.force[row] * np.array((0.5, 1.0, 0.5))
    words = (
        f"F = ({along:.0f}, {down:.0f}, {out:.0f}) N at {lever:.0f} mm out and "
        f"{welded.pin[0] - middle:.0f} beside the middle of two seams of {ear.weld_length:.1f} mm, "
        f"{ear.plate_thickness:.2f} apart: f = {each[row]:.1f} N/mm"
    )
    if share < 1.0:
        words += f", {share:.2f} of them working, their ends"
    yield bench.held(
        f"{of} weld",
        f"fillets of {ear.weld_leg:.1f} mm leg along both sides of each ear of the {of}: "
        f"{loads.words(row)}",
        demand=float(each[row]),
        allowed=allowable(welds.fillet_strength(ELECTRODE, ear.weld_leg), "weld"),
        unit="N/mm",
        source="AISC 360-16 Eq. J2-4, elastic method, weld as lines"
        + ("" if tube.is_round else "; AISC 360-10 Table K4.1 (memory)"),
        working=f"{words}; 0.6 x {ELECTRODE:.0f} x 0.707 x {ear.weld_leg:.1f} / 2.00",
    )
    yield bench.held(
        f"{of} wall beside the weld",
        f"wall of the {tube.words} sheared beside the fillets of the {of}: {loads.words(row)}",
        demand=float(each[row]),
        allowed=min(
            allowable(welds.base_metal_strength(tube_fu, tube.wall), "rupture"),
            allowable(0.6 * tube_fy * tube.wall, "yield"),
        ),
        unit="N/mm",
        source="AISC 360-16 J4.2(a), (b); all of the force taken as shear",
        working=f"f = {each[row]:.1f} N/mm; the lesser of 0.6 Fy t / 1.67 and 0.6 Fu t / 2.00, "
        f"{tube.steel} {tube_fy:.0f} and {tube_fu:.0f}, t = {tube.wall:.2f}",
    )
    if share < 1.0:
        yield _uneven(bench, welded, loads, share)


def _uneven(bench: Bench, welded: Welded, loads: PinLoads, share: float) -> Check:
    """The ear's root where the face of a square post gives way behind its middle."""
    ears, t = welded.ears, welded.ear.plate_thickness
    axial, strong, weak = ear_actions(ears, loads.force, 1.0)
    fy, depth = bench.steel[0], ears.depth
    left = 1 - (1 - share) ** 3  # of the modulus, when the middle is taken out
    use = np.abs(axial) / (depth * t * share)
    use = use + np.abs(strong) / (plates.elastic_modulus(depth, t) * left)
    use = use + np.abs(weak) / plates.elastic_modulus(t, depth)
    row = int(np.argmax(use))
    return bench.held(
        f"{welded.of} ear over the {welded.tube.words}'s face",
        f"ear of the {welded.of} at its weld, where the middle of the face gives way and "
        f"{share:.2f} of the ear works: {loads.words(row)}",
        demand=float(use[row]),
        allowed=allowable(fy, "yield"),
        unit="MPa",
        source="AISC 360-10 Eq. K1-7, moduli as in Table K4.1 (memory), elastic",
        working=f"N = {axial[row]:.0f}, M = {strong[row]:.0f}, m = {weak[row]:.0f} on {depth:.1f} "
        f"x {t:.2f}, N over {share:.2f}, M over 1 - (1 - {share:.2f})^3 = {left:.2f}",
    )
