"""The cautions that go with every pack: one list, read by sheets, README and report alike.

Each has an id, so that a test can find it wherever it must stand. They name standards, they never
claim them: protection of people is decided by the local code and a competent person.
"""

from dataclasses import dataclass
from typing import Final, Literal

Where = Literal["always", "installing", "drilling", "timber", "zinc", "printed"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """One caution: its id, what to say, and on whose sheet it must stand."""

    id: str
    text: str
    where: Where = "always"


CAUTIONS: Final = (
    Caution(
        id="SAF-01",
        text="A powered gate is a machine. This pack is hardware; hardware alone makes no safe "
        "machine and protects nobody.",
    ),
    Caution(
        id="SAF-02",
        text="The local code and a competent person decide how people are protected: force "
        "limiting, presence sensing, guards (EN 12453 and EN 12604, UL 325 and ASTM F2200 are "
        "named here, not claimed). Nothing on these sheets is a statement of compliance.",
    ),
    Caution(
        id="SAF-03",
        text="A moving leaf crushes at its closing edge, at the hinge gap, under the leaf and "
        "against whatever stands behind the open leaf; bracket and actuator pinch and hook.",
    ),
    Caution(
        id="SAF-04",
        text="The leaf must not fall if one hinge fails: count the hinges, or fit a tether.",
    ),
    Caution(
        id="SAF-05",
        text="Electrical work, earthing and cable routes: by a competent person, to the local "
        "code. Isolate the power and pin the leaf before any work on gate or actuator.",
    ),
    Caution(
        id="SAF-06",
        text="Fit solid stops for both ends of the swing; the actuator is no stop. Everybody who "
        "uses the gate knows the manual release. Reconsider the latch that is there.",
    ),
    Caution(
        id="SAF-07",
        text="No children play at the gate and nobody walks through it: people get a separate "
        "path. Signs on both sides.",
    ),
    Caution(
        id="SAF-08",
        text="The leaf must hang level, swing free by hand and stay where it is left before a "
        "motor is fitted. A motor does not cure a bad gate.",
        where="installing",
    ),
    Caution(
        id="SAF-09",
        text="Check the post and its footing; this tool reckons neither soil, footing nor rot.",
        where="installing",
    ),
    Caution(
        id="SAF-10",
        text="Measure the check bars before a hole is drilled; the printed numbers overrule the "
        "paper. Have buried and hidden services located before drilling or digging.",
        where="drilling",
    ),
    Caution(
        id="SAF-11",
        text="Dust of treated timber is harmful: mask, no burning of scraps, brush preservative "
        "into every drilled hole.",
        where="timber",
    ),
    Caution(
        id="SAF-12",
        text="Zinc gives off harmful fumes when it is welded: grind it off, ventilate, protect "
        "the breath.",
        where="zinc",
    ),
    Caution(
        id="SAF-13",
        text="Printed blocks only fill a gap in compression; they creep and soften in the sun. "
        "Steel sleeves carry the clamping force.",
        where="printed",
    ),
    Caution(
        id="SAF-14",
        text="Re-check tightness, gaps and stops after 1 week, after 1 month and then every year.",
        where="installing",
    ),
)


def cautions(*where: Where) -> tuple[Caution, ...]:
    """The cautions that always stand, and those for the given kinds of work; all when none."""
    wanted = {"always", *where} if where else {c.where for c in CAUTIONS}
    return tuple(c for c in CAUTIONS if c.where in wanted)
