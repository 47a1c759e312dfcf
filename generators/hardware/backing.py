"""Backing plates: what takes the pull of through-bolts on the far side of a post or a rail.

Each is centred on its own bolts, so that equal ones are one part. Units: mm.
"""

from collections.abc import Sequence
from math import radians, sqrt, tan

from hangpost.generators.hardware.design import Placed, Rides
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.stock import Plate
from hangpost.parts.backing_plate import BackingPlate
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import Hole, Use
from hangpost.parts.frame import Frame, cross


def backing(
    name: str,
    holes: Sequence[Hole],
    *,
    bolt: Fastener,
    plate: Plate,
    shop: Shop,
    seat: Frame,
    depth: float,
    host: float = 0.0,
    rides: Rides,
    use: Use,
    across: float = 0.0,
    tilt: tuple[float, float] = (0.0, 0.0),
) -> Placed:
    """A plate behind these holes of a seat, `depth` away on the far face, `across` at least.

    `host` of the depth is the post itself, `tilt` is that of its faces in the seat's u and v, in
    degrees; the plate lies on the far one.
    """
    us, vs = [h.u for h in holes], [h.v for h in holes]
    u, v = (min(us) + max(us)) / 2, (min(vs) + max(vs)) / 2
    hole = shop.bolt_hole(bolt.size) - shop.zinc / 2  # it goes over bolts that stand already
    land = max(
        bolt.head.washer_diameter / 2 + 2.0,
        1.5 * bolt.diameter + 2.0,
        hole / 2 + shop.cutting.edge_factor * plate.thickness,
    )
    part = BackingPlate(
        id=f"{name}-backing",
        plate_thickness=float(plate.thickness),
        width=max(across, max(us) - min(us) + 2 * land),
        length=max(vs) - min(vs) + 2 * land,
        corner=max(float(shop.cutting.corner_radius), float(plate.thickness)),
        bolts=tuple(sorted((u - h.u, h.v - v) for h in holes)),
        hole=hole,
        goes_through=use,
    )
    su, sv = tan(radians(tilt[0])), tan(radians(tilt[1]))
    n, k = sqrt(1 + su * su + sv * sv), sqrt(1 + su * su)
    back, along = (su / n, sv / n, -1 / n), (-1 / k, 0.0, -su / k)  # out of the far face, its u
    level = su * u + sv * v - depth - (n - 1.0) * host  # where the bolts' middle comes out
    at = seat.after(Frame((u, v, level), along, cross(back, along)))
    return Placed(name=f"{name} backing plate", item=part, frame=at, rides=rides)
