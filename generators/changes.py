"""What somebody might change about a gate whose checks fail.

Each kind of change is a row of them, small ones first, that suits the checks that fail; which of
them do, `would_do` finds out. How far each goes is the house's. mm, N, degrees.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import floor
from typing import Any

from hangpost.generators.checks import Check
from hangpost.generators.hardware.design import Design
from hangpost.generators.pivots.plan_shapes import Box
from hangpost.generators.pivots.problem import PostPlan, Problem
from hangpost.generators.pivots.rows import leaf_to_post
from hangpost.generators.survey.display import both, say, tape_mark
from hangpost.generators.survey.sections import sold
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.survey.units import FACTORS, INCH

SHARES = (0.99, 0.93, 0.85, 0.7)  # of the thrust that the worst check would just bear
ANGLES = (5.0, 10.0, 15.0, 20.0)  # degrees less
LEAST_ANGLE = 60.0
OUT = (6.0, 12.0, 20.0)  # mm by which the post pivot goes off its post, for thicker plate
BESIDE, BEFORE = 28.0, 50.0  # mm that U-bolts, saddles and seats stand out of a round post; house
WALLS = {
    "in": tuple(INCH * n / 16 for n in (2, 3, 4, 5, 6)),
    "mm": (3.0, 4.0, 5.0, 6.0, 8.0, 10.0),
}
PINS = {
    "in": tuple(INCH * n / 8 for n in (4, 5, 6, 8)),
    "mm": (12.0, 14.0, 16.0, 20.0, 25.0),
}
EYE = 1.25  # of the pin's diameter: the least radius of an eye round a thicker pin
TIMBERS = 3  # larger timbers tried


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One change in words, and what it is in the survey, by dotted keys in house units."""

    words: str
    values: Mapping[str, Any]


def changes(design: Design, failed: Sequence[Check]) -> Iterator[Iterator[Change]]:
    """The kinds of change that may help, the least bother first."""
    return (kind(design, failed) for kind in KINDS)


def _lighter_pivots(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    """No more leverage than the gate needs, so that the post bracket carries least."""
    if design.site.choice.prefer != "light" and any("bracket" in check.id for check in failed):
        yield Change(
            words="the pivots that load the post bracket least, with no more leverage than the "
            'gate needs, choice.prefer = "light"',
            values={"choice.prefer": "light"},
        )


def _u_bolts(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    """Two columns of legs about a round post, where bolts through its middle are one."""
    fits = all(
        hung.post.is_round and _passes_u_bolts(leaf.problem)
        for hung, leaf in zip(design.site.leaves, design.leaves, strict=True)
    )
    yield from _fixed_by(design, failed, "clamp", "U-bolts about the post", fits)


def _passes_u_bolts(problem: Problem) -> bool:
    """Whether the leaf opens past what stands beside a round post then: legs, seats, nuts."""
    box = problem.post.outline
    taken = Box(
        xmin=box.left - BESIDE,
        xmax=box.right + BESIDE,
        ymin=(box.bottom + box.top) / 2,
        ymax=box.top + BEFORE,
    )
    return leaf_to_post(replace(problem, post=PostPlan(outline=taken))).satisfied


def _weld(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    """Ears on the post itself have no seat to bend."""
    kinds = {hung.post.kind for hung in design.site.leaves}
    yield from _fixed_by(
        design, failed, "weld", "a bracket welded to the post", "timber" not in kinds
    )


def _fixed_by(
    design: Design, failed: Sequence[Check], fixing: str, words: str, fits: bool
) -> Iterator[Change]:
    now = {hung.post.fixing for hung in design.site.leaves}
    if fits and now.isdisjoint({fixing, "weld"}) and any(_of_bracket(each) for each in failed):
        yield Change(
            words=f'{words}, post.fixing = "{fixing}"',
            values=_of_all(design.site, "post", {"fixing": fixing}),
        )


def _of_bracket(check: Check) -> bool:
    """Whether it is one of the bracket on the post."""
    return "post bracket" in check.id or "post-bracket" in check.id


def _less_thrust(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    site = design.site
    unit = "lbf" if site.units == "in" else "N"
    grain = FACTORS["force"][unit] * 10.0
    thrust = max(float(hung.actuator.thrust) for hung in site.leaves)
    borne = thrust / max((check.utilisation for check in failed), default=1.0)
    for share in SHARES:
        least = floor(borne * share / grain) * grain
        if least > 0.0:
            yield Change(
                words="an actuator, or a force setting of this one, of at most "
                f"{say(least, 'force', site.units)}",
                values=_of_all(site, "actuator", {"thrust": least}),
            )


def _lock(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    """A lock lets the pins hold nothing in a storm, as if the actuator let go."""
    if any("survival wind" in check.what for check in failed):
        yield Change(
            words="a lock at the latch edge, which takes the survival wind off both pins",
            values=_of_all(design.site, "actuator", {"self_locking": False}),
        )


def _less_opening(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    site = design.site
    angle = max(float(hung.opening.angle) for hung in site.leaves)
    for less in ANGLES:
        if angle - less >= LEAST_ANGLE:
            yield Change(
                words=f"an opening of {angle - less:g} degrees",
                values=_of_all(site, "opening", {"angle": angle - less}),
            )


def _pivot_farther_out(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    """Off its post far enough for the bends of thicker plate."""
    site = design.site
    if site.is_double or not any("post bracket" in check.id for check in failed):
        return
    px, py = design.leaves[0].mount.post_pivot
    grain = tape_mark(site.units)
    for out in OUT:
        at = tuple(round(each / grain) * grain for each in (px, py + out))
        x, y = (say(each, "length", site.units) for each in at)
        yield Change(
            words=f"the post pivot held farther off its post, fixed.post_pivot = [{x}, {y}]",
            values={"fixed.post_pivot": at},
        )


def _stouter_leaf(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    site = design.site
    if not any("rail" in check.id for check in failed):
        return
    leaf = site.leaf[0]
    if leaf.frame != "timber":
        for wall in WALLS[site.units]:
            if wall > (leaf.rail_wall or 0.0) + 0.1:
                yield Change(
                    words=f"rails and stiles with a wall of {both(wall, site.units)}",
                    values=_of_leaves(site, {"wall": wall}),
                )
        return
    for timber in sold(site.units, leaf.rail_depth, leaf.rail_height)[:TIMBERS]:
        more = max(0.0, timber.thick - leaf.rail_depth)
        dressed = " dressed" if site.units == "in" else ""
        yield Change(
            words=f"rails and stiles of {timber.size}{dressed}, "
            f"{both(timber.thick, site.units)} thick",
            values=_of_leaves(site, {"member": timber.size, "thickness": leaf.thickness + more}),
        )


def _stouter_post(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    site = design.site
    if not any("post" in check.id for check in failed):
        return
    post = site.leaves[0].post
    if post.kind != "timber":
        for wall in WALLS[site.units]:
            if wall > post.wall_thickness + 0.1:
                yield Change(
                    words=f"a post with a wall of {both(wall, site.units)}",
                    values=_of_all(site, "post", {"wall": wall}),
                )
        return
    for timber in sold(site.units, max(post.width, post.depth), 0.0)[:TIMBERS]:
        dressed = "dressed " if site.units == "in" else ""
        yield Change(
            words=f"a {dressed}post of {timber.size}, {both(timber.thick, site.units)} square, "
            "with the faces to leaf and actuator where they are",
            values=_of_all(
                site, "post", {"size": timber.size, "measured": (), "surface": "dressed"}
            ),
        )


def _thicker_pins(design: Design, failed: Sequence[Check]) -> Iterator[Change]:
    site = design.site
    if not any(" pin " in check.id for check in failed):
        return
    eyes = {"post_eye": site.actuator.post_eye, "leaf_eye": site.actuator.at_leaf}
    for pin in PINS[site.units]:
        if pin > max(eye.pin for eye in eyes.values()) + 0.1:
            values = {
                f"{name}.{key}": value
                for name, eye in eyes.items()
                for key, value in (
                    *(("pin", pin), ("radius", max(eye.radius, EYE * pin))),
                    *(("thickness", eye.thickness), ("to_body", eye.to_body)),
                )
            }
            yield Change(
                words=f"an actuator with pins of {both(pin, site.units)}",
                values=_of_all(site, "actuator", values),
            )


KINDS: tuple[Callable[[Design, Sequence[Check]], Iterator[Change]], ...] = (
    _lighter_pivots,
    _u_bolts,
    _less_thrust,
    _weld,
    _lock,
    _less_opening,
    _pivot_farther_out,
    _stouter_leaf,
    _stouter_post,
    _thicker_pins,
)


def _of_all(site: Site, table: str, values: Mapping[str, Any]) -> dict[str, Any]:
    """These keys of a table, of the gate's and of a leaf's own."""
    own = [f"leaf.{hung.number}." for hung in site.leaves if _has_own(hung, table)]
    return {f"{where}{table}.{key}": value for where in ("", *own) for key, value in values.items()}


def _has_own(hung: HungLeaf, table: str) -> bool:
    return getattr(hung.leaf, table) is not None


def _of_leaves(site: Site, values: Mapping[str, Any]) -> dict[str, Any]:
    return {
        f"leaf.{hung.number}.{key}": value for hung in site.leaves for key, value in values.items()
    }
