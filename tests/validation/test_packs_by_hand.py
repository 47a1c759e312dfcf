"""The numbers of the example packs by textbook formulas, from the tape's figures typed in here.

Nothing of the project is imported: what pack.json says is held against plain statics and geometry.
Tolerance: pack.json is rounded to 1e-6.
"""

import json
from dataclasses import dataclass
from math import cos, hypot, log10, pi, radians, sin
from pathlib import Path
from typing import Any

import pytest

PACKS = Path(__file__).parents[2] / "outputs_example"
INCH, LBF, MPH = 25.4, 4.4482216152605, 0.44704  # exact, NIST SP 811
STALL = 1.25  # house: a stalled actuator over its thrust
RESERVE = 1.1  # house: the shop's
PIN_YIELD = 310.0  # MPa, house: cold-drawn bar
STEEL = 7850e-9  # kg/mm3


@dataclass(frozen=True, slots=True, kw_only=True)
class Gate:
    """One leaf as it was measured; mm, N, m/s."""

    name: str
    leaf: int = 0
    sign: int  # 1 pulled open, -1 pushed
    angle: float
    retracted: float
    stroke: float
    thrust: float
    speed: float
    width: float
    height: float
    fill: float
    pin: float
    survival: float
    margin: float = 10.0


GATES = (
    Gate(
        name="orchard-lane", sign=1, angle=92.0, retracted=30.5 * INCH, stroke=16 * INCH,
        thrust=650 * LBF, speed=0.65 * INCH, width=134 * INCH, height=50 * INCH, fill=0.45,
        pin=0.5 * INCH, survival=70 * MPH,
    ),
    Gate(
        name="mill-yard", sign=-1, angle=90.0, retracted=770.0, stroke=400.0, thrust=1800.0,
        speed=16.0, width=3150.0, height=1250.0, fill=0.25, pin=12.0, survival=30.0,
    ),
    Gate(
        name="station-drive", leaf=1, sign=1, angle=90.0, retracted=27.5 * INCH,
        stroke=13.75 * INCH, thrust=540 * LBF, speed=0.6 * INCH, width=80 * INCH,
        height=52 * INCH, fill=0.3, pin=0.5 * INCH, survival=58 * MPH,
    ),
)  # fmt: skip
every_gate = pytest.mark.parametrize("gate", GATES, ids=lambda gate: gate.name)


def pack(gate: Gate) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((PACKS / gate.name / "pack" / "pack.json").read_bytes())
    return found


def check(gate: Gate, words: str) -> dict[str, Any]:
    """The check of this leaf whose id ends so."""
    leaf = pack(gate)["leaves"][gate.leaf]["name"]
    (found,) = (
        each
        for each in pack(gate)["checks"]
        if each["id"].endswith(words) and each["id"].startswith(f"strength: {leaf}".strip())
    )
    return dict(found)


def exactly(value: float) -> Any:
    return pytest.approx(value, rel=1e-6, abs=2e-6)


@every_gate
def test_lengths_levers_torque_and_speed_over_the_swing(gate: Gate) -> None:
    """Pins at P and at G turned by t: L = |G(t) - P|, arm = |P x G(t)| / L, v = w s / arm."""
    mount = pack(gate)["leaves"][gate.leaf]["mount"]
    (px, py, _), (gx, gy, _) = mount["post_pivot"], mount["leaf_pivot"]

    assert [row["angle"] for row in mount["curve"][:: len(mount["curve"]) - 1]] == [
        0.0,
        gate.sign * gate.angle,
    ]
    for row in mount["curve"]:
        t = radians(row["angle"])
        x, y = gx * cos(t) - gy * sin(t), gx * sin(t) + gy * cos(t)
        length = hypot(x - px, y - py)
        arm = abs(px * y - py * x) / length
        assert row["length"] == exactly(length)
        assert row["leverage"] == exactly(arm)
        assert row["torque"] == exactly(gate.thrust * arm)
        assert row["edge_speed"] == exactly(gate.speed / arm * gate.width)
    arms = [row["leverage"] for row in mount["curve"]]
    assert mount["leverage"]["least"] == min(arms[0], arms[-1])


@every_gate
def test_stroke_and_what_is_left_of_it(gate: Gate) -> None:
    mount = pack(gate)["leaves"][gate.leaf]["mount"]
    short, long = sorted((mount["closed_length"], mount["open_length"]))

    assert short == exactly(gate.retracted + gate.margin)  # where it is tied
    assert mount["stroke_used"] == exactly(long - short)
    assert mount["margin"]["extended"] == exactly(gate.retracted + gate.stroke - long)
    assert mount["swing_time"] == exactly((long - short) / gate.speed)
    assert (short == mount["open_length"]) is (gate.sign > 0)  # pulled open it ends drawn in


@every_gate
def test_pins_in_double_shear_and_bending(gate: Gate) -> None:
    """AISC 360-16 J4.2(a), F11.1 by hand; the stalled actuator governs where a lock takes the wind.

    The moment is that of a beam: half the force at the middle of an ear and of half the eye.
    """
    force, d = STALL * gate.thrust, gate.pin
    shear = 2 * 0.6 * PIN_YIELD * pi / 4 * d**2 / 1.67
    bending = PIN_YIELD * min(d**3 / 6, 1.6 * pi / 32 * d**3) / 1.67

    for end in ("post", "leaf"):
        found, bent = (check(gate, f"{end} bracket pin {rule}") for rule in ("shear", "bending"))
        assert found["value"] == exactly(force)
        assert found["limit"] == exactly(shear / RESERVE)
        assert bent["limit"] == exactly(bending / RESERVE)
        both = hypot(force / shear, bent["value"] / bending)
        assert check(gate, f"{end} bracket pin shear and bending")["value"] == exactly(both)


@every_gate
def test_wind_on_the_closed_leaf_at_its_lock(gate: Gate) -> None:
    """ASCE 7-10: q = 0.613 Kz V2, Kz = 2.01 (15/900)^(2/9.5), G 0.85, Cf of Fig. 29.5-2 (memory).

    Half of it is held at the latch edge.
    """
    coefficient = 1.8 if gate.fill < 0.3 else 1.6
    pressure = 0.613 * 2.01 * (15 / 900) ** (2 / 9.5) * gate.survival**2 * 1e-6
    force = pressure * 0.85 * coefficient * gate.fill * gate.width * gate.height

    assert check(gate, "lock receiver bolt bearing")["value"] == exactly(force / 2)


@every_gate
def test_bends_and_masses_of_every_steel_part(gate: Gate) -> None:
    """DIN 6935: k = 0.65 + 0.5 log10(r/s), at most 1, of half the thickness; 7850 kg/m3."""
    steel = [part for part in pack(gate)["parts"] if part["material"] == "mild steel"]

    for part in steel:
        t = part["thickness"]
        assert part["mass"] == exactly(STEEL * part["volume"])
        stretched = 0.0
        for bend in part["flat"]["bends"]:
            r, turn = bend["radius"], radians(bend["angle"])
            k = min(1.0, 0.65 + 0.5 * log10(r / t))
            allowance = turn * (r + k * t / 2)
            assert bend["allowance"] == exactly(allowance)
            (ax, ay), (bx, by) = bend["start"], bend["end"]
            stretched += hypot(bx - ax, by - ay) * (turn * (r + t / 2) - allowance)
        # Pappus: metal in a bend is as long as the middle of the plate
        whole = t * (part["flat"]["area"] + stretched)
        if part["kind"] == "lock receiver":  # its opening is bevelled once it is cut
            assert 0.997 * whole < part["volume"] < whole
        else:
            assert part["volume"] == exactly(whole)
    assert any(part["flat"]["bends"] for part in steel)
