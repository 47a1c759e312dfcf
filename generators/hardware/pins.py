"""The pin at either end of the actuator and the gap it bridges: pin, washers, cotters.

Frame: as the bracket that carries it. Units: mm.
"""

from math import ceil

from hangpost.generators.hardware.design import Bought, Placed, Rides
from hangpost.generators.hardware.trade import in_both
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.actuator import Eye
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.units import FACTORS, INCH, Units
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.frame import Frame, Vector

END = 6.0  # house: pin past each ear, room for a cotter
HEAD = 3.0  # house: a pin's head
ROUNDED = 0.5  # mm, house: metal beyond the least, for arcs that are measured by their chords


def gap_for(eye: Eye, shop: Shop) -> float:
    """Clear gap between two ears: the eye with a washer on each side."""
    return eye.thickness + 2 * shop.clearances.ear_side


def ear_tip(problem: Problem, shop: Shop, pin: float, plate: float) -> float:
    """Radius of an ear about its pin: the search's or, in thick plate, what the shop's rule asks.

    A shop leaves some metal about a hole by the plate's thickness, whatever the pin is.
    """
    least = shop.pin_hole(pin) / 2 + shop.cutting.web_factor * plate + ROUNDED
    return float(max(problem.brackets.ear_tip, least))


def pin(name: str, eye: Eye, gap: float, plate: float, at: Vector, rides: Rides) -> Placed:
    """The pin through both ears, upright at its pivot, head on top."""
    half = gap / 2 + plate
    shank = Bar((0.0, 0.0, -half - END), (0.0, 0.0, 1.0), eye.pin / 2, 2 * half + END)
    head = Bar((0.0, 0.0, half), (0.0, 0.0, 1.0), 0.75 * eye.pin, HEAD)
    body = Body(name, (shank, head))
    return Placed(name=name, item=body, frame=Frame(at), rides=rides)


def pin_list(eye: Eye, gap: float, plate: float, shop: Shop) -> tuple[Bought, ...]:
    """What to buy for one pin: the pin, washers beside the eye, bushes where the gap is wider."""
    units = shop.drawings.units
    step = INCH / 16 if units == "in" else 1.0
    length = ceil((gap + 2 * plate + END) / step - 1e-9) * step
    size = in_both(eye.pin, units)
    finish = "stainless" if shop.finish == "stainless" else "zinc plated"
    side = float(shop.clearances.ear_side)
    bush = (gap - eye.thickness) / 2 - side
    listed = [
        Bought(
            name=f"clevis pin {size} x {in_both(length, units)} under the head, with cotter",
            quantity=1,
            grade=f"steel, yield at least {_stress(float(shop.fasteners.pin_yield), units)}",
            finish=finish,
            note="greased; the cotter is bent once and replaced when taken out",
        ),
        Bought(
            name=f"washer for {size} pin, {in_both(side, units)} thick",
            quantity=2,
            finish=finish,
            note="one on each side of the actuator's eye",
        ),
    ]
    if bush > 0.5:
        listed.append(
            Bought(
                name=f"bush for {size} pin, {in_both(round(bush, 1), units)} long",
                quantity=2,
                finish=finish,
                note="between washer and ear, keeps the eye in the middle; at most "
                f"{in_both(2 * eye.radius, units)} outside",
            )
        )
    return tuple(listed)


def _stress(value: float, units: Units) -> str:
    """A yield strength as a steel merchant says it: "45 ksi (310 MPa)"."""
    metric = f"{value:.0f} MPa"
    return f"{value / FACTORS['stress']['ksi']:.0f} ksi ({metric})" if units == "in" else metric
