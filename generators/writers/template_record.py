"""A drilling template as data and back, so that a pack's sheets can be issued again from it.

What `pack.json` says of a template's holes for other programs stays as it is; this is the rest of
the drawing, under the key `drawn`. Units: mm, degrees.
"""

from collections.abc import Mapping
from typing import Any

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.survey.shop import Shop
from hangpost.parts.loop import Loop, Vertex


def drawn_data(template: Template, shop: Shop) -> dict[str, Any]:
    """What a template's sheet shows besides its holes, and what its foot says."""
    return {
        "outline": [[v.x, v.y, v.bulge] for v in template.outline.vertices],
        "edges": list(template.edges),
        "edge_names": list(template.edge_names),
        "left_side": template.left_side,
        "right_side": template.right_side,
        "facing": template.facing,
        "through": template.through,
        "depth": template.depth,
        "tied": template.tied,
        "revision": shop.revision,
        "units": shop.drawings.units,
    }


def template_from(data: Mapping[str, Any]) -> Template:
    """The template that a pack's manifest describes, for the hand it was written for.

    Raises KeyError, TypeError or ValueError when the manifest is not as it should be.
    """
    drawn = data["drawn"]
    wrap = data["wrap_diameter"]
    return Template(
        id=str(data["id"]),
        part_id=str(data["part"]),
        face=str(data["face"]),
        datum=str(data["datum"]),
        holes=tuple(_drilling(hole) for hole in data["holes"]),
        outline=Loop(tuple(Vertex(float(x), float(y), float(b)) for x, y, b in drawn["outline"])),
        edges=tuple(float(u) for u in drawn["edges"]),
        edge_names=tuple(str(n) for n in drawn["edge_names"]),
        wrap_diameter=None if wrap is None else float(wrap),
        height=float(data["height"]),
        right_side=str(drawn["right_side"]),
        left_side=str(drawn["left_side"]),
        facing=str(drawn["facing"]),
        through=bool(drawn["through"]),
        depth=float(drawn["depth"]),
        tied=bool(drawn.get("tied", False)),
    )


def _drilling(data: Mapping[str, Any]) -> Drilling:
    u, v = data["at"]
    return Drilling(
        name=str(data["name"]),
        u=float(u),
        v=float(v),
        diameter=float(data["diameter"]),
        pilot=float(data["pilot"]),
        depth=float(data["depth"]),
        slot_length=float(data["slot_length"]),
        slot_angle=float(data["slot_angle"]),
        last=bool(data.get("last", False)),
    )
