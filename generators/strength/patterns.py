"""Where the fasteners of a seat on timber go: columns from the edges, rows until the group holds.

Frame: the seat's own, u across the post, v along it, both from the middle. Units: mm.
The thrust acts across the grain and both ways, so both edges of the post are loaded edges.
Sources: NDS 2018 12.5.1 by timber_spacing; the choice of one or two columns is ours.
"""

from collections.abc import Callable, Iterable

from hangpost.generators.strength.timber_spacing import edge_across, spacing_in_row

Point = tuple[float, float]


def columns(breadth: float, diameter: float) -> tuple[float, ...]:
    """Places of the columns on a face: two, as far apart as 4 D to both edges allows, or one.

    One column in the middle when two would stand closer than the 4 D between fasteners in the
    load's line; none when the post is too narrow for that as well.
    """
    reach = breadth / 2 - edge_across(diameter, loaded=True)
    if 2 * reach >= spacing_in_row(diameter, across=True):
        return -reach, reach
    return (0.0,) if reach >= 0 else ()


def rows(count: int, *, first: float, spacing: float) -> tuple[float, ...]:
    """Heights of `count` rows above and as many below the ears, the nearest at `first`."""
    above = tuple(first + spacing * i for i in range(count))
    return tuple(-v for v in reversed(above)) + above


def grid(across: tuple[float, ...], along: tuple[float, ...]) -> tuple[Point, ...]:
    """Every column at every row."""
    return tuple((u, v) for v in along for u in across)


def fewest_rows(
    utilisation: Callable[[int], float], counts: Iterable[int], *, reserve: float = 1.0
) -> tuple[int | None, tuple[tuple[int, float], ...]]:
    """First number of rows whose utilisation keeps to `reserve`, and those that did not hold.

    None when no number does; the list then ends with the best that was tried last.
    """
    failed: list[tuple[int, float]] = []
    for count in counts:
        used = utilisation(count)
        if used <= reserve:
            return count, tuple(failed)
        failed.append((count, used))
    return None, tuple(failed)
