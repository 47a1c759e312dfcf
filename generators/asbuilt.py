"""The drill slipped: from where holes and pins really are to what can be done about it.

The parts in hand are tried first: with the post pivot where it is and the leaf bracket as made,
the leaf pivot is tied anew and every constraint looked at again. Then what puts things right,
each remedy solved and checked before it is told: slots and play, a shim behind the seat, another
leaf bracket, another post bracket. Nothing measured off, nothing changed.

Then the parts in hand are swung where the pins really are, and their strength is reckoned with
the new leverage: what fails there and did not as drawn is told with the parts it asks for.

Right-hand plan frame, mm, degrees. Holes are told as one looks at their template; the bracket is
taken to shift without turning, and to stand with its bolts in the middle of what room they have.
"""

from collections.abc import Callable, Iterable, Sequence
from math import isfinite

from hangpost.generators.checks import Check
from hangpost.generators.drilled import Stand, Vector, parts, stand, travel
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.judging.choose import choose
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.remedies import (
    AS_DRAWN,
    keeps,
    other_leaf_bracket,
    placed,
    put_back,
    shimmed,
    tied_anew,
    too_high,
)
from hangpost.generators.slipped import AsBuilt, Verdict
from hangpost.generators.standing import newly_failing, standing, to_blame
from hangpost.generators.survey.measured import Measured
from hangpost.generators.survey.mistakes import Mistake, SurveyError
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.generators.survey.units import Units

Judge = Callable[[LeafDesign], tuple[Check, ...]]


def drawn_leaf(
    site: Site, shop: Shop, measured: Measured, file: str, stock: Sequence[str] = ()
) -> tuple[HungLeaf, LeafDesign]:
    """The leaf that was measured, as the pack draws it; SurveyError when there is no such leaf.

    `stock` limits what it is made from, as when the pack was built.
    """
    if measured.leaf > len(site.leaves):
        raise SurveyError(
            [Mistake(file=file, key="leaf", value="2", wrong="is not there", allowed="1")]
        )
    solved = solve_gate(site, shop)
    chosen = choose(site, shop, solved, stock)
    design = design_gate(site, shop, solved, [each.picks for each in chosen])
    return site.leaves[measured.leaf - 1], design.leaves[measured.leaf - 1]


def as_built(
    measured: Measured,
    design: LeafDesign,
    shop: Shop,
    *,
    joint_tilt: float,
    file: str,
    units: Units = "mm",
    judge: Judge | None = None,
) -> AsBuilt:
    """What was measured, held against one leaf as drawn; SurveyError for holes it has not.

    `judge` looks at the swing and the strength of a design; without it only pivots are judged.
    """
    problem, drawn = design.problem, design.mount
    post = stand(measured.post_holes, design, "post", shop, file)
    leaf = stand(measured.leaf_holes, design, "leaf", shop, file)
    post_moved = _off(
        measured.post_pivot, measured.post_pivot_moved, post, drawn.post_pivot, design
    )
    leaf_moved = _off(
        measured.leaf_pivot, measured.leaf_pivot_moved, leaf, drawn.leaf_pivot, design
    )
    raised = post.up if post and post.fits else 0.0
    is_drilled = bool(measured.leaf_pivot or measured.leaf_pivot_moved or measured.leaf_holes)
    px, py = drawn.post_pivot[0] + post_moved[0], drawn.post_pivot[1] + post_moved[1]
    gx, gy = drawn.leaf_pivot[0] + leaf_moved[0], drawn.leaf_pivot[1] + leaf_moved[1]

    tied = placed(problem, drawn, (px, py), (problem.fixed.gx, gy))
    room = travel(design, "leaf")
    needed = tied.leaf_pivot[0] - gx
    stays = is_drilled and not abs(needed) <= room / 2.0
    now = placed(problem, drawn, (px, py), (gx, gy)) if stays else tied
    as_drawn = max(map(abs, (*post_moved, *leaf_moved, raised))) < AS_DRAWN
    again: tuple[Check, ...] = ()
    failing: tuple[Check, ...] = ()
    if judge is not None and not as_drawn and isfinite(now.leaf_pivot[0]):
        again = judge(standing(design, now, post_moved))
        if any(check.status == "fail" for check in again):
            failing = newly_failing(judge(design), again)

    def good(found: Mount, moved: Vector) -> bool:
        """Whether the parts in hand keep everything with the pins there."""
        if judge is None or not keeps(found):
            return keeps(found)
        return not newly_failing(judge(design), judge(standing(design, found, moved)))

    fits = (post is None or post.fits) and (leaf is None or leaf.fits)
    works = keeps(now) and fits and not failing
    remedies = [*tied_anew(needed, room, is_drilled, stays), *put_back(post, post_moved)]
    other_leaf = None
    if not keeps(now) or failing:
        remedies += shimmed(problem, drawn, post_moved, gy, good)
    if not keeps(now):
        other_leaf = other_leaf_bracket(problem, drawn, (px, py))
        remedies += [other_leaf] if other_leaf else []
    if not works:
        remedies.append(
            "Fill the holes in the post and drill again where the template says, or make the post"
            " bracket again with its pin moved back by what is off: then everything is as drawn."
        )
    remedies += too_high(raised, drawn, joint_tilt)
    return AsBuilt(
        post_moved=post_moved,
        leaf_moved=leaf_moved,
        post_raised=raised,
        drawn=drawn,
        units=units,
        now=now,
        works=works,
        remedies=tuple(remedies),
        verdicts=tuple(_verdicts(design, works, post, leaf, other_leaf is not None, failing)),
        again=again,
        failing=failing,
    )


def _off(
    at: Vector | None, moved: Vector | None, stand: Stand | None, drawn: Vector, design: LeafDesign
) -> Vector:
    """How far a pivot is off, along the leaf and off it, however it was measured."""
    if at is not None:
        return (float(at[0] - drawn[0]), float(at[1] - drawn[1]))
    if moved is not None:
        return (float(moved[0]), float(moved[1]))
    if stand is not None:
        # Right on the sheet is away from the latch on a right-hand gate, towards it on a left.
        return (-stand.right if design.hand == "right" else stand.right, 0.0)
    return (0.0, 0.0)


def _verdicts(
    design: LeafDesign,
    works: bool,
    post: Stand | None,
    leaf: Stand | None,
    leaf_again: bool,
    failing: Sequence[Check],
) -> Iterable[Verdict]:
    blamed = to_blame(design, failing)
    for part in dict.fromkeys(part.mark for part in parts(design)):
        is_leaf = part.startswith("leaf")
        on = leaf if is_leaf else post
        if on is not None and not on.fits:
            yield Verdict(part=part, serves=False, why="does not go on the holes as drilled")
        elif part in blamed:
            yield Verdict(part=part, serves=False, why=blamed[part])
        elif works:
            yield Verdict(part=part, serves=True, why="every limit is kept with it")
        elif is_leaf and leaf_again:
            again = part.startswith("leaf-bracket")
            why = "make it again with the other reach" if again else "goes with either bracket"
            yield Verdict(part=part, serves=not again, why=why)
        elif part.startswith("post-bracket") and not leaf_again and not blamed:
            yield Verdict(part=part, serves=False, why="make it again, or drill again for it")
        else:
            yield Verdict(part=part, serves=True, why="has no share in what is wrong")
