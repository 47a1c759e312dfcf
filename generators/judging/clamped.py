"""A bracket that U-bolts draw onto a round tube: what they hold, what the locking bolts hold.

Print lies between bracket and post and creeps, so of the U-bolts' tension a part is counted, and
friction only for as long as the bracket is being set: in the end the locking bolts alone keep it
from turning about the post and from sliding along it, and the U-bolts from coming off. A locking
bolt stands in a steel sleeve between plate and wall and is bent over its length.
Frame: the seat frame, the post's axis along v behind u = 0. Units: N, mm, MPa.
Sources: statics; AISC 360-16 J3, F11.1; EN 1993-1-8:2005 3.13.2; friction, what print keeps: house.
"""

from collections.abc import Iterator
from math import pi, sqrt

import numpy as np
from numpy.typing import NDArray

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import STRENGTH, Bench
from hangpost.generators.judging.drawn import Drawn
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.strength import bolts, pins, tubes
from hangpost.generators.strength.factors import allowable, factor
from hangpost.generators.strength.plastics import plastic

LEAST_LOCKS = 2  # so that the bracket can neither turn nor tip; house
YIELD = 0.8  # of Fnt: 0.6 Fu, the yield of a soft bolt; Fnt = 0.75 Fu, AISC 360-16 Table J3.2


def clamp_checks(bench: Bench, clamped: Drawn, loads: PinLoads) -> Iterator[Check]:
    """Every check of U-bolts, saddle and locking bolts."""
    yield from _tightened(bench, clamped)
    yield from _legs(bench, clamped, loads)
    yield _slip(bench, clamped, loads)
    yield from _locked(bench, clamped, loads)
    yield _arms(bench, clamped, loads)


def _tightened(bench: Bench, clamped: Drawn) -> Iterator[Check]:
    of, tube, saddle, legs = clamped.of, clamped.tube, clamped.saddle, clamped.legs
    pressing, chord = legs.tension * clamped.each, 2 * saddle.half_chord
    long = saddle.pressed_length
    newton_metres = bolts.torque(legs.tension, legs.fastener.diameter) / 1000
    made_of = plastic(bench.shop.printer.material)
    said = f"legs of the {of}'s U-bolts tightened to {newton_metres:.0f} N m"
    yield bench.held(
        f"{of} saddle pressed for good",
        f"print of a saddle pressed by the {said}",
        demand=pressing / saddle.bearing,
        allowed=made_of.lasting,
        unit="MPa",
        source=f"house: a tenth {made_of.source}",
        working=f"{clamped.each} x {legs.tension:.0f} N on {chord:.1f} x {long:.1f} less "
        f"bores = {saddle.bearing:.0f} mm2",
    )
    yield bench.held(
        f"{of} {tube.words} crushed by its U-bolts",
        f"wall of the {tube.words} under a saddle, {said}",
        demand=pressing,
        allowed=tube.crush(chord),
        unit="N",
        source=tube.source(chord),
        working=f"squeezed on {chord:.1f} of {tube.side:.1f}, wall {tube.wall:.2f} (0.93 of "
        f"nominal), {tube.steel}",
    )


def leg_pulled(
    bench: Bench, of: str, legs: Fixing, pulls: NDArray[np.float64], loads: PinLoads, added: str
) -> Check:
    """A leg of a U-bolt under its tightening and the pull of each load; `added` says how."""
    fnt, d, tension = bench.bolt_grade[0], legs.fastener.diameter, legs.tension
    row = int(np.argmax(pulls))
    return bench.held(
        f"{of} U-bolt tension",
        f"leg of a U-bolt of the {of}, tightened and pulled: {loads.words(row)}",
        demand=tension + float(pulls[row]),
        allowed=allowable(bolts.tension(fnt, d), "bolt"),
        unit="N",
        source=f"AISC 360-16 Eq. J3-1; {added} (house)",
        working=f"{tension:.0f} + {pulls[row]:.0f}; Fnt Ab / 2.00 = {fnt:.0f} x "
        f"{bolts.shank_area(d):.1f} / 2.00",
    )


def _legs(bench: Bench, clamped: Drawn, loads: PinLoads) -> Iterator[Check]:
    of = clamped.of
    pulls, tension = clamped.pulls(loads.force), clamped.legs.tension
    row = int(np.argmax(pulls))
    yield leg_pulled(
        bench, of, clamped.legs, pulls, loads, "the pull added whole, as print is soft"
    )
    left = factor("print.preload_left")
    yield bench.held(
        f"{of} saddle kept pressed",
        f"a pull against what is left of a U-bolt's tension, so that the saddle stays on the "
        f"{clamped.tube.words}: {loads.words(row)}",
        demand=float(pulls[row]),
        allowed=left * tension,
        unit="N",
        source="house: half of a tension is left after the print has crept",
        working=f"{left:g} x {tension:.0f} N",
        warning=True,
    )


def _slip(bench: Bench, clamped: Drawn, loads: PinLoads) -> Check:
    of, tube, left = clamped.of, clamped.tube, factor("print.preload_left")
    legs = len(clamped.legs.holes)
    pulled = np.maximum(loads.force[:, 2], 0.0)
    clamping = np.maximum(left * clamped.legs.tension * legs - pulled, 1e-9)
    torque = np.abs(clamped.torque(loads.force))
    slide = np.abs(clamped.slide(loads.force))
    about = allowable(tubes.clamp_torque(1.0, tube.side), "clamp_slip") * clamping
    along = allowable(tubes.clamp_slide(1.0), "clamp_slip") * clamping
    row = int(np.argmax(np.hypot(torque / about, slide / along)))
    return bench.used(
        f"{of} slip of its U-bolts",
        f"the {of} turning about the {tube.words} and sliding along it while U-bolts alone hold "
        f"it; its locking bolts must be in before the gate works: {loads.words(row)}",
        share=tubes.clamp_use(
            float(torque[row]),
            float(slide[row]),
            torque_limit=float(about[row]),
            slide_limit=float(along[row]),
        ),
        source="house: mu 0.2 on paint or zinc, Omega 2.00, half of the tension left in print",
        working=f"sqrt((T / Tc)^2 + (V / Vc)^2), T = {torque[row]:.0f}, V = {slide[row]:.0f}; N = "
        f"{left:g} x {legs} x {clamped.legs.tension:.0f} - {pulled[row]:.0f}; Tc = mu 2N D/2 / 2 = "
        f"{about[row]:.0f} N mm, Vc = mu 2N / 2 = {along[row]:.0f} N",
        warning=True,
    )


def _locked(bench: Bench, clamped: Drawn, loads: PinLoads) -> Iterator[Check]:
    of, tube, locks = clamped.of, clamped.tube, clamped.locks
    count, d = len(locks.holes), locks.fastener.diameter
    yield bench.fits(
        STRENGTH,
        f"{of} kept from turning",
        f"locking bolts of the {of} in the {tube.words}'s near wall, so that it cannot turn",
        value=float(count),
        least=float(LEAST_LOCKS),
        unit="",
        source="house",
        working=f"{count} locking bolts, {LEAST_LOCKS} at least",
    )
    if not count:
        return
    turning = np.abs(clamped.torque(loads.force)) / (tube.side / 2) / count
    sliding = clamped.on_lock(loads.force)
    shear = np.hypot(turning, sliding)
    row = int(np.argmax(shear))
    force, when = float(shear[row]), loads.words(row)
    words = (
        f"V = sqrt((T / (D/2) / n)^2 + Vs^2) = sqrt(({turning[row] * count:.0f} / {count})^2 + "
        f"{sliding[row]:.0f}^2) = {force:.0f}"
    )
    fnt, fnv, _ = bench.bolt_grade
    core = sqrt(4 * bolts.stress_area(locks.fastener.size) / pi)
    free = locks.under + locks.plate / 2
    held = allowable(bolts.shear(fnv, d), "bolt")
    bent = allowable(pins.bending_strength(YIELD * fnt, core), "yield")
    moment = force * free / 2
    yield bench.used(
        f"{of} locking bolt shear and bending",
        f"locking bolt of the {of} between plate and wall, sleeved over {locks.under:.1f} mm: "
        f"{when}",
        share=pins.shear_and_bending(force / held, moment / bent),
        source="AISC 360-16 Eq. J3-1, F11.1; EN 1993-1-8:2005 3.13.2(3); held straight at both "
        "ends (house)",
        working=f"{words}; Fnv Ab / 2.00 = {held:.0f}; M = V ({locks.under:.1f} + "
        f"{locks.plate:.2f} / 2) / 2 = {moment:.0f} of {bent:.0f}, core {core:.2f}, Fy "
        f"{YIELD * fnt:.0f}",
    )
    yield bench.held(
        f"{of} locking bolt on the {tube.words}'s wall",
        f"locking bolt of the {of} bearing on the near wall of the {tube.words}: {when}",
        demand=force,
        allowed=allowable(tubes.bolt_bearing(tube.fy, d, tube.wall), "bearing"),
        unit="N",
        source="AISC 360-16 J3.10(c), Eq. J7-1",
        working=f"{words}; 1.8 Fy d t / 2.00 = 1.8 x {tube.fy:.0f} x {d:.2f} x {tube.wall:.2f} / "
        "2.00",
    )
    t, fu = locks.plate, bench.steel[1]
    clear = 1.5 * d - locks.holes[0][1].diameter / 2  # J3.4 keeps at least so much to an edge
    nominal = min(bolts.bearing(fu, d, t), bolts.tear_out(fu, clear, t))
    yield bench.held(
        f"{of} locking bolt on its hole",
        f"locking bolt against the edge of its hole in the {of}: {when}",
        demand=force,
        allowed=allowable(nominal, "bearing"),
        unit="N",
        source="AISC 360-16 Eq. J3-6a, c",
        working=f"{words}; min(2.4 d, 1.2 lc) t Fu / 2.00, lc = {clear:.1f}, t = {t:.2f}",
    )


def _arms(bench: Bench, clamped: Drawn, loads: PinLoads) -> Check:
    saddle, each = clamped.saddle, clamped.sideways(loads.force)
    long = saddle.pressed_length
    row, made_of = int(np.argmax(each)), plastic(bench.shop.printer.material)
    return bench.held(
        f"{clamped.of} saddle's arms",
        f"an arm of a saddle pressed sideways against the {clamped.tube.words}: {loads.words(row)}",
        demand=float(each[row]) / (saddle.depth * long),
        allowed=made_of.short,
        unit="MPa",
        source=f"house: a quarter {made_of.source}",
        working=f"T / (D/2) x {clamped.share:.2g} = {each[row]:.0f} N on "
        f"{saddle.depth:.1f} x {long:.1f}",
    )
