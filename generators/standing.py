"""The gate as it really stands: the parts in hand on pins that are not where they were drawn.

The brackets are rigid and shift with their pins, without turning; the actuator reaches from the
one pin to the other. Posts, leaf and lock stay where the survey has them. So the same judges that
looked at the drawn gate look at this one: the swing with its solids, strength with the loads of
the new leverage and the fasteners where they now are in their post. Heights stay as drawn.
Right-hand plan frame, mm.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from hangpost.generators.checks import Check
from hangpost.generators.drilled import Vector
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.judge import judge_leaf
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.swing import bodies_of, clearance_checks, swung
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part
from hangpost.parts.post_bracket import PostAngle

STAYS: Final = ("hanging post", "leaf")
RIDES: Final = {"ground": "post", "leaf": "leaf"}


def standing(design: LeafDesign, now: Mount, post_moved: Vector) -> LeafDesign:
    """The design with its brackets moved to the pins of `now`."""
    was = design.mount
    leaf_moved = (
        now.leaf_pivot[0] - was.leaf_pivot[0],
        now.leaf_pivot[1] - was.leaf_pivot[1],
    )
    off = {"post": post_moved, "leaf": leaf_moved}
    return replace(
        design,
        mount=now,
        placed=tuple(_moved(each, off) for each in design.placed),
        fixings=tuple(_refixed(each, off.get(each.name, (0.0, 0.0))) for each in design.fixings),
    )


def belongs(placed: Placed) -> str:
    """To which pin's bracket a thing belongs: "post", "leaf", or "" when it stays where it is."""
    if placed.name in STAYS or placed.is_of_the_lock:
        return ""
    return RIDES.get(placed.rides, "")


def _moved(placed: Placed, off: dict[str, Vector]) -> Placed:
    along, out = off.get(belongs(placed), (0.0, 0.0))
    if isinstance(placed.item, PostAngle):  # judged by where it sits on its post: u = -x
        return replace(placed, item=_slid(placed.item, -along), frame=_shifted(placed, 0.0, out))
    return replace(placed, frame=_shifted(placed, along, out))


def _shifted(placed: Placed, along: float, out: float) -> Frame:
    return _to(placed.frame, along, out)


def _to(frame: Frame, along: float, out: float) -> Frame:
    x, y, z = frame.origin
    return Frame((x + along, y + out, z), frame.u, frame.v)


def _slid(angle: PostAngle, by: float) -> PostAngle:
    """The same angle further to the right on its post."""
    return replace(
        angle,
        pin_u=angle.pin_u + by,
        root=(angle.root[0] + by, angle.root[1] + by),
        seat=(angle.seat[0] + by, angle.seat[1] + by),
        columns=tuple(u + by for u in angle.columns),
        joins=tuple(replace(hole, u=hole.u + by) for hole in angle.joins),
    )


def _refixed(fixing: Fixing, off: Vector) -> Fixing:
    along, out = off
    if fixing.name != "post":
        return replace(fixing, seat=_to(fixing.seat, along, out))
    holes = [(mark, replace(hole, u=hole.u - along)) for mark, hole in fixing.holes]
    return replace(fixing, holes=holes, seat=_to(fixing.seat, 0.0, out))


def rejudged(
    site: Site, shop: Shop, hung: HungLeaf, leaf: LeafDesign, shelf: Shelf
) -> tuple[Check, ...]:
    """What hangs on where the pins are: the swing with its solids, and every check of strength."""
    swept = clearance_checks(leaf, shop, swung(leaf, bodies_of(leaf, shelf.mesh)), None, ())
    return (*swept, *judge_leaf(site, shop, hung, leaf))


def newly_failing(before: Sequence[Check], after: Sequence[Check]) -> tuple[Check, ...]:
    """The checks that fail now and did not fail as drawn, the worst first."""
    failed = {check.id for check in before if check.status == "fail"}
    new = [check for check in after if check.status == "fail" and check.id not in failed]
    return tuple(sorted(new, key=lambda check: -check.utilisation))


def to_blame(design: LeafDesign, failing: Sequence[Check]) -> dict[str, str]:
    """The parts in hand that a failing check asks to be made again, and why."""
    blamed: dict[str, str] = {}
    for check in failing:
        for placed in design.placed:
            if not isinstance(placed.item, Part) or not belongs(placed):
                continue
            if check.id.startswith("clearance: "):
                names = check.id.removeprefix("clearance: ").split(" / ")
                others = [name for name in names if name != placed.name]
                if placed.name in names:
                    blamed.setdefault(placed.item.mark, f"comes too near the {others[0]}")
            elif f" {belongs(placed)} bracket " in check.id and "bracket" in placed.item.id:
                blamed.setdefault(placed.item.mark, "does not hold as it now stands")
    return blamed
