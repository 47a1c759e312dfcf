"""The finished design of a gate: which parts, where they stand, what they move with.

Everything here is in the plan frame of the right hand (origin on the hinge axis at finished
ground, x along the closed leaf, y towards the actuator, z up; mm). The left hand is the mirror
image in x and is made only when something is written (`Placed.for_hand`).
"""

from dataclasses import dataclass, replace
from math import atan2, degrees
from typing import TYPE_CHECKING, Final, Literal

from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site
from hangpost.parts.bodies import Body
from hangpost.parts.frame import Frame, turned
from hangpost.parts.lock_receiver import LockReceiver
from hangpost.parts.loop import Loop
from hangpost.parts.part import Hand, Part

if TYPE_CHECKING:
    from hangpost.generators.hardware.fixing import Fixing

Rides = Literal["ground", "leaf", "tube", "rod"]
OF_THE_LOCK: Final = ("latch", "lock", "crossing", "receiver", "upright slot", "level slot")


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A part or a body where it stands with the gate closed, and what it moves with."""

    name: str  # unique in the assembly
    item: Part | Body
    frame: Frame
    rides: Rides

    @property
    def is_of_the_lock(self) -> bool:
        """Whether it is a piece of the lock's other half."""
        return any(word in self.name for word in OF_THE_LOCK)

    def for_hand(self, hand: Hand) -> "Placed":
        """The same for the hand asked for: mirrored in x for the left."""
        if hand == "right":
            return self
        return Placed(
            name=self.name,
            item=self.item.mirrored(),
            frame=self.frame.mirrored(),
            rides=self.rides,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Something to buy: what it is called in the trade, how many, grade and finish."""

    name: str
    quantity: int
    grade: str = ""
    finish: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling:
    """One hole to drill in a face: where, the final drill, the pilot (0: none), how deep."""

    name: str
    u: float
    v: float
    diameter: float
    pilot: float = 0.0
    depth: float = 0.0  # 0: right through
    slot_length: float = 0.0  # what the part over it allows, for the drawing of its outline
    slot_angle: float = 0.0
    last: bool = False  # drilled through the part over it, once that is set


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """A face that gets holes, as one looks at it: datum at (0, 0), u right, v up.

    `outline` is the seat of the part that will cover the face; `edges` are the u of the face's
    vertical edges (none on a round post). A wrapped face counts u as arc length on the outside
    diameter from the datum line. `through` says that an exit-face sheet is needed, `depth` away.
    """

    id: str
    part_id: str
    face: str  # in words: "hanging post, face towards the actuator"
    datum: str  # in words: what the mark at (0, 0) is
    holes: tuple[Drilling, ...]
    outline: Loop
    edges: tuple[float, ...] = ()
    edge_names: tuple[str, ...] = ()
    wrap_diameter: float | None = None
    height: float = 0.0  # of the datum above finished ground
    right_side: str = ""  # what lies to the right of the sheet: "hinge side", "post side"
    left_side: str = ""
    facing: str = ""  # "yard side" or "road side"
    through: bool = False
    depth: float = 0.0  # thickness of what is drilled
    tied: bool = False  # the part over it stands where the actuator says: the sheet of a leaf

    def mirrored(self) -> "Template":
        """The sheet for the other hand: u changes sign, words stay readable."""
        return replace(
            self,
            holes=tuple(
                replace(h, u=-h.u, slot_angle=-h.slot_angle if h.slot_angle else 0.0)
                for h in self.holes
            ),
            outline=self.outline.mirrored(across_x=True),
            edges=tuple(-u for u in self.edges),
            right_side=self.left_side,
            left_side=self.right_side,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LockDesign:
    """The lock's other half where it is: what it takes, and what to print of that."""

    receiver: LockReceiver
    behind: float  # plates and packing under the receiver
    throw: float  # of the lock's bolt
    gap: float  # latch edge to what it closes on
    anchor: "Fixing"  # what holds the crossing plate to its host
    setting: "Fixing"  # what holds the receiver on the crossing plate
    assumed: str  # where the latch post's middle was taken to stand; "" on a second leaf
    notes: tuple[str, ...]  # how it is pinned, what sag and gap it takes, how it is set anew

    @property
    def engagement(self) -> float:
        """How far the bolt stands in the receiver's plate and past it."""
        return self.receiver.engagement(throw=self.throw, gap=self.gap, behind=self.behind)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafDesign:
    """Everything for one leaf: its pivots, its hardware in place, its sheets and its list."""

    name: str  # "" for a single gate, "left" or "right" of a double one
    hand: Hand
    problem: Problem
    mount: Mount
    placed: tuple[Placed, ...]
    templates: tuple[Template, ...]
    bought: tuple[Bought, ...]
    fixings: "tuple[Fixing, ...]" = ()  # the fasteners of each seat, for the strength rules
    tools: tuple[Placed, ...] = ()  # the room that sockets need, not part of the assembly
    jigs: tuple[Part, ...] = ()  # made, used and taken away again; for the right hand
    reasons: tuple[str, ...] = ()  # why the tool chose what it chose, in sentences
    lock: LockDesign | None = None  # the receiver that stands on this leaf's side
    shift: float = 0.0  # x of this leaf's hinge axis in the assembly of the whole gate

    @property
    def made(self) -> tuple[Part, ...]:
        """Every part to make, jigs too, for this leaf's hand, as often as it is needed."""
        items = [placed.for_hand(self.hand).item for placed in self.placed]
        jigs = self.jigs if self.hand == "right" else tuple(j.mirrored() for j in self.jigs)
        return (*(item for item in items if isinstance(item, Part)), *jigs)

    def at(self, placed: Placed, angle: float) -> Frame:
        """Where a placed thing stands when the leaf is at `angle` degrees."""
        return self.pose(placed.rides, angle).after(placed.frame)

    def standing(self, placed: Placed, angle: float) -> Frame:
        """The same in the assembly of the whole gate, for this leaf's hand."""
        frame = self.at(placed, angle)
        frame = frame if self.hand == "right" else frame.mirrored()
        x, y, z = frame.origin
        return Frame((x + self.shift, y, z), frame.u, frame.v)

    def pose(self, rides: Rides, angle: float) -> Frame:
        """Where a thing that rides so has moved to when the leaf stands at `angle` degrees.

        Tube and rod are described with the pin at their origin and u along the actuator; the
        others with their closed place.
        """
        if rides == "ground":
            return Frame()
        leaf = turned(angle)
        if rides == "leaf":
            return leaf
        post, pin = (*self.mount.post_pivot, 0.0), leaf.point((*self.mount.leaf_pivot, 0.0))
        heading = degrees(atan2(pin[1] - post[1], pin[0] - post[0]))
        return turned(heading, post if rides == "tube" else pin)


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A gate of one or two leaves, ready to be checked and written."""

    site: Site
    shop: Shop
    leaves: tuple[LeafDesign, ...]

    def __post_init__(self) -> None:
        """Refuse two things of one name: files and checks would mix them up."""
        sheets = [sheet.id for leaf in self.leaves for sheet in leaf.templates]
        marks: dict[str, Part] = {}
        twice = [id for i, id in enumerate(sheets) if id in sheets[:i]]
        for leaf in self.leaves:
            names = [placed.name for placed in leaf.placed]
            twice += [name for i, name in enumerate(names) if name in names[:i]]
            for part in leaf.made:
                other = marks.setdefault(part.mark, part)
                if other != part and (part.handed or other != part.mirrored()):
                    twice.append(part.mark)
        if twice:
            raise ValueError(f"names used for two different things: {', '.join(twice)}")

    @property
    def parts(self) -> tuple[tuple[Part, int], ...]:
        """Every different part for its hand, once, with how many of it are needed."""
        counted: dict[str, tuple[Part, int]] = {}
        for leaf in self.leaves:
            for part in leaf.made:
                counted[part.mark] = (part, counted.get(part.mark, (part, 0))[1] + 1)
        return tuple(counted.values())
