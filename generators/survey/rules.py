"""Rules between tables of the site file, and notes that are no mistakes but worth a word.

Each rule names the tables it looks at, so that those whose tables are sound are tried even when
another table is not. A mistake stops the work; a note is printed and printed again on the sheets.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from hangpost.generators.survey.display import both, inches, plain
from hangpost.generators.survey.fields import Broken
from hangpost.generators.survey.post import AnyPost
from hangpost.generators.survey.sections import timber
from hangpost.generators.survey.units import BARE, FACTORS
from hangpost.parts import tables

ROUGH: Final = tables.INCH / 8  # over the dressed size, least of most rough pieces: PS 20 (memory)

if TYPE_CHECKING:  # the site applies these rules to itself
    from hangpost.generators.survey.site import HungLeaf, Site


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """Something the person should know: the key it is about, and the words."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A rule and the tables it needs."""

    needs: tuple[str, ...]
    finds: Callable[["Site"], Iterator[Broken]]


def broken(site: "Site", sound: Mapping[str, object] | None = None) -> Iterator[Broken]:
    """Yield every broken rule; of a half-read site only rules whose tables are `sound`."""
    for rule in RULES:
        if sound is None or all(name in sound for name in rule.needs):
            yield from rule.finds(site)


def _hands(site: "Site") -> Iterator[Broken]:
    if site.is_double and len({each.hand for each in site.leaves}) == 1:
        yield Broken(
            "leaf[2].hinge.hand", "is the same as the first leaf's", "the two hang opposite"
        )


def _axis_outside_post(site: "Site") -> Iterator[Broken]:
    for each in site.leaves:
        x0, y0, x1, y1 = each.post_box
        if x0 < 0.0 < x1 and y0 < 0.0 < y1:
            yield Broken(
                _own(each, "hinge", "to_leaf_face"),
                "puts the hinge axis inside the post",
                "0 or more, unless to_actuator_face is negative",
            )


def _pins_on_leaf(site: "Site") -> Iterator[Broken]:
    for each in site.leaves:
        low, high = each.leaf.bottom, each.leaf.top
        if not low <= each.pin_height <= high:
            yield Broken(
                _own(each, "actuator", "height"),
                "is above or below the leaf, which has to carry the pin",
                f"{both(low, site.units)} to {both(high, site.units)} above ground",
            )


def _stroke_for_leaf(site: "Site") -> Iterator[Broken]:
    for each in site.leaves:
        if each.actuator.retracted >= 1.5 * each.leaf.width:
            yield Broken(
                _own(each, "actuator", "retracted"),
                "is half as long again as the leaf or more",
                f"less than {both(1.5 * each.leaf.width, site.units)}",
            )


def _ground_clear(site: "Site") -> Iterator[Broken]:
    for each in site.leaves:
        # Rising hinges have lifted the leaf only at the end of the swing, not on the way.
        highest = max(site.ground.rise_at_open - each.hinge.rise, site.ground.rise_under_arc)
        if highest > 0.0 and not each.leaf.bottom > highest:
            key = "rise_under_arc" if site.ground.rise_under_arc == highest else "rise_at_open"
            yield Broken(
                f"ground.{key}",
                "lets the leaf run into the ground",
                f"less than the {both(each.leaf.bottom, site.units)} under the leaf",
            )


def _obstacle_names(site: "Site") -> Iterator[Broken]:
    names = [each.name for each in site.obstacle]
    for index, name in enumerate(names):
        if name in names[:index]:
            yield Broken(f"obstacle[{index + 1}].name", "is used twice", "a name of its own")


def _lock(site: "Site") -> Iterator[Broken]:
    lock = site.lock
    if lock is None:
        return
    low, high = site.leaf[0].bottom, site.leaf[0].top
    if not low <= lock.bolt_height <= high:
        yield Broken(
            "lock.bolt_height",
            "is above or below the leaf",
            f"{both(low, site.units)} to {both(high, site.units)} above ground",
        )
    if site.is_double and site.meeting.overlap and site.meeting.first_to_close == 1:
        yield Broken(
            "meeting.first_to_close",
            "is the leaf with the lock, which the receiver on the other leaf lets in last",
            "2, or list the leaves the other way round",
        )
    if site.is_double and lock.post is not None:
        yield Broken("lock.post", "is there, and the second leaf takes the bolt", "leave it out")
    if not site.is_double and lock.post is None:
        yield Broken("lock.post", "is missing", '{ kind = "timber", size = "6x6" } for example')
    if not site.is_double and lock.gap is None:
        yield Broken("lock.gap", "is missing", "latch edge to latch post")


RULES: Final = (
    Rule(("leaf", "hinge", "post", "opening", "actuator"), _hands),
    Rule(("leaf", "hinge", "post", "opening", "actuator"), _axis_outside_post),
    Rule(("leaf", "hinge", "post", "opening", "actuator"), _pins_on_leaf),
    Rule(("leaf", "hinge", "post", "opening", "actuator"), _stroke_for_leaf),
    Rule(("leaf", "hinge", "post", "opening", "actuator", "ground"), _ground_clear),
    Rule(("obstacle",), _obstacle_names),
    Rule(("leaf", "lock", "meeting"), _lock),
)


def _own(each: "HungLeaf", table: str, key: str) -> str:
    own = getattr(each.leaf, table) is not None
    return f"leaf[{each.number}].{table}.{key}" if own else f"{table}.{key}"


def notes(site: "Site") -> tuple[Note, ...]:
    """Return what the person should know about figures that are sound but doubtful."""
    found: list[Note] = []
    for each in site.leaves:
        if each.number == 1 or each.leaf.post is not None:
            found.extend(_post_notes(each, site))
    for each in site.leaves:
        found.extend(_actuator_notes(each))
        if each.hinge.count < 3 and not each.hinge.tether:
            found.append(
                Note(
                    key=_own(each, "hinge", "count"),
                    words=f"{each.hinge.count} hinges and no tether: if one fails the leaf falls. "
                    "Fit a third hinge or a tether.",
                )
            )
    if site.lock is not None and site.lock.post is not None:
        found.extend(_size_notes(site.lock.post, "lock.post", site))
    found.extend(_wind_notes(site))
    return tuple(dict.fromkeys(found))


def _wind_notes(site: "Site") -> Iterator[Note]:
    """What wind was taken where the file names none: it decides more than most of its figures."""
    for key, use in (("operating", "move in"), ("survival", "stand")):
        if not site.wind.given(key):
            unit = BARE[site.units]["wind"]
            speed = plain(getattr(site.wind, key) / FACTORS["wind"][unit], places=1)
            words = (
                f"not given: {speed} {unit} is taken as the wind that the gate must {use} (house)."
            )
            yield Note(key=f"wind.{key}", words=words)


def _post_notes(each: "HungLeaf", site: "Site") -> Iterator[Note]:
    key = "post" if each.leaf.post is None else f"leaf[{each.number}].post"
    yield from _size_notes(each.post, key, site)
    if each.post.is_small:
        yield Note(
            key=f"{key}.accept_small",
            words=f"a round post of {both(each.post.width, site.units)} is under 3 in and was "
            "accepted on your word (common practice, no source); expect it to bend.",
        )


def _size_notes(post: AnyPost, key: str, site: "Site") -> Iterator[Note]:
    if post.is_by_name:
        size = f"{both(post.width, site.units)} by {both(post.depth, site.units)}"
        where = "around the post" if post.is_round else "both faces at bracket height"
        found = f"{size} is what the table says for {post.size}"
        if post.kind == "timber" and post.surface == "rough":
            sides = timber(str(post.size), "dressed")
            least = (both(side + ROUGH, site.units) for side in (sides.first, sides.second))
            found = (
                f"{size} is a rough {post.size} of full size, and it may be {' by '.join(least)}"
            )
        yield Note(key=f"{key}.size", words=f"{found}; measure {where} before cutting.")
    if post.is_round:
        yield from _pipe_questions(post, key)


def _pipe_questions(post: AnyPost, key: str) -> Iterator[Note]:
    named = {float(tables.inches(pipe.nps)): pipe for pipe in tables.pipes()}
    if post.measured and post.circumference is None:
        for size, pipe in named.items():
            if abs(post.measured[0] - size) <= 0.3:
                around = inches(pipe.outside * 3.14159265).text
                yield Note(
                    key=f"{key}.measured",
                    words=f"{pipe.nps} in is also the name of a pipe that measures "
                    f"{pipe.outside / tables.INCH:.3f} in across ({around} in around). Put a tape "
                    "around the post and give circumference.",
                )
    if post.size is not None and not post.is_measured:
        pipe = tables.pipe(post.size)
        fence = next((p for p in tables.pipes() if p.fence_name == pipe.nps), None)
        if fence is not None:
            yield Note(
                key=f"{key}.size",
                words=f"a plumber's {pipe.nps} in pipe is {pipe.outside / tables.INCH:.3f} in "
                f"across, a fence {pipe.nps} in is often {fence.outside / tables.INCH:.3f} in. "
                "Put a tape around the post and give circumference.",
            )


def _actuator_notes(each: "HungLeaf") -> Iterator[Note]:
    actuator = each.actuator
    body = actuator.retracted - actuator.post_eye.to_body - actuator.at_leaf.to_body
    if body < actuator.stroke:
        yield Note(
            key=_own(each, "actuator", "retracted"),
            words="the body between the eyes is shorter than the stroke; measure retracted and "
            "stroke again.",
        )
