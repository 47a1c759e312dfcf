"""Wedge shims under the angles of a post that leans, so that the seats stand plumb all the same.

Frame: the seat frame through the datum mark as if the post were plumb. Units: mm, degrees.
"""

from collections.abc import Callable
from math import hypot, radians, tan

from hangpost.generators.hardware.angle_pair import AnglePair
from hangpost.generators.hardware.design import Placed
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.on_bed import pieces
from hangpost.generators.hardware.sleeves import bore_for, sleeve
from hangpost.generators.pivots.of_site import WEDGE
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.frame import Frame
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.wedge import LEAST_TILT, WedgeShim, tilts


def seated(
    hung: HungLeaf, shop: Shop, pair_at: Callable[[float], AnglePair]
) -> tuple[AnglePair, Kit]:
    """The pair that `pair_at` makes so far off the post, and the wedges under it if it leans."""
    tilt = tilt_of(hung)
    if tilt == (0.0, 0.0):
        return pair_at(0.0), Kit()
    height = _height(pair_at(0.0).angles[0], tilt)
    pair = pair_at(height)
    seat = pair.fixing.seat
    on_post = Frame(seat.point((0.0, 0.0, -height)), seat.u, seat.v)
    bore = bore_for(pair.fixing.fastener, shop)
    wedges = [w for angle in pair.angles for w in _wedges(angle, tilt, height, bore, shop)]
    return pair, Kit(
        placed=tuple(Placed(name=w.id, item=w, frame=on_post, rides="ground") for w in wedges),
        bought=tuple(
            sleeve(pair.fixing.fastener, wedge.sleeve_length(hole))
            for wedge in wedges
            for hole in wedge.holes
        ),
        reasons=(
            f"The post leans {hung.post.lean.words}: wedge shims bring the seats back to plumb.",
        ),
    )


def tilt_of(hung: HungLeaf) -> tuple[float, float]:
    """Tilt of the post's face in u and v in degrees; none where no wedge is worth it."""
    lean = hung.post.lean
    tilt = tilts(float(lean.toward_leaf), float(lean.toward_actuator))
    return tilt if hypot(*tilt) >= LEAST_TILT else (0.0, 0.0)


def plumb_enough(hung: HungLeaf, most: float, why: str, *, other: str) -> None:
    """Refuse a post that leans more than this hardware can make up for; `other` says what can."""
    lean = hung.post.lean
    out = hypot(float(lean.toward_leaf), float(lean.toward_actuator))
    if out > most:
        raise NoHardware(
            f"the post is {out:.1f} degrees out of plumb and {why} (up to {most:g} degrees is "
            f"swallowed): set the post plumb, or {other}"
        )


def _height(angle: PostAngle, tilt: tuple[float, float]) -> float:
    """From the datum on the post to the seats, so that the thin end keeps its thickness."""
    left, right = angle.seat
    up, rise = tan(radians(tilt[0])), tan(radians(tilt[1]))
    return WEDGE + max(up * left, up * right) + abs(rise) * angle.top


def _wedges(
    angle: PostAngle, tilt: tuple[float, float], height: float, bore: float, shop: Shop
) -> list[WedgeShim]:
    """The shim under one angle: as wide as its seat, as long as its rows and washers.

    In pieces where the bed is too short; two bolts keep each of them from turning.
    """
    left, right = angle.seat
    side = 1.0 if angle.place == "upper" else -1.0
    holes = angle.drawn().holes
    found = pieces(
        shop,
        what="the wedge shim",
        width=right - left,
        low=angle.rows[0] - angle.slot.land,
        high=angle.top,
        rows=angle.rows,
        least_rows=1 if len(holes) > len(angle.rows) else 2,
    )
    name = f"wedge-{angle.place}"
    return [
        WedgeShim(
            id=name if len(found) == 1 else f"{name}-{number}",
            tilt_u=tilt[0],
            tilt_v=tilt[1],
            centre=((left + right) / 2, side * piece.middle),
            width=right - left,
            length=piece.length,
            height=height,
            bores_at=tuple((h.u, h.v) for h in holes if piece.low <= side * h.v <= piece.high),
            bore=bore,
            chamfer=float(shop.printer.chamfer),
            material=shop.printer.plastic,
        )
        for number, piece in enumerate(found, 1)
    ]
