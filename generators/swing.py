"""The whole gate swung from closed to open: what comes near what, and can every bolt be reached.

Meshes come from the same solids that are exported, so what is checked is what is made. Frame:
the assembly of the whole gate. Units: mm, degrees.
"""

from collections.abc import Callable, Sequence
from itertools import combinations

from hangpost.generators.checks import Check
from hangpost.generators.clearance import Bodies, Clearance, Moving
from hangpost.generators.hardware.design import LeafDesign, Placed
from hangpost.generators.pivots.kinematics import swing
from hangpost.generators.survey.display import degrees_words
from hangpost.generators.survey.shop import Shop
from hangpost.generators.writers.mesh import Mesh
from hangpost.parts.bodies import Body
from hangpost.parts.part import Part

STEP = 1.0  # degrees, at most; the sweep refines between them
FACETS = 250.0  # mm3, what two curved seats seem to share because they are meshed
HOSTS = {"hanging post", "leaf", "latch post"}
BENT = " U-bolts"  # they go round their host; what else is bought goes through it
RUNNING = 2.0  # house: what moving things other than the actuator's body keep between them
BODY = "actuator body"
ACTUATOR = {"tube", "rod"}
HOUSE = "house"

Meshed = Callable[[Part | Body], Mesh]


def bodies_of(leaf: LeafDesign, meshed: Meshed) -> Bodies:
    """Everything of a leaf, and the room that tools need."""
    return Bodies([moving(leaf, placed, meshed) for placed in (*leaf.placed, *leaf.tools)])


def swung(leaf: LeafDesign, bodies: Bodies, step: float = STEP) -> tuple[Clearance, ...]:
    """Least distances over the swing for every pair that can meet."""
    angles = [float(a) for a in swing(leaf.problem.direction, leaf.problem.opening, step)]
    return bodies.sweep(angles, _pairs(leaf.placed))


def reached(leaf: LeafDesign, bodies: Bodies) -> Clearance | None:
    """The tightest place of a fastener's socket, at rest; its own head is left out."""
    solid = (" pin", "extension bolts")
    others = [p for p in leaf.placed if isinstance(p.item, Part) or p.name.endswith(solid)]
    pairs = [
        (tool.name, other.name)
        for tool in leaf.tools
        for other in others
        if tool.rides == other.rides and not _is_own(tool, other)
    ]
    return bodies.tightest(0.0, pairs)


def _is_own(tool: Placed, other: Placed) -> bool:
    """Whether the socket stands on one of these very bolts."""
    return other.name == "extension bolts" and tool.name.startswith("socket on extension ")


def seated(leaf: LeafDesign, bodies: Bodies) -> tuple[Clearance, ...]:
    """Whether what stands still side by side lies on one another and not in one another."""
    still = [
        p
        for p in leaf.placed
        if isinstance(p.item, Part) or p.name in HOSTS or p.name.endswith(BENT)
    ]
    pairs = [(a.name, b.name) for a, b in combinations(still, 2) if a.rides == b.rides]
    return bodies.sweep([0.0], pairs, touching=pairs)


def clearance_checks(
    leaf: LeafDesign,
    shop: Shop,
    swept: Sequence[Clearance],
    socket: Clearance | None,
    still: Sequence[Clearance],
) -> tuple[Check, ...]:
    """One check for each pair that moves, one for the sockets, one for what lies together."""
    body = float(shop.clearances.body)
    found = []
    for row in swept:
        limit = body if BODY in row.pair else _limit(row.pair)
        words = (
            f"{row.pair[0]} to {row.pair[1]}, nearest at {degrees_words(abs(row.at_angle))} open"
        )
        found.append(_check("clearance", row, words, limit, leaf.name))
    if socket is not None:
        words = f"room for a socket: {socket.pair[0]} to {socket.pair[1]}"
        room = float(shop.clearances.tool)
        found.append(_check("tool access", socket, words, room, leaf.name))
    if still:
        worst = max(still, key=lambda row: row.overlap)
        found.append(
            Check(
                id=f"parts lie together{_named(leaf.name)}",
                what=f"common volume of {worst.pair[0]} and {worst.pair[1]}, the most of any two",
                value=worst.overlap,
                limit=FACETS,
                unit="mm3",
                source=f"{HOUSE}: no more than the facets of curved seats",
            )
        )
    return tuple(found)


def _check(id: str, row: Clearance, words: str, limit: float, leaf: str) -> Check:
    where = f"{leaf} leaf: " if leaf else ""
    return Check(
        id=pair_id(row, leaf, id),
        what=f"{where}{words}{row.sharing}",
        value=row.distance,
        limit=limit,
        unit="mm",
        source=f"{HOUSE}: room for what moves",
        at_least=True,
    )


def pair_id(row: Clearance, leaf: str, id: str = "clearance") -> str:
    """Id of the check of a pair, of a leaf that is named where there are two."""
    return f"{id}: {' / '.join(row.pair)}{_named(leaf)}"


def _named(leaf: str) -> str:
    """What tells the checks of two leaves apart."""
    return f" ({leaf} leaf)" if leaf else ""


def _limit(pair: tuple[str, str]) -> float:
    """An eye runs between its own ears with washers only; everything else keeps more."""
    eyes = {"actuator post eye", "actuator leaf eye"}
    return 0.0 if eyes & set(pair) else RUNNING


def _pairs(placed: Sequence[Placed]) -> list[tuple[str, str]]:
    """Every pair that moves against each other, joints and the sliding rod left out."""
    found = []
    for i, a in enumerate(placed):
        for b in placed[i + 1 :]:
            same = a.rides == b.rides or {a.rides, b.rides} == ACTUATOR
            if not same and not _is_joint(a, b):
                found.append((a.name, b.name))
    return found


def _is_joint(a: Placed, b: Placed) -> bool:
    joints = ({"post pin", "actuator post eye"}, {"leaf pin", "actuator leaf eye"})
    return {a.name, b.name} in joints


def moving(
    leaf: LeafDesign, placed: Placed, meshed: Meshed, angle: Callable[[float], float] = float
) -> Moving:
    """A placed thing's mesh and where it stands; `angle` is what a sweep's place means."""
    mesh = meshed(placed.for_hand(leaf.hand).item)
    return Moving(
        name=placed.name,
        vertices=mesh.vertices,
        faces=mesh.faces,
        pose=lambda place: leaf.standing(placed, angle(place)),
        chord=mesh.chord,
    )
