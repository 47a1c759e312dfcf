"""How far the real gate may be off the drawn one: tape, template, drill, brake and fitter.

Each source of error is a plus-minus: 95 of 100 lie inside it, evenly to both sides, so its
standard deviation is the plus-minus over 1.96 (JCGM 100:2008, 4.3.4, normal distribution). A
figure of the survey that carries its own plus-minus keeps it; the others get the default of the
instrument they are measured with. Lengths in mm, angles in degrees.

Where the defaults come from:
  tape      0.3 mm + 0.2 mm for each begun metre: class II of OIML R 35-1:2007, which is also the
            European class II; and 0.8 mm of reading, half of 1/16 in (house)
  sighted   a tape to the middle of a pin, judged by eye: 1.5 mm on top for each middle (house)
  girth     a tape around a post: 1.5 mm on the circumference, for its lie (house)
  pipe name 1 % of the outside diameter: permissible variation of ASTM A53 for NPS 2 and larger
            (memory)
  label     the stroke as printed: 2 mm (house)
  bent part ISO 2768-1:1989, Table 1, class c, by size (memory)
  the rest  house, said at each
"""

from dataclasses import dataclass
from math import ceil, hypot, pi
from typing import Final, Literal

from hangpost.generators.pivots.problem import Problem
from hangpost.generators.survey.site import HungLeaf
from hangpost.generators.survey.units import Measure

Kind = Literal["survey", "drilling", "fabrication", "fitting"]

COVERAGE: Final = 1.96  # standard deviations in a plus-minus
READING: Final = 0.8
SIGHTING: Final = 1.5
GIRTH: Final = 1.5
LABEL: Final = 2.0
PIPE: Final = 0.01

TAPE_WORDS: Final = "tape, class II of OIML R 35-1, and its reading"
SIGHTED_WORDS: Final = "tape to the middle of a pin, by eye"
BENT_WORDS: Final = "ISO 2768-1 class c"

# What the keys of the site file are called at the gate.
SAID: Final = {
    "hinge.to_leaf_face": "hinge axis to the post's face towards the leaf",
    "hinge.to_actuator_face": "hinge axis to the post's face on the actuator side",
    "leaf.thickness": "thickness of the leaf",
    "leaf.axis_offset": "middle of the leaf to the hinge axis",
    "actuator.retracted": "actuator from pin to pin, drawn in",
    "actuator.stroke": "stroke of the actuator",
    "fixed.leaf_pivot": "leaf pivot along the leaf",
    "post.circumference": "girth of the post",
    "post.measured": "post across",
    "post.size": "outside diameter of the post",
}

# Up to this size, plus-minus: ISO 2768-1:1989, Table 1, class c (memory).
COARSE: Final = ((6.0, 0.3), (30.0, 0.5), (120.0, 0.8), (400.0, 1.2), (1000.0, 2.0), (2000.0, 3.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """One thing that may be off, by how much, and who says so."""

    name: str  # the key in the site file, or words for what is no figure of the survey
    kind: Kind
    plus_minus: float
    basis: str
    unit: Literal["mm", "degrees"] = "mm"
    value: float | None = None  # what was measured
    given: bool = False  # the site file brought the plus-minus itself

    @property
    def words(self) -> str:
        """What it is called by whoever measures; a key of the site file stands behind it."""
        said = SAID.get(self.name)
        return f"{said} ({self.name})" if said else self.name

    @property
    def sd(self) -> float:
        """Its standard deviation."""
        return self.plus_minus / COVERAGE


def tape(length: float) -> float:
    """Plus-minus of a length by tape."""
    return 0.3 + 0.2 * max(1, ceil(abs(length) / 1000.0)) + READING


def bent(size: float) -> float:
    """Plus-minus of a dimension of a cut and bent part."""
    return next((allowed for most, allowed in COARSE if abs(size) <= most), 4.0)


def sources(hung: HungLeaf, problem: Problem, reach: float) -> tuple[Source, ...]:
    """Everything that may be off at one leaf, for a post bracket of about this reach."""
    return (*_survey(hung, problem), *_work(problem, reach))


def _survey(hung: HungLeaf, problem: Problem) -> tuple[Source, ...]:
    hinge, leaf, actuator = hung.hinge, hung.leaf, hung.actuator
    sighted = tape(hinge.to_leaf_face) + SIGHTING
    two_pins = hypot(tape(actuator.retracted), SIGHTING, SIGHTING)
    found = [
        _measured("hinge.to_leaf_face", hinge.to_leaf_face, sighted, SIGHTED_WORDS),
        _measured("hinge.to_actuator_face", hinge.to_actuator_face, sighted, SIGHTED_WORDS),
        _measured("leaf.thickness", leaf.thickness, tape(leaf.thickness), TAPE_WORDS),
        _measured("leaf.axis_offset", leaf.axis_offset, sighted, SIGHTED_WORDS),
        _measured("actuator.retracted", actuator.retracted, two_pins, SIGHTED_WORDS),
        _measured("actuator.stroke", actuator.stroke, LABEL, "the label; house"),
        *_post(hung),
        Source(
            name="post face square to the leaf",
            kind="survey",
            plus_minus=0.5,
            unit="degrees",
            basis="not asked for; a post set by eye, house",
        ),
    ]
    if problem.fixed.gx is not None:
        along = tape(problem.fixed.gx) + SIGHTING
        found.append(
            _measured("fixed.leaf_pivot", hung.fixed.leaf_pivot[0] or 0.0, along, SIGHTED_WORDS)
        )
    return tuple(found)


def _post(hung: HungLeaf) -> tuple[Source, ...]:
    """The outside diameter of a round post; the size of a square one moves no pin."""
    post = hung.post
    if not post.is_round:
        return ()
    if post.circumference is not None:
        around = _measured(
            "post.circumference", post.circumference, GIRTH, "tape around the post; house"
        )
        return (around,)
    if post.measured:
        across = _measured("post.measured", post.measured[0], tape(post.width), TAPE_WORDS)
        return (across,)
    by_name = Source(
        name="post.size",
        kind="survey",
        plus_minus=PIPE * post.width,
        value=float(post.width),
        basis="pipe by its name: 1 % of the diameter, ASTM A53 (memory)",
    )
    return (by_name,)


def _measured(name: str, value: float, default: float, basis: str) -> Source:
    own = value.plus_minus if isinstance(value, Measure) else 0.0
    return Source(
        name=name,
        kind="survey",
        plus_minus=own or default,
        basis="as the site file says" if own else basis,
        value=float(value),
        given=own > 0.0,
    )


def _work(problem: Problem, reach: float) -> tuple[Source, ...]:
    """Drilling, making and fitting; every figure the house's unless it says otherwise."""
    leaf_reach = problem.brackets.least_leaf_reach
    return (
        _by("template on the post's edge", "drilling", 1.0, "laid on by hand; house"),
        _by("holes in the post", "drilling", 1.5, "punch and drill wander; house"),
        _by("holes in the leaf", "drilling", 1.5, "punch and drill wander; house"),
        _by("template along the leaf", "drilling", tape(1000.0), TAPE_WORDS),
        _by("post bracket, across", "fabrication", bent(reach), BENT_WORDS),
        _by("post bracket, reach", "fabrication", bent(reach), BENT_WORDS),
        _by("seat on the post", "fabrication", 0.5, "uneven face, zinc; house"),
        _by("leaf bracket, reach", "fabrication", bent(leaf_reach), BENT_WORDS),
        _by("pins in their holes", "fabrication", 0.5, "play at both ends; house"),
        _by("spare when the leaf is tied", "fitting", 2.0, "rod run out by hand; house"),
        _by("leaf set open", "fitting", 0.5, "against a mark or a stop; house", "degrees"),
        _by("leaf set closed", "fitting", 0.2, "against its stop; house", "degrees"),
    )


def _by(
    name: str,
    kind: Kind,
    plus_minus: float,
    basis: str,
    unit: Literal["mm", "degrees"] = "mm",
) -> Source:
    return Source(name=name, kind=kind, plus_minus=plus_minus, basis=basis, unit=unit)


def diameter_error(source: Source) -> float:
    """How much the diameter is off for each mm that this source is off."""
    return 1.0 / pi if source.name == "post.circumference" else 1.0
