"""Faces for the tests of templates, invented, and readers that find circles on a page."""

import pikepdf

from hangpost.generators.hardware.design import Drilling, Template
from hangpost.generators.writers.stamp import Stamp
from hangpost.parts.loop import rectangle

MM = 72 / 25.4
STAMP = Stamp(
    job="Invented orchard gate",
    site_sha256="3f" * 32,
    version="0.1.0",
    record='units = "in"\njob = "Invented orchard gate"  # a note\n# another\n[post]\nsize = "6x6"\n',
)


def drilling(name: str, u: float, v: float, diameter: float = 11.1, **more: float) -> Drilling:
    return Drilling(name=name, u=u, v=v, diameter=diameter, pilot=8.0, **more)


POST = Template(
    id="post",
    part_id="post-bracket",
    face="hanging post, face towards the actuator",
    datum="the post's leaf-side edge at pin height",
    holes=tuple(
        drilling(n, u, v, slot_length=12.0)
        for n, u, v in (
            ("A", 43.0, 47.0),
            ("B", 97.0, 47.0),
            ("C", 43.0, -47.0),
            ("D", 97.0, -47.0),
            ("E", 43.0, 88.0),
            ("F", 97.0, -88.0),
        )
    ),
    outline=rectangle(20, -103, 121, 103, 6),
    edges=(0.0, 139.7),
    edge_names=("post edge, leaf side", "post edge, far side"),
    height=660.4,
    right_side="away from the leaf",
    left_side="leaf",
    facing="yard side",
    through=True,
    depth=139.7,
)
LATCH = Template(
    id="latch",
    part_id="receiver",
    face="latch post, face towards the leaf",
    datum="middle of the face at bolt height",
    holes=tuple(
        drilling(n, u, v, 9.0) for n, u, v in (("A", -41, 30), ("B", 39, 31), ("C", 2, -33))
    ),
    outline=rectangle(-60, -50, 61, 52, 6),
    edges=(-69.85, 69.85),
    edge_names=("post edge", "post edge"),
    height=711.2,
)
TALL = Template(
    id="tall",
    part_id="long-plate",
    face="a long face",
    datum="the left edge",
    holes=tuple(drilling(f"H{k}", 31.0 + k % 2 * 67.0, -249.0 + k // 2 * 56.0) for k in range(18)),
    outline=rectangle(10, -270, 125, 220, 6),
    edges=(0.0, 139.7),
    edge_names=("left edge", "right edge"),
    height=900.0,
)
WIDE = Template(
    id="wide",
    part_id="leaf-bracket",
    face="leaf, rail",
    datum="the rail's centre line at the leaf pivot",
    holes=tuple(drilling(n, u, 0.0, 10.5) for n, u in (("A", -93.0), ("B", -66), ("C", 94.0))),
    outline=rectangle(-100, -25, 101, 25, 6),
    height=660.4,
    facing="road side",
)
ALL = (POST, LATCH, TALL, WIDE)


def circles_by_pdfplumber(page):
    """Centre and diameter, in mm, of every closed curve that is as wide as it is high."""
    found = []
    for curve in page.curves:
        wide, high = curve["x1"] - curve["x0"], curve["bottom"] - curve["top"]
        if abs(wide - high) < 0.02 and len(curve["pts"]) >= 8:
            x, y = (curve["x0"] + curve["x1"]) / 2, (curve["top"] + curve["bottom"]) / 2
            found.append((x / MM, (float(page.height) - y) / MM, wide / MM))
    return found


def circles_by_pikepdf(page):
    """The same from the page's own operators: paths of nothing but eight curves."""
    found, nodes = [], []
    for operands, operator in pikepdf.parse_content_stream(page):
        name, numbers = (
            str(operator),
            [
                float(n)
                for n in operands
                if not isinstance(n, (pikepdf.Name, pikepdf.Array, pikepdf.String))
            ],
        )
        if name == "m":
            nodes = []
        elif name == "c":
            nodes.append(numbers[4:])
        elif name == "l":
            nodes = [None] * 99
        elif name in ("S", "s", "b", "B", "f", "n") and len(nodes) == 8:
            xs, ys = zip(*nodes, strict=True)
            found.append(
                (
                    (max(xs) + min(xs)) / 2 / MM,
                    (max(ys) + min(ys)) / 2 / MM,
                    (max(xs) - min(xs)) / MM,
                )
            )
            nodes = []
    return found
