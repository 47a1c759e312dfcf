"""A flat face that gets holes, drawn at full size from the front or from behind.

Frame: mm in the face as one looks at it, datum at (0, 0), u right, v up.
"""

from dataclasses import dataclass, replace
from typing import Final, Literal

from hangpost.generators.hardware.design import Template
from hangpost.generators.survey.display import both
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.fonts import CAPITAL
from hangpost.generators.writers.hole_marks import Mark
from hangpost.generators.writers.ink import Stroke, Text, line, outline, together
from hangpost.generators.writers.layout import grown
from hangpost.parts.loop import Box, Point

Kind = Literal["entry", "exit", "wrap"]
_OTHER_SIDE: Final = {
    "yard side": "road side",
    "road side": "yard side",
    "actuator side": "away from the actuator",
}
_NOTE: Final = 2.1
TIE: Final = (
    "Best: tie the actuator first and drill where the bracket then stands. Drilled from this "
    "paper, slide the bracket in its slots to the length pin to pin (installation sheet)."
)


@dataclass(frozen=True, slots=True)
class Note:
    """A word that goes with a line: set around the origin, and the spots where it may stand.

    `short` stands there instead where there is no room for all of it.
    """

    text: Text
    spots: tuple[Point, ...]
    short: "Note | None" = None

    @classmethod
    def along(cls, words: str, start: Point, end: Point, *, beyond: bool = False) -> "Note":
        """A note anywhere along an upright or a level line; `beyond`: right or below it first."""
        upright = start[0] == end[0]
        text = Text((0.0, 0.0), words, _NOTE, angle=90.0 if upright else 0.0)
        length = (end[1] - start[1]) if upright else (end[0] - start[0])
        steps = [1.0 + k for k in range(int(max(length - text.width - 2.0, 0.0)) + 1)]
        near, far = 0.9, CAPITAL * _NOTE + 1.0  # off the line on its left or upper side, or beyond
        spots = [
            (start[0] + side, start[1] + step) if upright else (start[0] + step, start[1] - side)
            for step in steps
            for side in ((far, -near) if beyond else (-near, far))
        ]
        return cls(text, tuple(spots))


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """One face drawn in its own frame: `lines` may be cut at a sheet's edge, the rest may not."""

    template: Template
    units: Units  # the shop's, which stand first
    kind: Kind
    title: str
    facing: str
    extent: Box  # everything
    least: Box  # what one sheet must show at the least: holes and datum
    lines: tuple[Stroke, ...]
    notes: tuple[Note, ...]
    marks: tuple[Mark, ...]
    remarks: tuple[str, ...] = ()  # sentences for the header


def flat_face(template: Template, units: Units) -> Face:
    """The face as one looks at it before a hole is drilled."""
    remarks = [level(template, units), *order(template)]
    if template.tied and not all(h.last for h in template.holes):
        remarks.append(TIE)
    if template.through and template.holes:
        remarks.append("Drill from this face and from the exit face; the holes meet in the middle.")
    return _drawn(template, "entry", template.face, template.facing, tuple(remarks), units)


def exit_face(template: Template, units: Units) -> Face:
    """The opposite face as one looks at it: holes mirrored, blind ones left out, lettering not."""
    back = template.mirrored()
    behind = replace(back, through=True, holes=tuple(h for h in back.holes if not h.depth))
    host = template.face.split(", face ")[0]
    other = f"away from {template.facing}".replace(" side", "")
    facing = _OTHER_SIDE.get(template.facing, other) if template.facing else ""
    remarks = (
        level(template, units),
        *order(behind),
        f"EXIT FACE, {both(template.depth, units)} behind the other: the pattern is mirrored, left "
        "and right are as you stand.",
    )
    return _drawn(behind, "exit", f"{host}: EXIT FACE", facing, remarks, units)


def order(template: Template) -> tuple[str, ...]:
    """In what order the holes are drilled, and what must not be cut."""
    first, last = (_names(template, last=last) for last in (False, True))
    slots = any(h.slot_length for h in template.holes)
    found: list[str] = []
    if template.tied and last and not first:
        found.append(
            f"Tie the actuator and clamp the bracket first, then drill {last} through it; these "
            "marks only show where that will be."
        )
    elif last:
        found.append(f"Drill {first} first; {last} last, through the part, once that is set.")
    if slots:
        found.append("Dashed: slots of the part that goes on top. Do not cut them here.")
    return tuple(found)


def _names(template: Template, *, last: bool) -> str:
    return ", ".join(h.name for h in template.holes if h.last is last)


def level(template: Template, units: Units) -> str:
    """The sentence that names datum and level line."""
    height = both(template.height, units)
    return f"Datum (0, 0): {template.datum}. Level line {height} above finished ground."


def level_words(template: Template, units: Units) -> str:
    """What stands on the level line."""
    return f"level line, {both(template.height, units)} above ground"


def _drawn(
    template: Template,
    kind: Kind,
    title: str,
    facing: str,
    remarks: tuple[str, ...],
    units: Units,
) -> Face:
    marks = tuple(Mark(h, (h.u, h.v)) for h in template.holes)
    seat = template.outline.bounds
    edges = [(u, 0.0, u, 0.0) for u in template.edges]
    core = together([seat, *(m.cover for m in marks), (0.0, 0.0, 0.0, 0.0), *edges])
    left, bottom, right, top = grown(core, 5.0)
    lines = [
        outline(template.outline, "phantom"),
        line((left, 0.0), (right, 0.0), "centre"),
        *(line((u, bottom), (u, top), "thick") for u in template.edges),
    ]
    if 0.0 not in template.edges:
        lines.append(line((0.0, bottom), (0.0, top), "centre"))
    named = dict(zip(template.edges, template.edge_names, strict=False))
    named[0.0] = f"{named[0.0]}, plumb line" if 0.0 in named else "plumb line"
    middle = (seat[0] + seat[2]) / 2
    notes = [
        Note.along(words, (u, bottom), (u, top), beyond=u > middle) for u, words in named.items()
    ]
    short = Note.along("level line", (left, 0.0), (right, 0.0))
    whole = Note.along(level_words(template, units), (left, 0.0), (right, 0.0))
    notes.append(replace(whole, short=short))
    steps = range(int(right - left), 0, -3)  # a sheet that shows less finds its own place
    if template.left_side:
        said = Text((0.0, 0.0), f"\u2190 {template.left_side}", 3.0, bold=True)
        spots = [left, *(right - k for k in steps)]
        notes.append(Note(said, tuple((u, top + 1.2) for u in spots)))
    if template.right_side:
        said = Text((0.0, 0.0), f"{template.right_side} \u2192", 3.0, "right", bold=True)
        spots = [right, *(left + k for k in steps)]
        notes.append(Note(said, tuple((u, top + 1.2) for u in spots)))
    return Face(
        template=template,
        units=units,
        kind=kind,
        title=title,
        facing=facing,
        extent=(left, bottom, right, top + 5.0),
        least=grown(together([*(m.cover for m in marks), (0.0, 0.0, 0.0, 0.0)]), 1.0),
        lines=tuple(lines),
        notes=tuple(notes),
        marks=marks,
        remarks=remarks,
    )
