"""Does what was made for a gate fit what is there: pins in line, seats on their tubes, bolts in.

Pure arithmetic on the placed parts, no solids. Frame: the plan frame of the right hand.
Units: mm.
"""

from collections.abc import Iterator
from math import hypot, inf

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.survey.display import both
from hangpost.generators.survey.post import SMALLEST_ROUND
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.swing import HOSTS
from hangpost.parts.bodies import Bar, Body
from hangpost.parts.frame import Vector, cross
from hangpost.parts.lock_receiver import LEAD
from hangpost.parts.part import Part
from hangpost.parts.pivot_extension import PivotExtension
from hangpost.parts.saddle import SaddleBlock
from hangpost.parts.weld_ear import WeldEar

IN_LINE = 0.01  # bores of one pin off its axis
SEAT_GAP = 0.5  # house: between a seat and the tube it is cut for, its own fit taken off
OFF_TUBE = 2.0  # house: a seat farther off a tube than this does not lie on it
ALONG = 0.002  # house: a tenth of a degree between a hollow and its tube
BOLTS = 2  # of an extension, so that it cannot turn
HOUSE = "house"
PINS = ("post", "leaf")

Line = tuple[Vector, Vector]  # a point and a unit direction


def fit_checks(site: Site, hung: HungLeaf, leaf: LeafDesign) -> tuple[Check, ...]:
    """Every check of fit of one leaf."""
    return (
        *_pins(leaf),
        *_seats(hung, leaf),
        *_extension(leaf),
        *_hands(leaf),
        *_lock(leaf),
        *_small_post(site, hung, leaf),
    )


def _check(
    leaf: LeafDesign,
    name: str,
    what: str,
    *,
    value: float,
    limit: float,
    unit: str = "mm",
    at_least: bool = False,
    warning: bool = False,
    source: str = HOUSE,
) -> Check:
    where = f" ({leaf.name} leaf)" if leaf.name else ""
    return Check(
        id=f"fit: {name}{where}",
        what=f"{leaf.name} leaf: {what}" if leaf.name else what,
        value=value,
        limit=limit,
        unit=unit,
        source=source,
        at_least=at_least,
        warning=warning,
    )


# -- pins ----------------------------------------------------------------------------------------


def pin_lines(leaf: LeafDesign, end: str) -> list[tuple[str, Line]]:
    """Axis of every bore that the pin at this end goes through, by the part's name."""
    found = []
    extended = any(isinstance(p.item, PivotExtension) for p in leaf.placed)
    for placed in leaf.placed:
        if not isinstance(placed.item, Part) or placed.rides != _rides(end):
            continue
        if end == "post" and extended and not isinstance(placed.item, PivotExtension):
            continue  # the bracket's own pin hole takes the extension's first bolt
        for bore in placed.item.bores:
            if bore.hole.use == "pin":
                axis = placed.frame.direction(bore.axis)
                found.append((placed.name, (placed.frame.point(bore.origin), axis)))
    return found


def _rides(end: str) -> str:
    return "ground" if end == "post" else "leaf"


def _pins(leaf: LeafDesign) -> Iterator[Check]:
    for end in PINS:
        x, y = leaf.mount.post_pivot if end == "post" else leaf.mount.leaf_pivot
        bores = pin_lines(leaf, end)
        off = [_off(line, (x, y, leaf.mount.height)) for _, line in bores]
        lean = [hypot(line[1][0], line[1][1]) for _, line in bores]
        worst = max(off, default=inf) if len(bores) == 2 and max(lean) < 1e-6 else inf
        yield _check(
            leaf,
            f"{end} pin in line",
            f"bores of the {end} pin off its axis, two of them in line",
            value=worst,
            limit=IN_LINE,
        )


def _off(line: Line, point: Vector) -> float:
    """Distance of a point from a line."""
    away = cross(line[1], _less(point, line[0]))
    return hypot(*away)


def _less(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


# -- seats on round tubes ------------------------------------------------------------------------


def _seats(hung: HungLeaf, leaf: LeafDesign) -> Iterator[Check]:
    seen = set()
    for placed in leaf.placed:
        item = placed.item
        if isinstance(item, SaddleBlock):
            outside = _tube_under(placed, item, leaf)
            gap = item.gap_on(outside) if outside else inf
        elif isinstance(item, WeldEar) and item.outside is not None:
            outside = float(hung.post.width)
            gap = item.gap_on(outside) - item.fit
        else:
            continue
        if (item, outside) in seen:
            continue
        seen.add((item, outside))
        words = f"a tube of {outside:.1f} mm" if outside else "no tube at all"
        yield _check(
            leaf,
            f"{placed.name} on its tube",
            f"gap between {placed.name}, cut for {_cut_for(item):.1f} mm, and {words}",
            value=gap,
            limit=SEAT_GAP,
        )


def _cut_for(item: SaddleBlock | WeldEar) -> float:
    return float(item.outside or 0.0)


def _tube_under(placed: Placed, saddle: SaddleBlock, leaf: LeafDesign) -> float | None:
    """Outside diameter of the tube that a saddle lies on; None when it lies on none."""
    found: list[tuple[float, float]] = []
    along = placed.frame.direction(saddle.along)
    for host in leaf.placed:
        if host.name not in HOSTS or host.rides != placed.rides or not isinstance(host.item, Body):
            continue
        for shape in host.item.shapes:
            if not isinstance(shape, Bar):
                continue
            start, axis = host.frame.point(shape.start), host.frame.direction(shape.axis)
            if hypot(*cross(axis, along)) > ALONG:
                continue
            off = abs(_off((start, axis), placed.frame.origin) - shape.radius)
            found.append((off, 2 * shape.radius))
    off, outside = min(found, default=(inf, 0.0))
    return outside if off <= OFF_TUBE else None


# -- pivot extension -----------------------------------------------------------------------------


def _extension(leaf: LeafDesign) -> Iterator[Check]:
    plates = [p for p in leaf.placed if isinstance(p.item, PivotExtension)]
    if not plates:
        return
    bars = [
        (p.frame.point(s.start), p.frame.direction(s.axis), s.radius)
        for p in leaf.placed
        if isinstance(p.item, Body) and p.name not in HOSTS and p.rides == "ground"
        for s in p.item.shapes
        if isinstance(s, Bar)
    ]
    ears = [
        _middle(p, bore.origin)
        for p in leaf.placed
        if isinstance(p.item, Part) and p.rides == "ground" and p not in plates
        for bore in p.item.bores
        if bore.hole.use in {"pin", "join"}
    ]
    bolted = []
    for plate in plates:
        assert isinstance(plate.item, PivotExtension)
        count = 0
        for hole in plate.item.holes[:2]:
            x, y, _ = plate.frame.point((hole.u, hole.v, 0.0))
            # a shank fills its hole; what is much thinner or is a tube about it is none
            shank = any(
                hypot(a[0] - x, a[1] - y) < 0.1
                and abs(axis[2]) > 0.999
                and 0.8 * hole.diameter <= 2 * r <= hole.diameter
                for a, axis, r in bars
            )
            through = sum(hypot(ex - x, ey - y) < IN_LINE for ex, ey in ears)
            count += shank and through >= len(plates)
        bolted.append(count)
    yield _check(
        leaf,
        "pivot extension bolted",
        "bolts through bracket and each plate of the pivot extension, so that it cannot turn",
        value=float(min(bolted)) if len(plates) == 2 else 0.0,
        limit=float(BOLTS),
        unit="",
        at_least=True,
    )
    part = plates[0].item
    assert isinstance(part, PivotExtension)
    yield _check(
        leaf,
        "pivot extension slip",
        "what the pin moves if the extension slips in its bolt holes; the bolts clamp it, drill "
        "and pin it once it is set",
        value=_slip(part, bars, plates[0]),
        limit=leaf.problem.limits.margin,
        warning=True,
    )


def _middle(placed: Placed, at: Vector) -> tuple[float, float]:
    x, y, _ = placed.frame.point(at)
    return x, y


def _slip(part: PivotExtension, bars: list[tuple[Vector, Vector, float]], plate: Placed) -> float:
    x, y, _ = plate.frame.origin
    fitting = [
        2 * r for a, _, r in bars if hypot(a[0] - x, a[1] - y) < 0.1 and 2 * r <= part.first_hole
    ]
    bolt = max(fitting, default=0.0)
    return part.play(bolt, bolt) if bolt else inf


# -- the rest ------------------------------------------------------------------------------------


def _hands(leaf: LeafDesign) -> Iterator[Check]:
    """Everything is designed for the right hand and mirrored as a whole."""
    made = ((p.name, p.for_hand(leaf.hand).item) for p in leaf.placed)
    wrong = [
        name
        for name, item in made
        if isinstance(item, Part) and item.handed and item.hand != leaf.hand
    ]
    yield _check(
        leaf,
        "hand of the parts",
        f"parts made for the other hand{': ' + ', '.join(wrong) if wrong else ''}",
        value=float(len(wrong)),
        limit=0.0,
        unit="",
    )


def _lock(leaf: LeafDesign) -> Iterator[Check]:
    if leaf.lock is None:
        return
    plate = leaf.lock.receiver.plate_thickness
    yield _check(
        leaf,
        "lock bolt through its receiver",
        "how far the lock's bolt stands into the receiver's plate and past it",
        value=leaf.lock.engagement,
        limit=plate + LEAD,
        at_least=True,
    )


def _small_post(site: Site, hung: HungLeaf, leaf: LeafDesign) -> Iterator[Check]:
    if not hung.post.is_small:
        return
    yield _check(
        leaf,
        "post too small",
        f"a round post of {both(hung.post.width, site.units)} accepted on the word of the site "
        "file (post.accept_small); expect it to bend",
        value=float(hung.post.width),
        limit=float(SMALLEST_ROUND),
        at_least=True,
        warning=True,
        source="common practice, no source",
    )
