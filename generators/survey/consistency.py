"""Measurements that check one another: which one is probably wrong.

The survey form asks for a few sizes twice, straight and by a diagonal or a sum. Typed back in,
all of them are adjusted together by least squares, and each is judged by how far it lies from
what the others say, in units of its own uncertainty: data snooping after Baarda (A testing
procedure for use in geodetic networks, 1968), with his usual limit of 3.29 (0.1 per cent).
Frame: the plan frame; mm. Names are those of the site file; the check sizes begin with `check`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import hypot, pi
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np

TAPE: Final = 1.5  # house: standard uncertainty of a tape reading at a gate, mm
LIMIT: Final = 3.29  # Baarda 1968: 99.9 per cent of good readings stay below
NEAR: Final = 0.97  # house: scores this near to the worst cannot be told apart from it

# What everything else follows from, in the order of the vector.
UNKNOWNS: Final = (
    "hinge.to_leaf_face",
    "hinge.to_actuator_face",
    "post.width",
    "post.depth",
    "leaf.width",
    "leaf.height",
    "leaf.bottom",
    "lock.gap",
    "actuator.retracted",
    "actuator.stroke",
    "post.diameter",
)
State = Mapping[str, float]
Rule = Callable[[State], float]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSize:
    """A size that is measured only to check others: what to measure, and what it must be."""

    name: str
    words: str
    uses: tuple[str, ...]
    rule: Rule


CHECKS: Final = (
    CheckSize(
        name="check.hinge_to_far_post_face",
        words="axis to the post face far from the leaf",
        uses=("hinge.to_leaf_face", "post.width"),
        rule=lambda s: s["hinge.to_leaf_face"] + s["post.width"],
    ),
    CheckSize(
        name="check.hinge_to_back_face",
        words="axis to the face far from the actuator",
        uses=("hinge.to_actuator_face", "post.depth"),
        rule=lambda s: s["post.depth"] - s["hinge.to_actuator_face"],
    ),
    CheckSize(
        name="check.hinge_to_near_corner",
        words="axis straight to the near corner",
        uses=("hinge.to_leaf_face", "hinge.to_actuator_face"),
        rule=lambda s: hypot(s["hinge.to_leaf_face"], s["hinge.to_actuator_face"]),
    ),
    CheckSize(
        name="check.hinge_to_far_corner",
        words="axis straight to the far corner",
        uses=("hinge.to_leaf_face", "hinge.to_actuator_face", "post.width"),
        rule=lambda s: hypot(
            s["hinge.to_leaf_face"] + s["post.width"], s["hinge.to_actuator_face"]
        ),
    ),
    CheckSize(
        name="check.post_diagonal",
        words="across the corners of the post",
        uses=("post.width", "post.depth"),
        rule=lambda s: hypot(s["post.width"], s["post.depth"]),
    ),
    CheckSize(
        name="check.post_circumference",
        words="round post: tape against the caliper",
        uses=("post.diameter",),
        rule=lambda s: pi * s["post.diameter"],
    ),
    CheckSize(
        name="check.hinge_to_latch_post",
        words="axis to the latch post, gate closed",
        uses=("leaf.width", "lock.gap"),
        rule=lambda s: s["leaf.width"] + s["lock.gap"],
    ),
    CheckSize(
        name="check.ground_to_leaf_top",
        words="ground to the leaf's top, hinge side",
        uses=("leaf.bottom", "leaf.height"),
        rule=lambda s: s["leaf.bottom"] + s["leaf.height"],
    ),
    CheckSize(
        name="check.leaf_diagonal",
        words="axis at the bottom to the top latch corner",
        uses=("leaf.width", "leaf.height"),
        rule=lambda s: hypot(s["leaf.width"], s["leaf.height"]),
    ),
    CheckSize(
        name="check.actuator_extended",
        words="pin to pin, all the way out",
        uses=("actuator.retracted", "actuator.stroke"),
        rule=lambda s: s["actuator.retracted"] + s["actuator.stroke"],
    ),
)
NAMES: Final = (*UNKNOWNS, *(c.name for c in CHECKS))


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """A reading that the others speak against."""

    name: str
    measured: float
    others_say: float
    score: float  # in standard deviations; over LIMIT it is not chance
    alone: bool  # False: another reading is just as likely to be the wrong one

    @property
    def sentence(self) -> str:
        """What to tell the person who measured."""
        off = self.measured - self.others_say
        sure = "is probably wrong" if self.alone else "may be wrong"
        return (
            f"{self.name} {sure}: measured {self.measured:.1f} mm, the others say "
            f"{self.others_say:.1f} mm ({off:+.1f} mm); measure it again"
        )


def suspects(readings: Mapping[str, float], tape: float = TAPE) -> tuple[Suspect, ...]:
    """The readings that are probably wrong, worst first; nothing when all agree.

    Readings that no other reading checks are never suspected: see `unchecked`.
    """
    scores = _scores(readings, tape)
    worst = max(scores.values(), default=0.0)
    if worst < LIMIT:
        return ()
    likely = sorted((n for n, s in scores.items() if s >= NEAR * worst), key=lambda n: -scores[n])
    return tuple(
        Suspect(
            name=name,
            measured=readings[name],
            others_say=_without(readings, name),
            score=scores[name],
            alone=len(likely) == 1,
        )
        for name in likely
    )


def unchecked(readings: Mapping[str, float]) -> tuple[str, ...]:
    """The readings that nothing else speaks about: a slip there stays unseen."""
    scored = _scores(readings, TAPE)
    return tuple(name for name in readings if name in NAMES and name not in scored)


def _used(readings: Mapping[str, float]) -> list[str]:
    """The readings that are known here, in a fixed order."""
    return [name for name in NAMES if name in readings]


def _scores(readings: Mapping[str, float], tape: float) -> dict[str, float]:
    """How far each reading lies from the others, in its own standard deviations."""
    import numpy as np

    names = _used(readings)
    if not names:
        return {}
    _, jacobian, residual = _adjusted(readings, names)
    # the part of every reading that the others control: diagonal of I - J (J'J)+ J'
    hat = jacobian @ np.linalg.pinv(jacobian)
    control = 1.0 - np.diag(hat)
    return {
        name: abs(float(v)) / (tape * float(r) ** 0.5)
        for name, v, r in zip(names, residual, control, strict=True)
        if r > 1e-6
    }


def _adjusted(
    readings: Mapping[str, float], names: list[str]
) -> "tuple[dict[str, float], np.ndarray, np.ndarray]":
    """Least squares over all readings: the state, its Jacobian, measured less adjusted."""
    import numpy as np

    state = _start(readings)
    values = np.array([readings[n] for n in names])
    jacobian = np.zeros((len(names), len(UNKNOWNS)))
    for _ in range(12):
        jacobian = np.array([_gradient(n, state) for n in names]).reshape(-1, len(UNKNOWNS))
        gap = values - np.array([_predicted(n, state) for n in names])
        step = np.linalg.pinv(jacobian) @ gap if names else np.zeros(len(UNKNOWNS))
        state = {u: state[u] + float(d) for u, d in zip(UNKNOWNS, step, strict=True)}
        if np.max(np.abs(step), initial=0.0) < 1e-9:
            break
    residual = values - np.array([_predicted(n, state) for n in names])
    return state, jacobian, residual


def _start(readings: Mapping[str, float]) -> dict[str, float]:
    """Where the adjustment begins: what was read, a plain gate's sizes for the rest."""
    usual = (40.0, 60.0, 140.0, 140.0, 3000.0, 1200.0, 100.0, 50.0, 800.0, 400.0, 100.0)
    return {u: readings.get(u, d) for u, d in zip(UNKNOWNS, usual, strict=True)}


def _predicted(name: str, state: State) -> float:
    if name in UNKNOWNS:
        return state[name]
    return next(c.rule for c in CHECKS if c.name == name)(state)


def _gradient(name: str, state: dict[str, float]) -> list[float]:
    """Change of a predicted reading with each unknown, by central differences."""
    found = []
    for unknown in UNKNOWNS:
        more, less = ({**state, unknown: state[unknown] + d} for d in (0.01, -0.01))
        found.append((_predicted(name, more) - _predicted(name, less)) / 0.02)
    return found


def _without(readings: Mapping[str, float], name: str) -> float:
    """What the other readings say this one must be, starting from what was read."""
    names = [n for n in _used(readings) if n != name]
    state, _, _ = _adjusted(readings, names)
    return _predicted(name, state)
