"""A few words of SVG: shapes as text, numbers with two decimals, everything escaped.

Pixels, y down. SVG 1.1, so that old viewers and print shops take it too.
"""

from collections.abc import Iterable, Mapping
from hashlib import sha256
from html import escape

Point = tuple[float, float]
Attributes = Mapping[str, str | float]


def number(value: float) -> str:
    """A coordinate, short and without minus zero."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def tag(name: str, attributes: Attributes, inside: str = "") -> str:
    """An element with what is inside it."""
    said = "".join(f' {key}="{escape(_text(value))}"' for key, value in attributes.items())
    return f"<{name}{said}>{inside}</{name}>" if inside else f"<{name}{said}/>"


def _text(value: str | float) -> str:
    return value if isinstance(value, str) else number(value)


def path(lines: Iterable[Iterable[Point]], closed: bool = False) -> str:
    """The `d` of a path through points."""
    pieces = []
    for line in lines:
        points = [f"{number(x)} {number(y)}" for x, y in line]
        pieces.append("M" + "L".join(points) + ("Z" if closed else ""))
    return "".join(pieces)


def words(at: Point, said: str, attributes: Attributes) -> str:
    """A line of text."""
    return tag("text", {"x": at[0], "y": at[1], **attributes}, escape(said))


def document(width: float, height: float, title: str, described: str, inside: str) -> str:
    """A whole file, with what a screen reader says."""
    head = tag("title", {}, escape(title)) + tag("desc", {}, escape(described))
    attributes: dict[str, str | float] = {
        "xmlns": "http://www.w3.org/2000/svg",
        "width": width,
        "height": height,
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "role": "img",
        "font-family": "DejaVu Sans, Verdana, Arial, sans-serif",
    }
    body = _own_ids(tag("svg", attributes, f"{head}\n{inside}\n"))
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{body}\n'


def _own_ids(text: str) -> str:
    """Ids that no other drawing on the same page has: each begins with the drawing's digest."""
    own = f"d{sha256(text.encode('utf-8')).hexdigest()[:10]}"
    return text.replace(' id="', f' id="{own}-').replace("url(#", f"url(#{own}-")
