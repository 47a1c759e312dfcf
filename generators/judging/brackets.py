"""The two kinds of folded bracket: a pair of angles, a channel; ears, seat, fasteners, host.

Frame: the seat frame. Units: N, mm, MPa.
"""

from collections.abc import Iterator
from dataclasses import replace

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.hardware.tube import post_tube
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.clamped import clamp_checks
from hangpost.generators.judging.demand import ON_STEEL, ON_WOOD, on_angle, on_channel
from hangpost.generators.judging.drawn import Clamped
from hangpost.generators.judging.ear_bars import bar_checks, ear_checks
from hangpost.generators.judging.ears import Ears
from hangpost.generators.judging.hosts import on_host
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.on_round_rail import seat_ends
from hangpost.generators.judging.printed import pressed_print
from hangpost.generators.judging.seat import angle_seat, channel_seat, spacing
from hangpost.generators.judging.unjudged import unheld
from hangpost.generators.survey.actuator import Eye
from hangpost.parts.channel import Channel
from hangpost.parts.frame import Frame
from hangpost.parts.part import Part
from hangpost.parts.post_bracket import PostAngle
from hangpost.parts.saddle import SaddleBlock


def seat_of(leaf: LeafDesign, at: str) -> Frame:
    """The frame of the seat that carries this pin."""
    for fixing in leaf.fixings:
        if fixing.name == at:
            return fixing.seat
    return Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def post_angle(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """Every check of a pair of angles on a post."""
    assert isinstance(part, PostAngle)
    if part.place == "lower":  # the upper one's mirror image: judged once, with the weight on it
        return
    eye = bench.hung.actuator.post_eye
    start = part.plate_thickness + part.bend_radius
    ears = _ears("post bracket", part, part.root, start, eye)
    pin = None
    if part.joins:  # the pin is farther out: the extension is judged for its own part
        pin = _pin_on(bench)
        ears = replace(ears, pin_u=pin[0], reach=pin[1])
        yield from bar_checks(bench, ears, loads)
    else:
        yield from ear_checks(bench, ears, loads)
    fixing = bench.fixing("post")
    if fixing is None:
        yield unheld(bench, part)
        return
    host = ON_WOOD if bench.hung.post.kind == "timber" else ON_STEEL
    demand = on_angle(part, loads, host, pin)
    yield from angle_seat(bench, part, ears, fixing.fastener, demand, loads)
    yield spacing(bench, "post bracket", fixing.fastener, demand)
    if fixing.under > 0:
        yield from pressed_print(bench, "post bracket", fixing, demand, loads)
    locks, saddle = bench.fixing("post locking"), bench.part("saddle")
    if locks is not None and isinstance(saddle, SaddleBlock):
        clamped = Clamped(
            of="post bracket",
            angle=part,
            legs=fixing,
            locks=locks,
            saddle=saddle,
            tube=post_tube(bench.hung.post),
            pin=pin or (part.pin_u, part.reach),
        )
        yield from clamp_checks(bench, clamped, loads)
        return
    yield from on_host(bench, "post bracket", fixing, demand, loads)


def _pin_on(bench: Bench) -> tuple[float, float]:
    """Where the post pin is in the frame of the post's seat: u and reach."""
    seat, mount = seat_of(bench.leaf, "post"), bench.leaf.mount
    off = (mount.post_pivot[0] - seat.origin[0], mount.post_pivot[1] - seat.origin[1])
    w = seat.w
    return (off[0] * seat.u[0] + off[1] * seat.u[1], off[0] * w[0] + off[1] * w[1])


def channel(bench: Bench, part: Part, loads: PinLoads) -> Iterator[Check]:
    """Every check of a channel, on the leaf or on a post."""
    assert isinstance(part, Channel)
    on_leaf = part.fixed_to == "leaf"
    of = "leaf bracket" if on_leaf else "post bracket"
    eye = bench.hung.actuator.at_leaf if on_leaf else bench.hung.actuator.post_eye
    root = (part.root_u - part.root, part.root_u + part.root)
    start = part.plate_thickness + part.bend_radius
    yield from ear_checks(bench, _ears(of, part, root, start, eye), loads)
    fixing = bench.fixing(part.fixed_to)
    if fixing is None:
        yield unheld(bench, part)
        return
    soft = on_leaf and bench.under_leaf_bracket in ("timber", "round_tube")  # wood, or print
    ends = seat_ends(bench) if on_leaf else None
    demand = on_channel(part, loads, ON_WOOD if soft else ON_STEEL, ends)
    yield from channel_seat(bench, of, part, fixing.fastener, demand, loads)
    yield spacing(bench, of, fixing.fastener, demand)
    yield from on_host(bench, of, fixing, demand, loads)


def _ears(
    of: str, part: PostAngle | Channel, root: tuple[float, float], start: float, eye: Eye
) -> Ears:
    return Ears(
        of=of,
        thickness=part.plate_thickness,
        hole=part.pin,
        tip=part.tip,
        gap=part.gap,
        reach=part.reach,
        start=start,
        pin_u=part.pin_u,
        root=root,
        eye=float(eye.thickness),
        pin=float(eye.pin),
    )
