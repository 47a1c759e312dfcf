"""Gates drawn at random as one meets them: every post, leaf, direction, hand, unit, fixing.

Of ten gates nine are what somebody in the trade would have hung and measured: an actuator that
suits leaf and angle, a post that carries both, hinges about which the leaf can turn, a lock where
the wind asks for one. The tenth is wild: the same things drawn without regard to one another. Sizes and
shares are house. A drawn gate need not be one that can be built; how each ends is what is counted.
The same seed and number give the same site file.
"""

import random
from math import ceil, radians, tan
from typing import Any

from hangpost.generators.many.toml_text import toml

Table = dict[str, Any]
WILD = 0.1
FIXINGS = {
    "timber": ("auto", "bolted"),
    "round_steel": ("auto", "saddle", "clamp", "weld"),
    "square_steel": ("auto", "bolted", "weld"),
}
MEMBERS = {
    "square_tube": [("40x40x3 mm", 40, 40), ("50x50x3 mm", 50, 50), ("60x60x4 mm", 60, 60)],
    "round_tube": [("1.66 in", 42.2, 42.2), ("48.3 mm", 48.3, 48.3), ("2.375 in", 60.3, 60.3)],
    "timber": [("2x4", 38.1, 88.9), ("4x4", 88.9, 88.9), ("2x6", 38.1, 139.7)],
}
THRUSTS = (1000, 1500, 2000, 2500, 3000, 4000, 5000, 6000)  # N
STROKES = (300, 350, 400, 450, 500, 600)
PIN_FOR = ((1500, 12), (3000, 12.7), (4500, 16), (6000, 20))  # up to this thrust
LEVER = 110.0  # mm of leverage that one may count on
HELD = 1.3  # thrusts at a pin in the survival wind, from which on one fits a lock
HEAVY = 3500.0  # N of thrust, from which on a post is a heavy one
ANGLES = (90, 90, 90, 92, 95, 100, 105)


def drawn(seed: int, number: int) -> str:
    """The site file of one gate."""
    dice = random.Random(f"{seed} {number}")
    units = dice.choice(["in", "mm"])
    wild, double = dice.random() < WILD, dice.random() < 0.2
    toward = dice.choice(["actuator", "away"])
    leaf = _leaf(dice, double, wild)
    storm = dice.uniform(22, 28)
    wind = _calm(dice, leaf, wild)
    angle = dice.choice([*ANGLES, round(dice.uniform(75, 115), 1)])
    actuator = _actuator(dice, leaf, wind, angle, wild)
    post, depth = _post(dice, actuator, wild)
    site: Table = {
        "units": units,
        "job": f"{'wild' if wild else 'drawn'} gate {seed}-{number} (invented)",
        "post": post,
        "hinge": _hinge(dice, leaf, depth, toward, angle, wild),
        "leaf": [leaf, dict(leaf)] if double else leaf,
        "opening": {"toward": toward, "angle": angle},
        "actuator": actuator,
        "wind": {"operating": f"{wind:.1f} m/s", "survival": f"{storm:.1f} m/s"},
    }
    at_pin = _wind_torque(leaf, storm) / LEVER
    is_pushed = at_pin > HELD * float(actuator["thrust"].split()[0])
    locked = dice.random() < 0.2 or (is_pushed and not wild)
    if double:
        site["meeting"] = {"gap": dice.uniform(20, 60)}
    if locked and not (double and wild):
        site["lock"] = _lock(dice, leaf, double)
    if dice.random() < 0.2:
        site["opening"]["clear_beyond"] = dice.uniform(300, 1500)
    return toml(_as_taped(site, units, dice))


def _leaf(dice: random.Random, double: bool, wild: bool) -> Table:
    width = dice.uniform(1400, 2800) if double else dice.uniform(1600, 5000 if wild else 4200)
    frame = dice.choice(["square_tube", "square_tube", "round_tube", "timber"])
    member, across, up = dice.choice(MEMBERS[frame])
    if not wild and width > 2800:
        member, across, up = MEMBERS[frame][dice.choice([1, 2])]
    bottom, height = dice.uniform(50, 150), dice.uniform(900, 2000 if wild else 1500)
    low, high = bottom + up / 2, bottom + height - up / 2
    middle = dice.uniform(low + 150, high - 150) if wild else (low + high) / 2
    middle += 0 if wild else dice.uniform(-0.1, 0.1) * height
    boarded = wild or (width < 2200 and dice.random() < 0.3)
    leaf: Table = {
        "width": width,
        "height": height,
        "bottom": bottom,
        "thickness": ceil(across) + dice.choice([0, 0, 0, 20, 40 if wild else 20]),
        "axis_offset": dice.choice(
            [0, 0, dice.uniform(-30, 30) if wild else dice.uniform(-15, 15)]
        ),
        "mass": f"{width / 1000 * dice.uniform(12, 40 if wild or frame == 'timber' else 28):.1f} kg",
        "frame": frame,
        "member": member,
        "rails": [low, middle, high],
        "fill": round(dice.uniform(0.05, 0.8) if boarded else dice.uniform(0.05, 0.35), 2),
    }
    if frame == "round_tube":
        leaf["wall"] = 3.2
    if not wild and width > 1800:  # uprights about a metre apart
        bays = ceil(width / 1200)
        leaf["stiles"] = [up / 2 + (width - up) * bay / bays for bay in range(bays + 1)]
    return leaf


def _wind_torque(leaf: Table, speed: float) -> float:
    """N mm about the hinge axis, roughly: the pressure on what is solid, at the leaf's middle."""
    area = leaf["width"] * leaf["height"] * 1e-6 * leaf["fill"]
    return float(0.613 * speed**2 * 1.6 * area * leaf["width"] / 2)


def _calm(dice: random.Random, leaf: Table, wild: bool) -> float:
    """The wind in which it must still move: less for a leaf like a sail."""
    if wild:
        return dice.uniform(5, 14)
    speed = dice.uniform(6, 11)
    while _wind_torque(leaf, speed) * 1.5 / LEVER > 0.6 * THRUSTS[-1] and speed > 5:
        speed *= 0.9
    return speed


def _actuator(dice: random.Random, leaf: Table, wind: float, angle: float, wild: bool) -> Table:
    if wild:
        thrust = dice.uniform(1500, 6000)
        retracted = dice.uniform(550, 1000)
        stroke = min(dice.uniform(350, 600), retracted - 150)
        pin, to_body = dice.choice([10, 12, 12.7, 14, 16]), dice.uniform(25, 60)
        radius = dice.uniform(14, 22)
        height = dice.uniform(300, leaf["rails"][2])
    else:
        weight = float(leaf["mass"].split()[0])
        needed = (1.5 * _wind_torque(leaf, wind) + 400 * weight) / LEVER
        enough = [each for each in THRUSTS if each >= needed] or [THRUSTS[-1]]
        thrust = dice.choice(enough[:2])
        short = 1 + (angle > 92) + (angle > 100)
        stroke = dice.choice(STROKES[short : short + 3])
        retracted = stroke + dice.uniform(260, 400)
        pin = next(size for most, size in PIN_FOR if thrust <= most)
        to_body = max(dice.uniform(38, 60), 1.75 * pin + 14)
        radius = pin * dice.uniform(1.15, 1.5)
        height = leaf["rails"][1]
    eye = {"pin": pin, "thickness": dice.uniform(15, 28), "radius": radius, "to_body": to_body}
    return {
        "retracted": retracted,
        "stroke": stroke,
        "thrust": f"{thrust:.0f} N",
        "speed": f"{dice.uniform(8, 25):.1f} mm/s",
        "body_diameter": dice.uniform(45, 95 if wild else 75),
        "post_eye": eye,
        "leaf_eye": dict(eye),
        "height": height,
    }


def _post(dice: random.Random, actuator: Table, wild: bool) -> tuple[Table, float]:
    """The post and its depth, about."""
    kind = dice.choice(list(FIXINGS))
    heavy = float(actuator["thrust"].split()[0]) > HEAVY
    post: Table = {"kind": kind}
    if kind == "timber":
        sizes = {"6x6": 140, "6x8": 140, "8x8": 190} if heavy else {"5x5": 115, "6x6": 140}
        sizes = {"4x4": 90, "4x6": 90, **sizes} if wild else sizes
        size, depth = dice.choice(list(sizes.items()))
        if dice.random() < 0.5:
            post["size"] = size
        else:
            sides = [dice.uniform(90, 250) if wild else depth + dice.uniform(-3, 12) for _ in "xy"]
            post["measured"], depth = sides, sides[1]
        post["surface"] = dice.choice(["dressed", "rough"])
    elif kind == "round_steel":
        sizes = {"5": 141.3, "6": 168.3, "8": 219.1} if heavy else {"4": 114.3, "5": 141.3}
        sizes = {"3": 88.9, "3 1/2": 101.6, **sizes} if wild else sizes
        size, depth = dice.choice(list(sizes.items()))
        if dice.random() < 0.5:
            post["size"], post["schedule"] = size, dice.choice(["40", "80"])
        else:
            depth = dice.uniform(77, 220) if wild else depth + dice.uniform(-2, 2)
            post["circumference"] = 3.1416 * depth
            post["wall"] = dice.uniform(3 if wild else 5, 8)
    else:
        side = dice.choice(
            [80, 90, 100, 120, 150, 200] if wild else [[100, 120], [120, 150]][heavy]
        )
        depth = dice.choice([side, side, side + 20])
        post["measured"] = [side, depth]
        post["wall"] = dice.choice([3, 4, 5, 6, 8] if wild else [5, 6, 8])
    if (fixing := dice.choice(FIXINGS[kind])) != "auto":
        post["fixing"] = fixing
    if dice.random() < 0.25:
        most = 2 if wild else 1
        post["lean"] = {
            "toward_leaf": round(dice.uniform(-most, most), 1),
            "toward_actuator": round(dice.uniform(-most, most), 1),
        }
    return post, depth


def _hinge(
    dice: random.Random, leaf: Table, depth: float, toward: str, angle: float, wild: bool
) -> Table:
    pulled = toward == "actuator"
    if wild:
        near = dice.uniform(-20, 110) if pulled else dice.uniform(30, 130)
        to_leaf = dice.uniform(25, 90)
    else:
        # The axis lies on the side of the post to which the leaf opens, so that it can turn.
        inside = dice.uniform(0.05, 0.45) * depth
        near = inside if pulled else depth - inside
        half = leaf["thickness"] / 2 + abs(leaf["axis_offset"])
        room = half + 10 + inside * tan(radians(max(angle - 90, 0)))
        to_leaf = max(dice.uniform(25, 70), room)
    return {
        "hand": dice.choice(["right", "left"]),
        "to_leaf_face": to_leaf,
        "to_actuator_face": near,
        "count": dice.choice([2, 2, 3]),
    }


def _lock(dice: random.Random, leaf: Table, double: bool) -> Table:
    _, middle, high = leaf["rails"]
    lock: Table = {
        "bolt_diameter": 20 if leaf["thickness"] > 55 else dice.choice([12, 14]),
        "bolt_height": dice.uniform(middle + 0.3 * (high - middle), high - 0.3 * (high - middle)),
        "bolt_to_leaf_face": dice.uniform(0.45, 0.55) * leaf["thickness"],
        "throw": dice.uniform(45, 70),
        "sag": dice.uniform(0, 10),
    }
    if not double:
        lock["post"] = {"kind": "timber", "size": dice.choice(["4x4", "6x6"])}
        lock["gap"] = dice.uniform(25, 45)
    return lock


def _as_taped(value: Any, units: str, dice: random.Random, key: str = "") -> Any:
    """Lengths as read off a tape: whole mm, or sixteenths of an inch in text."""
    if isinstance(value, dict):
        return {name: _as_taped(each, units, dice, name) for name, each in value.items()}
    if isinstance(value, list):
        return [_as_taped(each, units, dice, key) for each in value]
    if not isinstance(value, float | int) or key in {"angle", "count", "fill"}:
        return round(value, 1) if isinstance(value, float) else value
    if key in {"toward_leaf", "toward_actuator"} and abs(value) <= 2:
        return value
    if units == "mm":
        return round(value, 1)
    sixteenths = round(abs(value) / 25.4 * 16)
    whole, rest = divmod(sixteenths, 16)
    sign = "-" if value < 0 and sixteenths else ""
    return f"{sign}{whole} {rest}/16" if rest else f"{sign}{whole}"
