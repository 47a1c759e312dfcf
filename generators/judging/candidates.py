"""What may be tried at one end of the actuator, each with an estimate of its mass.

Units: mm, kg.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import pi

from hangpost.generators.hardware.kit import Kit
from hangpost.generators.hardware.picks import Picks, usual
from hangpost.generators.hardware.u_bolted import u_size
from hangpost.generators.judging.stock import Stock
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.fastening import FastenerKind
from hangpost.parts.part import MILD_STEEL, Part
from hangpost.parts.tables import shank

ROWS = (2, 3, 4, 5)  # of fasteners in each angle
SIDES = (1, 2)  # bolts on either side of the leaf's ears
# Web beside the leaf's ears in thicknesses: a higher one is stronger and bends the pin more.
NECKS = (4.0, 3.0, 2.5)
BETWEEN = (3.5, 3.25, 2.75, 2.25)  # tried where none of those does
HEADS = 4.0  # diameters of shank that head, washers and nut weigh; common practice


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One leaf with its pivots, to be fitted out."""

    site: Site
    shop: Shop
    hung: HungLeaf
    problem: Problem
    mount: Mount


def candidates(
    job: Job, end: str, stock: Stock, necks: Sequence[float] = NECKS
) -> Iterator[tuple[float, Picks]]:
    """Every combination of one end with an estimate of its mass."""
    start = usual(job.shop)
    if end == "post":
        held, counts = _post_fasteners(job, stock, start)
        for plate in stock.plates:
            for kind, size in held:
                for rows in counts:
                    picks = replace(
                        start, post_plate=plate, post_kind=kind, post_size=size, post_rows=rows
                    )
                    yield _post_estimate(job, picks), picks
        return
    for plate in stock.plates:
        for size in stock.leaf:
            for count, neck in product(SIDES, necks):
                picks = replace(
                    start, leaf_plate=plate, leaf_size=size, leaf_bolts=count, leaf_neck=neck
                )
                yield _leaf_estimate(job, picks), picks


def _post_fasteners(
    job: Job, stock: Stock, start: Picks
) -> tuple[list[tuple[FastenerKind, str]], tuple[int, ...]]:
    """What may hold the post's bracket, and in how many rows; a welded one takes none."""
    post = job.hung.post
    if post.fixing == "weld":
        return [("hex bolt", start.post_size)], (start.post_rows,)
    held = [each for each in stock.post if post.kind == "timber" or each[0] != "lag screw"]
    if post.fixing == "clamp":  # sizes that lead to the same U-bolt are one
        held = list({u_size(size, job.shop): (kind, size) for kind, size in held[::-1]}.values())
    return held, ROWS


def _post_estimate(job: Job, picks: Picks) -> float:
    t, d = float(picks.post_plate.thickness), shank(picks.post_size)
    width = float(job.hung.post.width)
    seat = 4 * t + 3 * d + 5 * d * (picks.post_rows - 1)
    steel = 2 * t * width * (seat + 0.6 * job.mount.reach)
    through = picks.post_kind != "lag screw"
    if job.hung.post.fixing == "weld":
        return 2 * t * width * 0.6 * job.mount.reach * MILD_STEEL.density
    if through:
        steel += 1.2 * t * 0.6 * width * seat
    length = float(job.hung.post.depth) + HEADS * d
    steel += 4 * picks.post_rows * pi / 4 * d**2 * length
    return steel * MILD_STEEL.density


def _leaf_estimate(job: Job, picks: Picks) -> float:
    t, d = float(picks.leaf_plate.thickness), shank(picks.leaf_size)
    tip = job.problem.brackets.ear_tip
    ears = 2 * t * 2.4 * tip * (job.mount.leaf_reach + 2 * tip)
    web = t * (picks.leaf_neck + 2) * t * 2 * (tip + 3 * t + 4 * d * picks.leaf_bolts)
    bolts = 2 * picks.leaf_bolts * pi / 4 * d**2 * (float(job.hung.leaf.thickness) + HEADS * d)
    return (ears + web + bolts) * MILD_STEEL.density


def mass_of(kit: Kit) -> float:
    """Parts and fasteners of a kit in kg."""
    parts = sum(placed.item.mass for placed in kit.placed if isinstance(placed.item, Part))
    shanks = sum(
        len(fixing.holes)
        * pi
        / 4
        * fixing.fastener.diameter**2
        * (fixing.fastener.length + HEADS * fixing.fastener.diameter)
        for fixing in kit.fixings
    )
    return parts + shanks * MILD_STEEL.density
