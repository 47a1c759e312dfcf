"""The survey form: one page to take to the gate, its boxes named as in the site file.

Each box has a number, the key that its answer gets in the site file, and what to measure; the
sketches carry the same numbers. The last group is measured only to check the others (see
`generators/survey/consistency.py`). Frame: mm on the sheet.
"""

from dataclasses import dataclass
from typing import Final

from hangpost.generators.survey.consistency import CHECKS
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.fonts import width
from hangpost.generators.writers.ink import Text, frame, line
from hangpost.generators.writers.paper import TRUE, Paper
from hangpost.generators.writers.sheet import Item, Sheet
from hangpost.generators.writers.survey_sketches import sketches
from hangpost.parts.loop import Box


@dataclass(frozen=True, slots=True)
class Field:
    """One box: the key in the site file and what to write."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Group:
    """Boxes under one heading."""

    heading: str
    fields: tuple[Field, ...]


FORM: Final = (
    Group(
        "Post at the hinges",
        (
            Field("post.kind", "timber, round_steel, square_steel"),
            Field("post.size", "what it is called"),
            Field("post.measured", "two sides at bracket height"),
            Field("post.circumference", "round: tape around it"),
            Field("post.wall", "steel: wall"),
            Field("post.species", "timber: kind of wood"),
            Field("post.lean.toward_leaf", "degrees, plumb one way"),
            Field("post.lean.toward_actuator", "degrees, plumb other way"),
            Field("post.height", "ground to its top"),
        ),
    ),
    Group(
        "Hinge axis",
        (
            Field("hinge.hand", "hinges right or left, actuator side"),
            Field("hinge.to_leaf_face", "axis to face at the leaf"),
            Field("hinge.to_actuator_face", "axis to face at the actuator"),
            Field("hinge.count", "how many hinges"),
            Field("hinge.tether", "yes or no"),
            Field("hinge.rise", "rise when open"),
        ),
    ),
    Group(
        "Leaf",
        (
            Field("leaf.width", "axis to latch edge"),
            Field("leaf.height", "of the leaf"),
            Field("leaf.bottom", "ground to underside"),
            Field("leaf.thickness", "at the bracket's rail"),
            Field("leaf.axis_offset", "its middle plane to the axis"),
            Field("leaf.hinge_edge", "axis to its hinge edge"),
            Field("leaf.mass", "weighed at the tip x 2, or added up"),
            Field("leaf.frame", "square_tube, round_tube, timber"),
            Field("leaf.member", "size of a rail"),
            Field("leaf.rails", "heights of rail middles"),
            Field("leaf.stiles", "uprights from the axis"),
            Field("leaf.fill", "solid share, 0 to 1"),
            Field("leaf.friction", "pull at the tip to start it"),
        ),
    ),
    Group(
        "Opening and ground",
        (
            Field("opening.toward", "actuator or away"),
            Field("opening.angle", "degrees wanted"),
            Field("opening.clear_beyond", "open leaf to what is behind"),
            Field("ground.rise_at_open", "ground at the open tip"),
            Field("ground.rise_under_arc", "highest under the swing"),
        ),
    ),
    Group(
        "Actuator, measured",
        (
            Field("actuator.retracted", "pin to pin, all the way in"),
            Field("actuator.stroke", "travel"),
            Field("actuator.thrust", "force"),
            Field("actuator.speed", "of the rod"),
            Field("actuator.body_diameter", "thickest place"),
            Field("actuator.post_eye.pin", "pin at the post"),
            Field("actuator.post_eye.thickness", "of the eye"),
            Field("actuator.post_eye.radius", "of the eye"),
            Field("actuator.post_eye.to_body", "pin to body"),
            Field("actuator.leaf_eye.pin", "pin at the leaf, if another"),
            Field("actuator.height", "pin height wanted"),
        ),
    ),
    Group(
        "Lock, wind, people",
        (
            Field("lock.bolt_diameter", "of the bolt"),
            Field("lock.bolt_height", "above ground"),
            Field("lock.bolt_to_leaf_face", "bolt to the leaf's face"),
            Field("lock.throw", "of the bolt"),
            Field("lock.gap", "latch edge to latch post"),
            Field("lock.post_proud", "post's face past the leaf's"),
            Field("wind.operating", "gate must move in it"),
            Field("people.stop_closed", "solid stop there?"),
            Field("people.stop_open", "solid stop there?"),
            Field("people.manual_release", "known to all?"),
            Field("people.separate_path", "for walking?"),
            Field("people.signs", "on both sides?"),
        ),
    ),
    Group("Only to check the others", tuple(Field(c.name, c.words) for c in CHECKS)),
)
COLUMNS: Final = 3
BAND: Final = 74.0  # height of the sketches
_NUMBER: Final = 2.0
_KEY: Final = 2.0
_WORDS: Final = 1.7
_BOX: Final = 20.0  # room to write in


def survey_form(paper: Paper, units: Units, version: str) -> Sheet:
    """The form on one page."""
    left, bottom, right, top = TRUE.field(paper)
    bare = "inches and fractions (5 1/2)" if units == "in" else "millimetres"
    items: list[Item] = [
        Text((left, top - 4.5), "Gate survey", 4.6, bold=True),
        Text((left, top - 8.6), f"Bare numbers in {bare}; write another unit beside them.", 2.2),
        *_who(left + 96.0, right, top),
    ]
    band: Box = (left, top - 12.0 - BAND, right, top - 12.0)
    items += sketches(band)
    items += _boxes((left, bottom + 7.0, right, band[1] - 3.0))
    foot = "Measure everything twice. Photograph each place with a tape in the picture."
    items.append(Text((left, bottom + 3.6), f"{foot} Then: hangpost survey-check FILE", 2.0))
    made = f"hangpost {version}, survey form"
    items.append(Text((left, bottom + 0.6), made, 1.8))
    items.append(
        Text((right, bottom + 0.6), "plumb [  ]  level [  ]  photos [  ]", 2.2, "right", bold=True)
    )
    return Sheet(width=paper.width, height=paper.height, title="survey form", items=tuple(items))


def _who(left: float, right: float, top: float) -> list[Item]:
    """Job, person, date, revision."""
    found: list[Item] = []
    middle = (left + right) / 2
    for k, caption in enumerate(("job", "date", "measured by", "revision")):
        row, column = divmod(k, 2)
        x, end = (left, middle - 2.0) if column == 0 else (middle, right)
        y = top - 4.5 - 5.5 * row
        found.append(Text((x, y), caption, 2.0))
        found.append(line((x + width(caption, 2.0) + 1.5, y - 0.4), (end, y - 0.4), "hair"))
    return found


def numbers() -> dict[str, int]:
    """The number of every key on the form."""
    keys = [field.key for group in FORM for field in group.fields]
    return {key: k for k, key in enumerate(keys, 1)}


def _boxes(room: Box) -> list[Item]:
    """All groups in columns, filled from the left."""
    left, bottom, right, top = room
    rows = sum(len(g.fields) + 1 for g in FORM)
    each = -(-rows // COLUMNS) + 1
    pitch = min(6.0, (top - bottom) / each)
    wide = (right - left + 3.0) / COLUMNS
    known = numbers()
    found: list[Item] = []
    column, y = 0, top
    for group in FORM:
        for field in (None, *group.fields):
            needed = 2 if field is None else 1  # a heading never stands alone at the foot
            if y - needed * pitch < bottom - 1e-6 and column < COLUMNS - 1:
                column, y = column + 1, top
            x = left + column * wide
            if field is None:
                found.append(Text((x, y - pitch + 1.6), group.heading, 2.4, bold=True))
            else:
                found += _box(field, known[field.key], (x, y - pitch, x + wide - 3.0, y))
            y -= pitch
    return found


def _box(field: Field, number: int, room: Box) -> list[Item]:
    left, bottom, right, top = room
    size = _KEY
    space = right - _BOX - left - 5.5
    words = _WORDS * min(1.0, space / max(width(field.words, _WORDS), 0.1))
    key = size * min(1.0, space / width(field.key, size, bold=True))
    return [
        Text((left + 4.2, top - 2.4), str(number), _NUMBER, "right", bold=True),
        Text((left + 5.0, top - 2.4), field.key, key, bold=True),
        Text((left + 5.0, bottom + 1.0), field.words, words),
        frame((right - _BOX, bottom + 0.6, right, top - 0.6), "hair"),
    ]
