"""Loads on the two pins of one leaf: named cases over the whole swing, in seat coordinates.

Cases (factors from strength/factors.csv): the actuator stalls while it pushes and while it pulls,
at every angle; it starts the leaf; it works in the operating wind; and the survival wind finds
the gate closed. Then the pins hold torque / leverage if the actuator locks itself and no lock is
fitted; with a lock on a post its receiver and the hinges take the wind and the pins nothing.
Frame: the seat frame of the bracket (u right, v up, w out of the host), what the pin does to the
bracket. Units: N, mm, N mm, degrees.
Sources: statics; wind by ASCE 7-10 (Kz, G = 0.85 and Cf; Kd left out, the speed is a gust).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import pi, radians, sin

import numpy as np
import numpy.typing as npt

from hangpost.generators.pivots.mount import Mount
from hangpost.generators.pivots.of_site import moving_torque
from hangpost.generators.strength import actions, wind
from hangpost.generators.strength.factors import factor
from hangpost.generators.survey.display import degrees_words
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts.frame import Frame

Floats = npt.NDArray[np.float64]

STEP = 1.0  # degrees of the swing
GUST = 0.85  # ASCE 7-10 26.9.1: gust-effect factor of a rigid structure
SOLID = 0.7  # from here on a leaf counts as a solid sign, ASCE 7-10 29.4
OFF_CENTRE = 0.2  # of the width, ASCE 7-10 Fig. 29.4-1 case B, solid signs only
GRAVITY = 9.80665  # m/s2, standard gravity
ACTUATOR_DENSITY = 4000e-9  # kg/mm3, house: when nobody weighed it, half a solid steel bar

STALL_PUSH, STALL_PULL = "actuator stalled, pushing", "actuator stalled, pulling"
STARTING, WORKING = "starting", "working in the operating wind"
STORM = "survival wind on the closed leaf"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wind:
    """The survival wind on the closed leaf: pressure, force square to it, torque at the hinge."""

    pressure: float  # N/mm2
    coefficient: float
    force: float
    torque: float
    end_share: float  # of the force, what one end of a leaf held at both may get


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PinLoads:
    """Factored forces on one bracket, one row for each case and angle."""

    force: Floats  # (n, 3) along u, v, w of the seat
    angle: Floats  # of the leaf, positive
    duration: Floats  # CD of the case, for timber
    case: npt.NDArray[np.int64]  # which of the names
    names: tuple[str, ...]

    @property
    def level(self) -> Floats:
        """Size of the force in the level plane: what the two ears share."""
        return np.hypot(self.force[:, 0], self.force[:, 2])

    def words(self, row: int) -> str:
        """The case and the angle of one row."""
        return f"{self.names[self.case[row]]}, {degrees_words(float(self.angle[row]))} open"

    def scaled(self, by: float) -> "PinLoads":
        """The same loads, all multiplied."""
        return PinLoads(
            force=self.force * by,
            angle=self.angle,
            duration=self.duration,
            case=self.case,
            names=self.names,
        )


def storm(site: Site, hung: HungLeaf) -> Wind:
    """The survival wind on this leaf, closed."""
    leaf, fill = hung.leaf, float(hung.leaf.fill)
    kz = wind.exposure_coefficient(float(leaf.top), site.wind.exposure)
    pressure = wind.velocity_pressure(float(site.wind.survival_m_s), exposure=kz)
    cf = wind.force_coefficient(fill)
    area = float(leaf.width) * float(leaf.height)
    force = wind.leaf_force(pressure, area, fill, coefficient=cf, gust=GUST)
    off = OFF_CENTRE if fill >= SOLID else 0.0
    return Wind(
        pressure=pressure,
        coefficient=cf,
        force=force,
        torque=wind.leaf_torque(force, float(leaf.width), eccentricity=off),
        end_share=0.5 + off,  # hinges and lock as end supports
    )


def pins_hold_wind(site: Site, hung: HungLeaf) -> bool:
    """Whether the closed leaf hangs on the actuator in a storm: it locks itself, nothing else does.

    A lock between two leaves ties one to the other and neither to the ground.
    """
    return bool(hung.actuator.self_locking) and not held_by_lock(site)


def held_by_lock(site: Site) -> bool:
    """Whether a lock holds the leaf to a post that stands."""
    return site.lock is not None and not site.is_double


def actuator_weight(hung: HungLeaf) -> float:
    """Weight of the actuator in N, weighed or guessed from its body."""
    actuator = hung.actuator
    body = pi / 4 * float(actuator.body_diameter) ** 2 * float(actuator.retracted)
    mass = float(actuator.mass) if actuator.mass is not None else body * ACTUATOR_DENSITY
    return mass * GRAVITY


def pin_loads(site: Site, hung: HungLeaf, mount: Mount, seat: Frame, *, at: str) -> PinLoads:
    """Every case on the post pin or the leaf pin (`at`), along the axes of the seat."""
    signed = mount.opening if mount.direction == "pull" else -mount.opening
    swing = actions.swing_angles(signed, step=STEP)
    leverage = np.abs(actions.leverages(mount.post_pivot, mount.leaf_pivot, swing))
    unit = _unit(mount, swing, at)
    lift = sin(radians(hung.tilt_from_rise))
    down = -factor("load.weight") * actuator_weight(hung) / 2
    axes = np.array([seat.u, seat.v, seat.w])
    forces, angles, lasting, which = [], [], [], []
    names: list[str] = []
    for name, factors, thrust, rows in _thrusts(site, hung, leverage):
        plan = unit[rows] * (thrust * factor(f"load.{factors}"))[:, None]
        up = np.abs(thrust) * lift
        both = [(down + up), (down - up)] if lift else [np.full(len(thrust), down)]
        for vertical in both:
            forces.append(np.column_stack((plan, vertical)) @ axes.T)
            angles.append(np.abs(swing[rows]))
            lasting.append(np.full(len(thrust), factor(f"duration.{factors}")))
            which.append(np.full(len(thrust), len(names)))
        names.append(name)
    return PinLoads(
        force=np.concatenate(forces),
        angle=np.concatenate(angles),
        duration=np.concatenate(lasting),
        case=np.concatenate(which),
        names=tuple(names),
    )


def _unit(mount: Mount, swing: Floats, at: str) -> Floats:
    """Force on the bracket for a thrust of 1 that pushes the pins apart, one row an angle."""
    on = actions.post_pin_forces if at == "post" else actions.leaf_pin_forces
    return on(mount.post_pivot, mount.leaf_pivot, swing, 1.0)


def _thrusts(
    site: Site, hung: HungLeaf, leverage: Floats
) -> Iterator[tuple[str, str, Floats, npt.NDArray[np.int64]]]:
    """Each case: its name, its factors, the thrust before factors, and the rows of the swing."""
    every, closed = np.arange(len(leverage)), np.array([0])
    rated = float(hung.actuator.thrust)
    stall = np.full(len(leverage), rated)
    yield STALL_PUSH, "stall", stall, every
    yield STALL_PULL, "stall", -stall, every
    moving = moving_torque(site, hung)
    # An actuator cannot give more than its stall, whatever the factor on the case says.
    most = rated * factor("load.stall")
    for name, factors, torque in (
        (STARTING, "start_up", moving.total - moving.wind),
        (WORKING, "operating_wind", moving.total),
    ):
        needed = np.minimum(torque / leverage, most / factor(f"load.{factors}"))
        for way, sign in ((", pushing", 1.0), (", pulling", -1.0)):
            yield name + way, factors, sign * needed, every
    if pins_hold_wind(site, hung):
        held = storm(site, hung).torque / leverage[:1]
        for side, sign in ((" from one side", 1.0), (" from the other side", -1.0)):
            yield STORM + side, "survival_wind", sign * held, closed
