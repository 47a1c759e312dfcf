"""The drilling sheet that goes around a round post.

Frame: mm, u around the post as arc length from the datum line, v up. The sheet is longer than
the post's skin because its middle lies half a paper thickness further out: from butt line to
butt line it measures pi x (outside diameter + paper).
"""

from dataclasses import dataclass, replace
from math import asin, cos, pi, sin
from typing import Final

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.survey.display import both
from hangpost.generators.survey.units import Units
from hangpost.generators.writers.face import Face, Note, exit_face, flat_face, level, order
from hangpost.generators.writers.hole_marks import Mark
from hangpost.generators.writers.ink import Stroke, line, outline
from hangpost.parts.loop import Loop, Vertex

PAPER_THICKNESS: Final = 0.10  # 80 g/m2 copy paper; common practice, no source
TAB: Final = 12.0  # what overlaps behind the butt line
LEAST: Final = 50.0  # house: height of a sheet that lies square around a post


@dataclass(frozen=True, slots=True)
class Wrap:
    """The sheet that goes around a round post; arcs are told at the post's outside diameter."""

    template: Template
    paper: float = PAPER_THICKNESS

    @property
    def diameter(self) -> float:
        """Outside diameter of the post."""
        assert self.template.wrap_diameter is not None
        return self.template.wrap_diameter

    @property
    def stretch(self) -> float:
        """How much longer the paper is than the skin it lies on."""
        return (self.diameter + self.paper) / self.diameter

    @property
    def length(self) -> float:
        """From butt line to butt line on the paper."""
        return pi * (self.diameter + self.paper)

    @property
    def holes(self) -> tuple[Drilling, ...]:
        """Holes on the skin: entries, and exits on the far side when they go right through."""
        entries = self.template.holes
        if not self.template.through:
            return entries
        return (*entries, *(self._exit(h) for h in entries if not h.depth))

    def _exit(self, hole: Drilling) -> Drilling:
        """Where a straight hole, square to the seat, comes out again."""
        radius = self.diameter / 2
        aside = radius * sin(hole.u / radius)
        back = asin(max(-1.0, min(1.0, aside / radius)))
        if cos(hole.u / radius) < 0:
            back = pi - back
        far = (pi - back) * radius
        far = far - 2 * pi * radius if far > pi * radius else far
        return replace(hole, name=f"{hole.name}x", u=far, slot_length=0.0, slot_angle=0.0)

    @property
    def butt(self) -> float:
        """Arc at which the sheet begins: in the middle of the widest stretch without holes."""
        whole = pi * self.diameter
        at = sorted({round(h.u % whole, 9) for h in self.holes} | {0.0})
        gaps = [(b - a, a) for a, b in zip(at, [*at[1:], at[0] + whole], strict=True)]
        gap, start = max(gaps, key=lambda g: (round(g[0], 6), -g[1]))
        middle = (start + gap / 2) % whole
        return middle - whole if middle > 0 else middle

    def on_paper(self, u: float) -> float:
        """Where an arc on the skin lies on the sheet, between the butt lines."""
        whole = pi * self.diameter
        return (self.butt + (u - self.butt) % whole) * self.stretch

    def face(self, units: Units) -> Face:
        """The sheet, drawn."""
        template, start = self.template, self.butt * self.stretch
        end = start + self.length
        marks = tuple(Mark(h, (self.on_paper(h.u), h.v)) for h in self.holes)
        low = min([m.cover[1] for m in marks] + [-LEAST / 2]) - 6.0
        high = max([m.cover[3] for m in marks] + [LEAST / 2]) + 6.0
        lines = [
            line((start, low), (start, high), "thick"),
            line((end, low), (end, high), "thick"),
            line((start, low), (end + TAB, low), "hidden"),
            line((start, high), (end + TAB, high), "hidden"),
            line((end + TAB, low), (end + TAB, high), "hidden"),
            line((start, 0.0), (end, 0.0), "centre"),
            *self._seat(),
        ]
        notes = [
            Note.along("overlap tab, goes under", (end + TAB / 2, low), (end + TAB / 2, high)),
        ]
        butt = "BUTT LINE"
        quarters = {0: "DATUM LINE, along the post", 1: "quarter, right", 2: "behind"}
        for k, words in (*quarters.items(), (3, "quarter, left")):
            at = self.on_paper(k * pi * self.diameter / 4)
            if min(at - start, end - at) < 1.0:  # the sheet begins here: one line, one name
                butt = f"{butt}, {words}"
                continue
            lines.append(line((at, low), (at, high), "centre"))
            note = Note.along(words, (at, low), (at, high))
            short = Note.along(words.split(",")[0], (at, low), (at, high)) if k == 0 else None
            notes.append(replace(note, short=short))
        notes += [
            Note.along(butt, (start, low), (start, high)),
            Note.along(butt, (end, low), (end, high)),
            Note.along("level line", (start, 0.0), (end, 0.0)),
        ]
        extent = (start - 0.3, low - 1.0, end + TAB + 0.3, high + 1.0)
        remarks = (
            level(template, units),
            *order(template),
            f"Made for a circumference of {both(pi * self.diameter, units)}, outside diameter "
            f"{both(self.diameter, units, parts=64)}: tape around the post first.",
            "The butt lines must meet within 1 mm; if not, do not drill: measure again.",
        )
        return Face(
            template=template,
            units=units,
            kind="wrap",
            title=template.face,
            facing=template.facing,
            extent=extent,
            least=extent,
            lines=tuple(lines),
            notes=tuple(notes),
            marks=marks,
            remarks=remarks,
        )

    def _seat(self) -> list[Stroke]:
        """The outline of what will cover the post, stretched as the paper is."""
        outer = self.template.outline
        stretched = Loop(tuple(Vertex(v.x * self.stretch, v.y, v.bulge) for v in outer.vertices))
        left, _, right, _ = stretched.bounds
        start = self.butt * self.stretch
        whole = start <= left and right <= start + self.length
        return [outline(stretched, "phantom")] if whole else []


def faces(template: Template, units: Units) -> tuple[Face, ...]:
    """Every sheet that a template needs: one, or entry and exit."""
    if template.wrap_diameter is not None:
        return (Wrap(template).face(units),)
    if template.through and any(not h.depth for h in template.holes):
        return (flat_face(template, units), exit_face(template, units))
    return (flat_face(template, units),)
