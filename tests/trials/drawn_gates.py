"""Sensible gates drawn at random: every post, leaf, direction, hand, unit, fixing, one leaf or two.

Sizes are what one meets at gates (house); a drawn gate need not be one that can be built, and how
each ends is what is counted. The same seed and number give the same site file.
"""

import random
from typing import Any

from hangpost.generators.many.toml_text import toml

Table = dict[str, Any]
FIXINGS = {
    "timber": ("auto", "bolted"),
    "round_steel": ("auto", "saddle", "clamp", "weld"),
    "square_steel": ("auto", "bolted", "weld"),
}


def drawn(seed: int, number: int) -> str:
    """The site file of one gate."""
    dice = random.Random(f"{seed} {number}")
    units = dice.choice(["in", "mm"])
    double = dice.random() < 0.2
    width = dice.uniform(1300, 2800) if double else dice.uniform(1500, 5000)
    leaf = _leaf(dice, width)
    toward = dice.choice(["actuator", "away"])
    site: Table = {
        "units": units,
        "job": f"drawn gate {seed}-{number} (invented)",
        "post": _post(dice),
        "hinge": {
            "hand": dice.choice(["right", "left"]),
            "to_leaf_face": dice.uniform(25, 90),
            # A gate that is pushed open hangs with its hinges well inside the post.
            "to_actuator_face": dice.uniform(-20, 110)
            if toward == "actuator"
            else dice.uniform(30, 130),
            "count": dice.choice([2, 2, 3]),
        },
        "leaf": [leaf, dict(leaf)] if double else leaf,
        "opening": {
            "toward": toward,
            "angle": dice.choice([90, 90, 92, 95, 100, 105, 110, dice.uniform(75, 115)]),
        },
        "actuator": _actuator(dice, leaf),
        "wind": {"operating": f"{dice.uniform(5, 14):.1f} m/s", "survival": "28 m/s"},
    }
    if double:
        site["meeting"] = {"gap": dice.uniform(20, 60)}
    elif dice.random() < 0.3:
        site["lock"] = _lock(dice, leaf)
    if dice.random() < 0.2:
        site["opening"]["clear_beyond"] = dice.uniform(300, 1500)
    return toml(_as_taped(site, units, dice))


def _post(dice: random.Random) -> Table:
    kind = dice.choice(list(FIXINGS))
    post: Table = {"kind": kind}
    if kind == "timber":
        if dice.random() < 0.5:
            post["size"] = dice.choice(["4x4", "4x6", "6x6", "6x8", "8x8"])
        else:
            post["measured"] = [dice.uniform(90, 250), dice.uniform(90, 250)]
        post["surface"] = dice.choice(["dressed", "rough"])
    elif kind == "round_steel":
        if dice.random() < 0.5:
            post["size"] = dice.choice(["3", "3 1/2", "4", "5", "6", "8"])
            post["schedule"] = dice.choice(["40", "80"])
        else:
            post["circumference"] = dice.uniform(240, 700)
            post["wall"] = dice.uniform(3, 8)
    else:
        side = dice.choice([80, 90, 100, 120, 150, 200])
        post["measured"] = [side, dice.choice([side, side, side + 20])]
        post["wall"] = dice.choice([3, 4, 5, 6, 8])
    if (fixing := dice.choice(FIXINGS[kind])) != "auto":
        post["fixing"] = fixing
    if dice.random() < 0.25:
        post["lean"] = {
            "toward_leaf": round(dice.uniform(-2, 2), 1),
            "toward_actuator": round(dice.uniform(-2, 2), 1),
        }
    return post


def _leaf(dice: random.Random, width: float) -> Table:
    frame = dice.choice(["square_tube", "square_tube", "round_tube", "timber"])
    member, across, up = dice.choice(
        {
            "square_tube": [("40x40x3 mm", 40, 40), ("50x50x3 mm", 50, 50), ("60x60x4 mm", 60, 60)],
            "round_tube": [("1.66", 42.2, 42.2), ("48.3 mm", 48.3, 48.3), ("2.375", 60.3, 60.3)],
            "timber": [("2x4", 38.1, 88.9), ("4x4", 88.9, 88.9), ("2x6", 38.1, 139.7)],
        }[frame]
    )
    bottom, height = dice.uniform(50, 200), dice.uniform(900, 2000)
    low, high = bottom + up / 2, bottom + height - up / 2
    leaf: Table = {
        "width": width,
        "height": height,
        "bottom": bottom,
        "thickness": across + dice.choice([0, 0, 0, 20, 40]),
        "axis_offset": dice.choice([0, 0, dice.uniform(-30, 30)]),
        "mass": f"{width / 1000 * dice.uniform(12, 40):.1f} kg",
        "frame": frame,
        "member": member,
        "rails": [low, dice.uniform(low + 150, high - 150), high],
        "fill": round(dice.uniform(0.05, 0.8), 2),
    }
    if frame == "round_tube":
        leaf["wall"] = 3.2
    return leaf


def _actuator(dice: random.Random, leaf: Table) -> Table:
    retracted = dice.uniform(550, 1000)
    eye = {
        "pin": dice.choice([10, 12, 12.7, 14, 16]),
        "thickness": dice.uniform(15, 28),
        "radius": dice.uniform(14, 22),
        "to_body": dice.uniform(25, 60),
    }
    height = leaf["rails"][1] if dice.random() < 0.7 else dice.uniform(300, leaf["rails"][2])
    return {
        "retracted": retracted,
        "stroke": min(dice.uniform(350, 600), retracted - 150),
        "thrust": f"{dice.uniform(1500, 6000):.0f} N",
        "speed": f"{dice.uniform(8, 25):.1f} mm/s",
        "body_diameter": dice.uniform(45, 95),
        "post_eye": eye,
        "leaf_eye": dict(eye),
        "height": height,
    }


def _lock(dice: random.Random, leaf: Table) -> Table:
    return {
        "post": {"kind": "timber", "size": dice.choice(["4x4", "6x6"])},
        "bolt_diameter": dice.choice([16, 19, 20]),
        "bolt_height": dice.uniform(leaf["rails"][0] + 100, leaf["rails"][2] - 100),
        "bolt_to_leaf_face": dice.uniform(15, 35),
        "throw": dice.uniform(40, 70),
        "gap": dice.uniform(20, 45),
        "sag": dice.uniform(0, 10),
    }


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
