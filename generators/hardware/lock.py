"""The lock's other half on its host: the latch post of a single gate, or the second leaf.

Seat frame: the face that looks at the leaf, datum at the bolt's middle while the leaf is new.
Units: mm.
"""

from dataclasses import replace

from hangpost.generators.hardware.design import Placed
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.hardware.lock_host import Host
from hangpost.generators.hardware.lock_placing import Locked
from hangpost.generators.hardware.lock_plates import plates_on
from hangpost.generators.hardware.tube import post_tube, stile_tube
from hangpost.generators.survey.around import Lock
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.bodies import Bar, Block, Body
from hangpost.parts.frame import Frame

UP = (0.0, 0.0, 1.0)


def on_latch_post(site: Site, shop: Shop, hung: HungLeaf) -> Locked | None:
    """Receiver on the latch post of a single gate, where the post was measured to stand."""
    lock = site.lock
    if lock is None or lock.post is None or lock.gap is None:
        return None
    post, bolt_y = lock.post, _bolt_y(lock, hung)
    x = float(hung.leaf.width + lock.gap)
    host = Host(
        name="latch post",
        kind=post.kind,
        seat=Frame((x, bolt_y, float(lock.bolt_height)), (0.0, -1.0, 0.0), UP),
        depth=float(post.width),
        wide=float(post.depth),
        outside=float(post.width) if post.is_round else None,
        rides="ground",
        species=post.species,
        tube=None if post.kind == "timber" else post_tube(post),
        middle=_middle(hung, lock, float(post.depth)),
        measured=lock.post_proud is not None,
    )
    made = plates_on(host, shop, lock, float(lock.gap), _stopped(hung, lock))
    body = _post_body(hung, host, float(post.wall_thickness))
    return replace(made, kit=replace(made.kit, placed=(body, *made.kit.placed)))


def on_second_leaf(site: Site, shop: Shop) -> Locked | None:
    """Receiver on the stile of the second leaf, in that leaf's own right-hand frame."""
    lock = site.lock
    if lock is None or not site.is_double:
        return None
    first, second = site.leaves
    leaf = second.leaf
    round_ = leaf.frame == "round_tube"
    kinds = {"timber": "timber", "round_tube": "round_steel", "square_tube": "square_steel"}
    bolt_y = _bolt_y(lock, first)
    host = Host(
        name="second leaf",
        kind=kinds[leaf.frame],
        seat=Frame((float(leaf.width), bolt_y, float(lock.bolt_height)), (0.0, 1.0, 0.0), UP),
        depth=float(leaf.rail_height),
        wide=float(leaf.rail_depth),
        outside=float(leaf.rail_depth) if round_ else None,
        rides="leaf",
        species=leaf.species,
        tube=None if leaf.frame == "timber" else stile_tube(leaf),
        rails=tuple(float(rail - lock.bolt_height) for rail in leaf.rails),
        rail=float(leaf.rail_height) / 2,
        ends=(float(leaf.bottom - lock.bolt_height), float(leaf.top - lock.bolt_height)),
        middle=float(leaf.axis_offset) - bolt_y,
    )
    if abs(host.middle) > host.wide / 4:
        raise NoHardware(
            f"the lock's bolt stands {abs(host.middle):.0f} mm beside the middle of the second "
            "leaf's stile, which has to carry the receiver: lock.bolt_to_leaf_face nearer to its "
            "middle"
        )
    return plates_on(host, shop, lock, float(site.meeting.gap), -_stopped(first, lock))


def _bolt_y(lock: Lock, hung: HungLeaf) -> float:
    return float(hung.leaf.actuator_face - lock.bolt_to_leaf_face)


def _middle(hung: HungLeaf, lock: Lock, wide: float) -> float:
    """U of a latch post's middle: 0 at the bolt unless the post was measured."""
    if lock.post_proud is None:
        return 0.0
    middle_y = float(hung.leaf.actuator_face + lock.post_proud) - wide / 2
    return _bolt_y(lock, hung) - middle_y


def _stopped(hung: HungLeaf, lock: Lock) -> float:
    """U of the face of the leaf that a stop on a latch post is behind: the one that comes last."""
    to_face = float(lock.bolt_to_leaf_face)
    if hung.pulls:
        return float(hung.leaf.thickness) - to_face
    return -to_face


def _post_body(hung: HungLeaf, host: Host, wall: float) -> Placed:
    x, bolt_y, _ = host.seat.origin
    y = bolt_y - host.middle
    top = float(hung.post.height or hung.leaf.top)
    if host.outside is not None:
        r = host.outside / 2
        bar = Bar((x + r, y, 0.0), UP, r, top, r - wall if wall else 0.0)
        body = Body("latch post", (bar,))
    else:
        half = host.wide / 2
        block = Block((x, y - half, 0.0), (x + host.depth, y + half, top), wall)
        body = Body("latch post", (block,))
    return Placed(name="latch post", item=body, frame=Frame(), rides="ground")
