"""Post bracket welded straight onto a steel post: two ears, cut to the post, and a jig.

The ears' back edges are an arc of a round post, or straight for a square one; a printed block
holds both at their gap and their pin line on the post for tacking, and the sheet shows where
they stand. Plan frame of the right hand; seat: u = 0 over a round post's middle or on a square
one's leaf-side edge, pin height at v = 0. Units: mm.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from math import acos, atan, atan2, cos, degrees, hypot, sin, sqrt

from hangpost.generators.hardware.design import Drilling, Placed, Template
from hangpost.generators.hardware.ear_room import widest_root
from hangpost.generators.hardware.held import Held
from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.lean import plumb_enough
from hangpost.generators.hardware.leaning_round import (
    datum_words,
    leans,
    on_skin,
    slopes_of,
)
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import CORNER
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.strength.inch import INCH
from hangpost.generators.strength.welds import usual_leg
from hangpost.generators.survey.display import both
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.flat import ParameterError
from hangpost.parts.frame import Frame
from hangpost.parts.loop import Loop, Vertex, rectangle
from hangpost.parts.weld_ear import WeldEar
from hangpost.parts.weld_jig import WeldJig
from hangpost.parts.wrap import Wrap

ROOT_GAP = 1.6  # mm that a fillet's root may gape without a larger leg: AWS D1.1, memory
ROUND_SHARE = 0.44  # of a round post's diameter to either side that an ear is cut to; house
FIT = 0.5  # house: an ear to a round post, for the root of the weld
UNKNOWN_WALL = 3.0  # mm, house: when the survey does not say it
PIN_FIT = 0.3  # house: pin in the jig's bore, on the diameter


def bracket_welded(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, held: Held
) -> Kit:
    """Two ears on the post, their jig and the sheet that shows where they stand."""
    thickness = float(picks.post_plate.thickness)
    plumb_enough(
        hung,
        degrees(atan((ROOT_GAP - FIT) / thickness)),
        "the level ears would stand off it on one side by more than a weld's root may",
        other="take a thinner plate, or a bolted fixing",
    )
    ear = _ear(hung, shop, problem, mount, picks, held)
    levels = {"upper": held.gap / 2 + thickness, "lower": -held.gap / 2}
    jig, told = _jig(ear, held, shop)
    return Kit(
        placed=tuple(
            _standing(
                hung, mount, ear, place, top, partial(_ear, hung, shop, problem, mount, picks, held)
            )
            for place, top in levels.items()
        ),
        templates=(_sheet(hung, shop, ear, held, mount),),
        jigs=(jig,) if jig else (),
        reasons=(
            "The ears are welded straight onto the post. Grind off zinc and paint first, weld "
            "where the fumes blow away, and coat the bare steel again.",
            told,
        ),
    )


def _ear(
    hung: HungLeaf,
    shop: Shop,
    problem: Problem,
    mount: Mount,
    picks: Picks,
    held: Held,
    *,
    gone: tuple[float, float] = (0.0, 0.0),
) -> WeldEar:
    """The ear for a post whose middle has gone so far in u and w from where it is at pin height."""
    post, thickness = hung.post, float(picks.post_plate.thickness)
    here = replace(mount, post_face=mount.post_face + gone[1])
    datum = _datum(hung) - gone[0]
    return WeldEar(
        id="post-ear",
        plate_thickness=thickness,
        pin=held.hole,
        pin_u=datum - held.at[0],
        reach=held.at[1] - here.post_face,
        tip=held.tip,
        root=_root(hung, problem, here, held, datum),
        outside=float(post.width) if post.is_round else None,
        fit=FIT,
        joins=held.joins(datum, here.post_face),
        weld_leg=usual_leg(
            thickness,
            float(post.wall_thickness or UNKNOWN_WALL),
            step=INCH / 16 if shop.units == "in" else 1.0,
        ),
    )


def _datum(hung: HungLeaf) -> float:
    """X of the line u = 0 at pin height: a round post's middle, a square one's leaf-side edge."""
    post = hung.post
    return float(hung.post_centre[0]) if post.is_round else -float(hung.hinge.to_leaf_face)


def _standing(
    hung: HungLeaf, mount: Mount, ear: WeldEar, place: str, top: float, made: Callable[..., WeldEar]
) -> Placed:
    """An ear where its middle meets the post: of a leaning one each at a place of its own."""
    du, dw = (slope * (top - ear.plate_thickness / 2) for slope in slopes_of(hung))
    du = du if hung.post.is_round else 0.0
    own = ear
    if (du, dw) != (0.0, 0.0):
        own = replace(made(gone=(du, dw)), id=f"post-ear-{place}")
    seat = Frame((_datum(hung), mount.post_face, mount.height), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    frame = seat.after(Frame((du, top, dw), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)))
    return Placed(name=f"{place} post ear", item=own, frame=frame, rides="ground")


def _root(
    hung: HungLeaf, problem: Problem, mount: Mount, held: Held, datum: float
) -> tuple[float, float]:
    """Least and greatest u of the ears' back edge: as wide as post and swing allow."""
    post, width = hung.post, float(hung.post.width)
    if post.is_round:
        half = ROUND_SHARE * width
        widest = (datum - half, datum + half)
    else:  # the seam stays on the flat
        corner = CORNER * float(post.wall_thickness)
        widest = (datum - width + corner, datum - corner)

    def surface(x: float) -> float:
        return sqrt(width**2 / 4 - (x - datum) ** 2) - width / 2 if post.is_round else 0.0

    low, high = widest
    if held.is_pin:
        low, high = widest_root(problem, mount, widest, surface, held.tip)
    limits = (datum - widest[1], datum - widest[0])
    if post.is_round:
        sides = _sides(hung, mount, held, datum)
        limits = (max(limits[0], sides[0]), min(limits[1], sides[1]))
    return _wide_enough((datum - high, datum - low), limits, 2 * held.tip)


def _sides(hung: HungLeaf, mount: Mount, held: Held, datum: float) -> tuple[float, float]:
    """Least and greatest u at which a side of the ear can leave a round post.

    Beyond the lines that touch both the post and the ear's tip a side would run into the post.
    """
    radius = float(hung.post.width) / 2 + FIT
    du, dv = datum - held.at[0], held.at[1] - mount.post_face + float(hung.post.width) / 2
    turn, spread = atan2(dv, du), acos((radius - held.tip) / hypot(du, dv))
    least = radius * cos(turn + spread) if sin(turn + spread) > 0 else -radius
    most = radius * cos(turn - spread) if sin(turn - spread) > 0 else radius
    return least, most


def _wide_enough(
    root: tuple[float, float], limits: tuple[float, float], least: float
) -> tuple[float, float]:
    """The root inside its limits, as wide as the ear's tip; the sweep says if that clears."""
    left, right = max(root[0], limits[0]), min(root[1], limits[1])
    short = max(least - (right - left), 0.0)
    more = min(short, left - limits[0])
    return left - more, right + short - more


def _jig(ear: WeldEar, held: Held, shop: Shop) -> tuple[WeldJig | None, str]:
    """The block between the ears, if the printer can make it, and what to do with it."""
    without = (
        "No jig is made for these ears: hold them on their pin with a block of "
        f"{both(held.gap, shop.drawings.units)} between them, tack, check the pin with a square, "
        "then weld."
    )
    if held.second is not None:
        return None, without
    nose = min(0.2 * (ear.root[1] - ear.root[0]), 20.0)
    bore = held.hole - shop.zinc + PIN_FIT + float(shop.printer.hole_compensation)
    try:
        jig = replace(
            WeldJig.for_ear(ear, id="weld-jig", gap=held.gap, bore=bore, nose=nose),
            material=shop.printer.plastic,
        )
    except ParameterError:
        return None, without
    (left, low, _), (right, high, _) = jig.box
    across = sorted((right - left, high - low))
    if any(a > b for a, b in zip(across, sorted(shop.printer.bed[:2]), strict=True)):
        return None, without
    return jig, (
        "The printed jig stands between the ears with the pin through all three: tack the ears, "
        "take the jig out, then weld."
    )


def _sheet(hung: HungLeaf, shop: Shop, ear: WeldEar, held: Held, mount: Mount) -> Template:
    """Where the ears' outer faces stand on the post: no holes, two lines to weld along."""
    top = held.gap / 2 + ear.plate_thickness
    left, right = ear.root
    if ear.outside is not None:
        wrap = Wrap(outside=ear.outside, paper=0.0)
        left, right = wrap.entry(left), wrap.entry(right)
    thick = both(ear.plate_thickness, shop.drawings.units)
    words = f"ears {thick} thick inside the upper and the lower line"
    flat = ear.outside is None
    return Template(
        id="post-face" if flat else "post-wrap",
        part_id=ear.id,
        face=f"hanging post, {'face' if flat else 'wrapped round, front line'} towards the "
        f"actuator; {words}",
        datum="leaf-side edge of the post at pin height" if flat else datum_words(hung),
        holes=(),
        outline=_level_band(hung, ear, mount, top)
        if not flat and leans(hung)
        else rectangle(left, -top, right, top),
        edges=(0.0, float(hung.post.width)) if flat else (),
        edge_names=("post edge, leaf side", "post edge, far side") if flat else (),
        wrap_diameter=ear.outside,
        height=mount.height,
        facing="actuator side",
        depth=float(hung.post.depth),
        left_side="leaf side",
        right_side="away from the leaf",
    )


def _level_band(hung: HungLeaf, ear: WeldEar, mount: Mount, top: float) -> Loop:
    """Between two level planes on the skin of a round post that leans: its edges are curved."""
    (left, right), count = ear.root, 24
    us = [left + (right - left) * i / count for i in range(count + 1)]
    seat = Frame((_datum(hung), mount.post_face, mount.height), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    marks = [Drilling(name="", u=u, v=-top, diameter=1.0) for u in us]
    marks += [Drilling(name="", u=u, v=top, diameter=1.0) for u in reversed(us)]
    entries = on_skin(hung, seat, tuple(marks))[::2]
    return Loop(tuple(Vertex(mark.u, mark.v) for mark in entries))
