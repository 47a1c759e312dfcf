"""The three sketches of the survey form: hinge and post from above, the leaf, the actuator.

They are no gate's picture: only shapes that show where each numbered size lies. Frame: mm on the
sheet; each sketch is drawn about its own place in the band.
"""

from typing import Final

from hangpost.generators.writers.ink import Circle, Text, arrow, frame, line
from hangpost.generators.writers.sheet import Item
from hangpost.parts.loop import Box, Point

SIZE: Final = 2.1


def sketches(band: Box) -> list[Item]:
    """All three in their band, from the left."""
    left, bottom, right, top = band
    first = left + 0.34 * (right - left)
    items: list[Item] = [frame(band, "hair"), line((first, bottom), (first, top), "hair")]
    middle = (bottom + top) / 2 - 6.0
    items.append(line((first, middle), (right, middle), "hair"))
    items += _plan((left, bottom, first, top))
    items += _leaf((first, middle, right, top))
    items += _actuator((first, bottom, right, middle))
    return items


def _ref(key: str) -> str:
    """The number of a key on the form."""
    from hangpost.generators.writers.survey_form import numbers

    return str(numbers()[key])


def _size(a: Point, b: Point, words: str) -> list[Item]:
    """A double arrow with a number beside its middle."""
    (ax, ay), (bx, by) = a, b
    mx, my = (ax + bx) / 2, (ay + by) / 2
    level = abs(ay - by) < abs(ax - bx)
    at = (mx, my + 0.8) if level else (mx + 1.0, my - 0.7)
    text = Text(at, words, SIZE, "centre" if level else "left", bold=True)
    out, back = arrow((mx, my), a, 1.8, "hair"), arrow((mx, my), b, 1.8, "hair")
    return [*out, *back, text]


def _plan(room: Box) -> list[Item]:
    """From above: post, hinge axis, leaf; the actuator is on the upper side."""
    left, bottom, right, top = room
    x, y = left + 12.0, bottom + 25.0  # lower left corner of the post
    wide, deep = 21.0, 21.0
    axis = (x + wide + 9.0, y + 8.0)
    items: list[Item] = [
        Text((left + 1.5, top - 3.5), "from above; actuator side is up", SIZE, bold=True),
        frame((x, y, x + wide, y + deep), "thick"),
        Circle(axis, 2.0, "thick"),
        frame((axis[0] + 1.5, axis[1] - 2.0, right - 3.0, axis[1] + 2.0), "thick"),
        Text((axis[0] + 3.0, axis[1] + 2.8), "leaf", SIZE),
        Text((x + 2.0, y + 2.0), "post", SIZE),
    ]
    corner, far = (x + wide, y + deep), (x, y + deep)
    items += _size(
        (x + wide, axis[1] - 15.0), (axis[0], axis[1] - 15.0), _ref("hinge.to_leaf_face")
    )
    items += [
        line((x + wide, y - 1.0), (x + wide, axis[1] - 17.0), "hair"),
        line((axis[0], axis[1] - 2.5), (axis[0], axis[1] - 23.5), "hair"),
        line((x, y - 1.0), (x, axis[1] - 23.5), "hair"),
    ]
    items += _size(
        (x, axis[1] - 22.0), (axis[0], axis[1] - 22.0), _ref("check.hinge_to_far_post_face")
    )
    up = axis[0] + 12.0
    items += [
        line((corner[0] + 1.0, corner[1]), (up + 1.5, corner[1]), "hair"),
        *_size((up, axis[1] + 2.5), (up, corner[1]), _ref("hinge.to_actuator_face")),
    ]
    items += _size((x, y + deep + 4.0), (x + wide, y + deep + 4.0), f"{_ref('post.measured')} a")
    items += _size((x - 5.0, y), (x - 5.0, y + deep), "")
    items.append(
        Text((x - 6.0, y + deep / 2), f"{_ref('post.measured')} b", SIZE, "right", bold=True)
    )
    items += [
        line(axis, corner, "hidden"),
        line(axis, far, "hidden"),
        Text((corner[0] + 4.6, y + 15.5), _ref("check.hinge_to_near_corner"), SIZE, bold=True),
        Text((x + 4.0, y + 14.5), _ref("check.hinge_to_far_corner"), SIZE, bold=True),
    ]
    back = right - 6.0
    items += [
        line((x + wide + 1.0, y), (back + 1.5, y), "hair"),
        *_size((back, axis[1] - 2.2), (back, y), ""),
        Text((back - 0.8, y - 3.0), _ref("check.hinge_to_back_face"), SIZE, "right", bold=True),
    ]
    return items


def _leaf(room: Box) -> list[Item]:
    """From the actuator's side, hinges at the right."""
    left, bottom, right, top = room
    ground = bottom + 6.0
    x0, x1 = left + 26.0, right - 26.0
    low, high = ground + 4.0, top - 6.5
    items: list[Item] = [
        Text((left + 1.5, top - 3.5), "from the actuator side", SIZE, bold=True),
        line((left + 3.0, ground), (right - 3.0, ground), "thick"),
        frame((x0, low, x1, high), "thick"),
        line((x0, (low + high) / 2), (x1, (low + high) / 2), "thin"),
        frame((right - 20.0, ground, right - 13.0, top - 4.5), "thick"),
        frame((left + 8.0, ground, left + 15.0, top - 4.5), "thick"),
        line((x1 + 2.0, ground), (x1 + 2.0, top - 3.0), "centre"),
        line((x1 + 2.0, low), (x0, high), "hidden"),
        Text(
            ((x0 + x1) / 2 + 8.0, (low + high) / 2 + 4.0),
            _ref("check.leaf_diagonal"),
            SIZE,
            bold=True,
        ),
    ]
    items += _size((x0, low + 3.0), (x1 + 2.0, low + 3.0), _ref("leaf.width"))
    items += _size((x0 + 14.0, ground), (x0 + 14.0, low), _ref("leaf.bottom"))
    items += _size((x0 + 8.0, low), (x0 + 8.0, high), "")
    items.append(Text((x0 + 9.2, low + 0.3 * (high - low)), _ref("leaf.height"), SIZE, bold=True))
    items += _size((left + 15.0, high - 3.0), (x0, high - 3.0), _ref("lock.gap"))
    items += _size((left + 15.0, ground - 2.6), (x1 + 2.0, ground - 2.6), "")
    items.append(
        Text(
            ((x0 + x1) / 2, ground - 5.2),
            _ref("check.hinge_to_latch_post"),
            SIZE,
            "centre",
            bold=True,
        )
    )
    items += _size(
        (left + 20.5, ground), (left + 20.5, high - 6.0), _ref("check.ground_to_leaf_top")
    )
    return items


def _actuator(room: Box) -> list[Item]:
    """Eyes, body and rod."""
    left, bottom, right, top = room
    y = (bottom + top) / 2 - 1.0
    a, b = left + 14.0, right - 16.0
    body, neck = a + 12.0, a + 0.6 * (b - a)
    items: list[Item] = [
        Text((left + 1.5, top - 3.5), "actuator", SIZE, bold=True),
        Circle((a, y), 6.0, "thick"),
        Circle((a, y), 2.6, "thin"),
        Circle((b, y), 6.0, "thick"),
        Circle((b, y), 2.6, "thin"),
        frame((body, y - 4.0, neck, y + 4.0), "thick"),
        line((a + 3.0, y), (body, y), "thick"),
        line((neck, y), (b - 3.0, y), "thick"),
    ]
    items += _size((a, y - 8.0), (b, y - 8.0), _ref("actuator.retracted"))
    items += _size((a, y + 6.0), (body, y + 6.0), _ref("actuator.post_eye.to_body"))
    items += _size((neck - 6.0, y - 4.0), (neck - 6.0, y + 4.0), _ref("actuator.body_diameter"))
    items.append(
        Text((a - 4.5, y - 0.7), _ref("actuator.post_eye.radius"), SIZE, "right", bold=True)
    )
    items.append(Text((b + 4.5, y - 0.7), _ref("actuator.leaf_eye.pin"), SIZE, bold=True))
    words = f"all the way out: {_ref('check.actuator_extended')}"
    items.append(Text((b, y - 12.0), words, SIZE, "right", bold=True))
    return items
