"""How the post bracket comes to the pin: straight in its ears, or by a pivot extension.

For push-to-open the pin lies past the post on the leaf's side. Either the ears grow that far (one
piece), or short ears over the post hold two plates by two bolts, so that they cannot turn, and
these carry the pin. Whichever is lighter is taken, unless the site says which. Plan frame of the
right hand. Units: mm.
"""

from collections.abc import Iterator

from hangpost.generators.hardware.ear_room import room_beside
from hangpost.generators.hardware.extension_plates import Extension
from hangpost.generators.hardware.held import Held, PostMaker, pin_itself
from hangpost.generators.hardware.kit import Kit, NoHardware, together
from hangpost.generators.hardware.picks import Picks, bolt_through
from hangpost.generators.hardware.pins import ear_tip, gap_for, pin, pin_list
from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import HungLeaf
from hangpost.parts.fastening import Fastener
from hangpost.parts.flat import ParameterError
from hangpost.parts.part import Part
from hangpost.parts.tables import shank

BOSS = 1.5  # bolt holes of metal from a bolt's axis to the edge, EN 1993-1-8 Table 3.3 asks 1.2
WIDEST = 100.0  # house: farther apart than this the two bolts gain nothing
ROUND = 0.08  # share of a round post's width at either side where no seat lies; house
STEP = 4.0  # mm, by which the bolts go further out until everything is clear


def carried(
    hung: HungLeaf,
    shop: Shop,
    problem: Problem,
    mount: Mount,
    picks: Picks,
    make: PostMaker,
    wanted: str,
) -> Kit:
    """Bracket, pin and, where it is lighter or wanted, a pivot extension between the two."""
    x = mount.post_pivot[0]
    if not (problem.direction == "push" and x > problem.post.outline.right):
        return _one_piece(hung, shop, problem, mount, picks, make)
    if wanted == "one-piece":
        kit = _one_piece(hung, shop, problem, mount, picks, make)
        return together((kit, Kit(reasons=(f"One long bracket carries the pin, {_told}.",))))
    try:
        separate = _separate(hung, shop, problem, mount, picks, make)
    except NoHardware:
        if wanted == "separate":
            raise
        return _one_piece(hung, shop, problem, mount, picks, make)
    if wanted == "separate":
        words = f"A pivot extension carries the pin past the post, {_told}."
        return together((separate, Kit(reasons=(words,))))
    try:
        whole = _one_piece(hung, shop, problem, mount, picks, make)
    except (NoHardware, ParameterError):
        words = "A pivot extension carries the pin past the post: one long bracket cannot be made."
        return together((separate, Kit(reasons=(words,))))
    light, heavy = _steel(whole), _steel(separate)
    if light <= heavy:
        words = "One long bracket carries the pin: it weighs"
        other = "a short bracket with a pivot extension"
        chosen = whole
    else:
        words = "A pivot extension carries the pin past the post: with its bracket it weighs"
        other = "one long bracket"
        chosen, light, heavy = separate, heavy, light
    reason = f"{words} {light:.2f} kg, and {other} {heavy:.2f} kg."
    return together((chosen, Kit(reasons=(reason,))))


_told = "as the site file asks (choice.extension)"


def _steel(kit: Kit) -> float:
    """Mass of what the fabricator makes, in kg."""
    return sum(p.item.mass for p in kit.placed if isinstance(p.item, Part))


def _one_piece(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, make: PostMaker
) -> Kit:
    """The pin straight in the bracket's ears."""
    plate = float(picks.post_plate.thickness)
    held = pin_itself(hung, shop, problem, mount, plate)
    bracket = make(hung, shop, problem, mount, picks, held)
    return together((bracket, _pin(hung, shop, mount, plate)))


def _pin(hung: HungLeaf, shop: Shop, mount: Mount, plate: float) -> Kit:
    eye = hung.actuator.post_eye
    gap, at = float(gap_for(eye, shop)), (*mount.post_pivot, mount.height)
    return Kit(
        placed=(pin("post pin", eye, gap, plate, at, "ground"),),
        bought=pin_list(eye, gap, plate, shop),
    )


def _separate(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, picks: Picks, make: PostMaker
) -> Kit:
    """The short bracket and its extension, its bolts as near to the post as everything clears."""
    plate = float(picks.post_plate.thickness)
    bolt = _bolt(hung, shop, plate)
    tip = ear_tip(problem, shop, hung.actuator.post_eye.pin, plate)
    wrong = "the bolts do not find room between the post and the pin"
    for held in _places(hung, shop, problem, mount, bolt, plate):
        assert held.second is not None
        discs = ((*held.at, held.tip), (*held.second, held.tip), (*mount.post_pivot, tip))
        if room_beside(problem, mount, discs) < problem.limits.body_clearance:
            wrong = "the plates come too near to the actuator's body"
            continue
        try:
            bracket = make(hung, shop, problem, mount, picks, held)
            ends = Extension(
                held=held,
                bolt=bolt,
                plate=plate,
                pin=shop.pin_hole(hung.actuator.post_eye.pin),
                tip=tip,
                eye_gap=float(gap_for(hung.actuator.post_eye, shop)),
                mount=mount,
            )
            kit = ends.kit(shop)
        except ParameterError as error:
            wrong = str(error).splitlines()[0]
            continue
        seat = max((f.seat.origin[1] for f in bracket.fixings), default=mount.post_face)
        if held.at[1] - seat < _least_reach(bolt, bracket, plate, shop):
            wrong = "the bolts come too near to the seat to be turned"
            continue
        return together((bracket, kit, _pin(hung, shop, mount, plate)))
    raise NoHardware(f"a pivot extension cannot be made here: {wrong} (choice.extension)")


def _bolt(hung: HungLeaf, shop: Shop, plate: float) -> Fastener:
    """The bolt through ears and plates: the first at hand as thick as the pin, or the thickest."""
    sizes, pin_size = shop.fasteners.bolts, float(hung.actuator.post_eye.pin)
    enough = [size for size in sizes if shank(size) >= pin_size - 0.8]
    size = enough[0] if enough else max(sizes, key=shank)
    grip = float(gap_for(hung.actuator.post_eye, shop)) + 4 * plate
    return bolt_through(size, grip, shop)


def _places(
    hung: HungLeaf, shop: Shop, problem: Problem, mount: Mount, bolt: Fastener, plate: float
) -> Iterator[Held]:
    """Two bolts side by side over the post, each time a little further out."""
    hole = shop.pin_hole(bolt.diameter)  # a close fit: what is loose here moves the pin
    boss = max(BOSS * hole, bolt.head.washer_diameter / 2 + 1.0)
    box = problem.post.outline
    inset = (ROUND * problem.post.width if hung.post.is_round else 0.0) + boss
    low, high = box.left + inset, box.right - inset
    apart = min(high - low, WIDEST)
    if apart < 2.4 * hole:
        return
    x, y = high, mount.post_face + 2 * plate + bolt.head.washer_diameter / 2
    gap = float(gap_for(hung.actuator.post_eye, shop)) + 2 * plate
    while y < mount.post_pivot[1]:
        yield Held(at=(x, y), hole=hole, gap=gap, tip=boss, second=(x - apart, y), stack=bolt.stack)
        y += STEP


def _least_reach(bolt: Fastener, bracket: Kit, plate: float, shop: Shop) -> float:
    """From the seat to the bolts, so that a socket passes the heads on the seat."""
    heads = max((f.fastener.stack for f in bracket.fixings), default=0.0)
    return plate + heads + float(shop.clearances.tool) + bolt.socket_radius
