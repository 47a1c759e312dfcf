"""The starter site file of `hangpost new`: a gate that builds as it is, to be overwritten.

Written for somebody at the gate with a tape: what to measure, from where, in which order.
A line that begins with "# " explains; a line that begins with "#" and a key is a choice that can
be switched on by taking the sign away. The gate is invented; its numbers stand in NUMBERS.
"""

from typing import Final, Literal

from hangpost.generators.survey.units import Units

PostKind = Literal["timber", "round_steel", "square_steel"]
Toward = Literal["actuator", "away"]

COMMENTS_AT: Final = 36  # column of the comments behind values

# One invented gate in each system; not conversions of each other.
NUMBERS: Final[dict[Units, dict[str, str]]] = {
    "in": {
        "timber_name": "The name of the size. A dressed (planed) 6x6 is 5 1/2 in square; a rough "
        "one is full size.",
        "timber_size": '"6x6"',
        "timber_member": '"2x4"',
        "timber_measured": '["5 1/2", "5 7/16"]',
        "circumference": '"14 1/8"',
        "square_size": '"5x5x1/4"',
        "to_leaf_face": '"1 3/4"',
        "to_actuator_face": '"2 1/2"',
        "width": '"10 ft 4"',
        "width_each": '"7 ft 2"',
        "height": '"46"',
        "bottom": '"3 1/2"',
        "thickness": '"2"',
        "mass": '"145 lb"',
        "mass_each": '"105 lb"',
        "member": '"2x2x1/8"',
        "rails": '["4 1/2", "25", "48 1/2"]',
        "friction": '"5 lbf"',
        "retracted": '"29 1/4"',
        "stroke": '"15 3/4"',
        "thrust": '"390 lbf"',
        "speed": '"0.7 in/s"',
        "body_diameter": '"2 7/8"',
        "eye": '{ pin = "1/2", thickness = "3/4", radius = "3/4", to_body = "1 7/8" }',
        "pin_height": '"25"',
        "bolt_diameter": '"5/8"',
        "bolt_height": '"30"',
        "bolt_to_leaf_face": '"1"',
        "throw": '"1 1/2"',
        "gap": '"1 3/4"',
        "post_proud": '"1 3/4"',
        "overlap": '"3/4"',
        "sag": '"3/8"',
        "operating": '"25 mph"',
        "survival": '"55 mph"',
        "clear_beyond": '"18"',
        "obstacle_from": '["-5 ft", "6 ft"]',
        "obstacle_to": '["-4 ft", "15 ft"]',
        "fixed": '["free", "7 1/2"]',
        "rise": '"1/2"',
    },
    "mm": {
        "timber_name": "Both sides in mm, or the name of an inch size: a dressed (planed) 6x6 is "
        "139.7 mm square.",
        "timber_size": '"140x140"',
        "timber_member": '"45x95"',
        "timber_measured": "[140, 138]",
        "circumference": "359",
        "square_size": '"100x100x5"',
        "to_leaf_face": "45",
        "to_actuator_face": "60",
        "width": "3100",
        "width_each": "2200",
        "height": "1150",
        "bottom": "90",
        "thickness": "50",
        "mass": '"66 kg"',
        "mass_each": '"48 kg"',
        "member": '"50x50x3"',
        "rails": "[115, 630, 1215]",
        "friction": '"24 N"',
        "retracted": "745",
        "stroke": "400",
        "thrust": '"1600 N"',
        "speed": '"17 mm/s"',
        "body_diameter": "72",
        "eye": "{ pin = 12, thickness = 20, radius = 19, to_body = 46 }",
        "pin_height": "630",
        "bolt_diameter": "16",
        "bolt_height": "760",
        "bolt_to_leaf_face": "25",
        "throw": "38",
        "gap": "45",
        "post_proud": "45",
        "overlap": "20",
        "sag": "10",
        "operating": '"11 m/s"',
        "survival": '"24.5 m/s"',
        "clear_beyond": "450",
        "obstacle_from": "[-1500, 1900]",
        "obstacle_to": "[-1200, 4600]",
        "fixed": '["free", 190]',
        "rise": "12",
    },
}

_HEAD: Final = """\
# Site file for hangpost: what was measured at the gate.
# The gate below is invented, and it builds as it is. Overwrite it with your own figures.
#
# Stand on the side where the actuator will be and look at the closed gate.
# {bare}
# Text in quotes may carry its own unit: "5 1/2", "12 ft 3 in", "140 mm", "180 lb". How sure you are
# may follow: "5 1/2 +- 1/16". Lines that begin with # and a key are choices: take the # away.

units = "{units}"
job = "example gate (invented)"
"""

_BARE: Final[dict[Units, str]] = {
    "in": "A bare number is in inches (weights lb, forces lbf, speeds in/s, wind mph).",
    "mm": "A bare number is in mm (weights kg, forces N, speeds mm/s, wind m/s).",
}

_POST: Final[dict[PostKind, str]] = {
    "timber": """\
kind = "timber"
# {timber_name}
size = {timber_size}
surface = "dressed"  # dressed | rough
# Better: measure both faces at the height of the bracket, first the one on the actuator side.
#measured = {timber_measured}
# douglas fir-larch, southern pine, hem-fir, spruce-pine-fir, western cedars, redwood, red oak or
# white oak; of another wood the fasteners are not judged, and the checks say so.
species = "southern pine"
#fixing = "bolted"
""",
    "round_steel": """\
kind = "round_steel"
# Put a tape once around the post. A pipe's name is not its diameter, so this is the surest figure.
circumference = {circumference}
# Instead: measured = outside diameter by caliper, or size = nominal pipe size ("4" or "DN 100").
schedule = "40"  # wall of the pipe: 40 | 80
#wall = "6 mm"  # by caliper, if the pipe is open at the top
#fixing = "saddle"  # saddle | clamp | weld
""",
    "square_steel": """\
kind = "square_steel"
# Outside size by tape, wall by caliper or from the supplier.
size = {square_size}
#fixing = "bolted"  # bolted | weld
""",
}

_SETTING: Final = """\
# Out of plumb in degrees, by a level: 1 degree is 5 mm in 300 mm, or 3/16 in a foot.
lean = {{ toward_leaf = 0.0, toward_actuator = 0.0 }}

[hinge]
hand = "right"  # right | left: where the hinges are, seen from the actuator side
# From the middle of the hinge pin, square to each face (round post: to its nearest line).
to_leaf_face = {to_leaf_face}  # to the post face that looks at the leaf
to_actuator_face = {to_actuator_face}  # to the post face on the actuator side
count = 3  # how many hinges
#tether = true  # a strap holds the leaf if a hinge fails
#rise = {rise}  # rising hinges: how far the leaf lifts
"""

_LEAF: Final = """\
width = {width}  # hinge pin to latch edge
height = {height}  # underside to top
bottom = {bottom}  # ground to underside, gate closed
thickness = {thickness}
axis_offset = 0  # middle of the leaf to the hinge pin, positive towards the actuator
mass = {mass}  # lift the latch edge with a scale: twice that reading
frame = "square_tube"  # square_tube | round_tube | timber
member = {member}  # round_tube: outside diameter; timber: {timber_member}
#species = "southern pine"  # of a timber leaf
rails = {rails}  # heights of the rails' centre lines above ground
fill = 0.2  # solid share of the face that the wind sees, 0 to 1
#friction = {friction}  # pull at the latch edge that keeps the leaf moving
"""

_REST: Final = """\
[opening]
toward = "{toward}"  # actuator: pull-to-open | away: push-to-open
angle = 90  # degrees
#clear_beyond = {clear_beyond}  # free distance behind the open leaf

[actuator]
retracted = {retracted}  # pin to pin, fully drawn in: measure it
stroke = {stroke}
thrust = {thrust}
speed = {speed}
body_diameter = {body_diameter}
# Each eye: its pin, its width along the pin, pin centre to its outermost edge, and to the body.
post_eye = {eye}
leaf_eye = {eye}
height = {pin_height}  # of the pins above ground: a rail that can carry it

[wind]
operating = {operating}  # the gate must still move in this
survival = {survival}  # the closed gate must stand this, on its pins if it has no lock

[ground]
rise_at_open = 0  # ground under the latch edge, gate open: higher than closed by
"""

_LOCK: Final = """
#[lock]
#post = {{ kind = "timber", size = {timber_size} }}
#bolt_diameter = {bolt_diameter}
#bolt_height = {bolt_height}
#bolt_to_leaf_face = {bolt_to_leaf_face}
#throw = {throw}
#gap = {gap}  # latch edge to latch post
#post_proud = {post_proud}  # latch post's face past the leaf's, actuator side; negative: behind it
#sag = {sag}  # what the latch edge may drop over the years
"""

_MEETING: Final = """
# A lock on the first leaf, its receiver on the second: the first leaf then closes last.
#[lock]
#bolt_diameter = {bolt_diameter}
#bolt_height = {bolt_height}
#bolt_to_leaf_face = {bolt_to_leaf_face}
#throw = {throw}
#sag = {sag}  # what the latch edge may drop over the years

[meeting]
gap = {gap}  # between the two latch edges
#overlap = {overlap}  # how far a strip on one leaf laps behind the other
#first_to_close = 2  # when they lap: the leaf, as listed, that closes first and opens last
#delay = 3  # seconds the control keeps between the two leaves
"""

_OPTIONS: Final = """
# Things the leaf must not meet, as plan rectangles from the hinge pin:
# [along the closed leaf towards the latch, towards the actuator side].
#[[obstacle]]
#name = "garden wall"
#from = {obstacle_from}
#to = {obstacle_to}

# Holes that exist already; each figure may be "free".
#[fixed]
#post_pivot = {fixed}

#[people]
#stop_open = true
#stop_closed = true
#manual_release = true
#separate_path = true
#signs = false
"""


def starter(
    *,
    units: Units = "in",
    post: PostKind = "timber",
    toward: Toward = "actuator",
    leaves: Literal[1, 2] = 1,
) -> str:
    """Return the text of a commented site file that builds as it is."""
    numbers = dict(NUMBERS[units])
    if leaves == 2:
        numbers |= {"width": numbers["width_each"], "mass": numbers["mass_each"]}
    parts = [
        _HEAD.format(units=units, bare=_BARE[units]),
        "\n[post]  # the hanging post: carries the hinges\n",
        _POST[post].format(**numbers),
        _SETTING.format(**numbers),
    ]
    if leaves == 1:
        parts += ["\n[leaf]\n", _LEAF.format(**numbers)]
    else:
        parts.append("\n# Two leaves: the second hangs on the opposite post, on the other hand.\n")
        parts.append(
            "# Where its post, hinges or actuator differ, say so under [leaf.post] and so on.\n"
        )
        for _ in range(leaves):
            parts += ["\n[[leaf]]\n", _LEAF.format(**numbers)]
    parts += ["\n", _REST.format(toward=toward, **numbers)]
    parts += [(_LOCK if leaves == 1 else _MEETING).format(**numbers), _OPTIONS.format(**numbers)]
    return _lined_up("".join(parts))


def _lined_up(text: str) -> str:
    """Return the text with the comments behind values in one column."""
    lines = []
    for line in text.splitlines():
        value, mark, words = line.partition("  # ")
        lines.append(f"{value.rstrip():<{COMMENTS_AT}}# {words}" if mark else line)
    return "\n".join(lines) + "\n"
