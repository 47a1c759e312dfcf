"""The wall of a steel post under two welded ears, pushed, pulled and bent by both of them at once.

Both press on one place of the wall: they stand too close to count it twice (house).
Frame: the seat frame. Units: N, mm, MPa.
Sources: AISC 360-10 K1; EN 1993-1-8:2005 Table 7.14.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hangpost.generators.checks import Check
from hangpost.generators.hardware.tube import Tube
from hangpost.generators.judging.bench import STRENGTH, Bench
from hangpost.generators.judging.hanging_post import stressed
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import tubes
from hangpost.generators.strength.factors import allowable

SLENDER, NARROW = 50.0, 0.2  # AISC 360-10 Table K1.1A: D/t at most, Bp/D at least


@dataclass(frozen=True, slots=True, kw_only=True)
class Footprint:
    """Where two ears stand on a wall: their width along u, and the pin from its middle."""

    root: tuple[float, float]  # least and greatest u
    thickness: float
    pin: tuple[float, float]  # u and reach
    lever: float  # of the pin, out of the seams


def pressed_wall(
    bench: Bench, of: str, tube: Tube, at: Footprint, loads: PinLoads
) -> Iterator[Check]:
    """The wall's strength, and whether its formula is known to hold there."""
    t, wide = at.thickness, min(at.root[1] - at.root[0], tube.side)
    used = stressed(bench, tube.fy)
    if tube.is_round:
        less = tubes.round_stressed(used)
        push = less * tubes.transverse_plate(tube.fy, tube.side, tube.wall, wide)
        turn = less * tubes.transverse_plate_moment(tube.fy, tube.side, tube.wall, wide)
        source = "AISC 360-10 Eq. K1-1 and Table K1.1"
    else:
        less = tubes.square_stressed(used, wide / tube.side)
        push = less * tubes.face_yield_line(tube.fy, tube.side, tube.wall, wide, t)
        # The second is known for plates not too narrow for the face only.
        turn = min(
            0.5 * wide * push, less * tubes.face_moment(tube.fy, tube.side, tube.wall, wide, t)
        )
        source = (
            "AISC 360-10 Eq. K1-12 as a yield-line, 0.5 Bp Rn or EN 1993-1-8 Table 7.14 (memory)"
        )
    push, turn = allowable(push, "tube_wall"), allowable(turn, "tube_wall")
    force, lever = loads.force, at.lever
    beside = at.pin[0] - sum(at.root) / 2
    # The weight tips the ear that carries it: a couple over its thickness, on the safe side.
    pressed = np.abs(force[:, 2]) + np.abs(force[:, 1]) * lever / t
    bent = np.abs(lever * force[:, 0] - beside * force[:, 2])
    use = pressed / push + bent / turn
    row = int(np.argmax(use))
    yield bench.used(
        f"{of} wall behind the weld",
        f"wall of the {tube.words} pushed, pulled and bent by both ears of the {of}: "
        f"{loads.words(row)}",
        share=float(use[row]),
        source=f"{source}, ratios added (house: on the safe side)",
        working=f"P/Pc + M/Mc = {pressed[row]:.0f}/{push:.0f} + {bent[row]:.0f}/{turn:.0f}; Bp "
        f"{wide:.1f} across {tube.side:.1f}, wall {tube.wall:.2f} (0.93 of nominal), {tube.steel}; "
        f"Qf {less:.2f} at U = {used:.2f}, Omega 1.67",
    )
    if tube.is_round:
        slender, ratio = tubes.round_limits(tube.side, tube.wall, wide)
        known = "up to which the strength of its wall is known"
        yield bench.fits(
            STRENGTH,
            f"{of} wall within its formula",
            f"D/t of the {tube.words}, {known}",
            value=slender,
            most=SLENDER,
            unit="",
            source="AISC 360-10 Table K1.1A",
            working=f"{tube.side:.1f} / {tube.wall:.2f}",
        )
        yield bench.fits(
            STRENGTH,
            f"{of} width within the wall's formula",
            f"width of the ears over the diameter of the {tube.words}, from which {known[12:]}",
            value=ratio,
            least=NARROW,
            unit="",
            source="AISC 360-10 Table K1.1A",
            working=f"{wide:.1f} / {tube.side:.1f}",
        )
