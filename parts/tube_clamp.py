"""Split clamp: two half clamps round a tube, bolted together beside it.

For a bracket on a round rail, or on a round post that must not be drilled. Both halves are
saddle blocks whose hollow is a little less than half the tube, so that the bolts draw them on;
the bracket lies on the seat of the front one. They hold by friction: a locking bolt into the
tube, set last, keeps them from turning.

Frame: as the saddle block's. Units: mm.
"""

from hangpost.parts.saddle import SaddleBlock, SleeveBore

WALL = 6.0  # house: plastic on either side of a clamp bolt


def split_clamp(
    *,
    id: str,
    outside: float,
    bolt_bore: float,
    rows: tuple[float, ...],
    height: float,
    back_height: float,
    nip: float = 3.0,
    lock: SleeveBore | None = None,
) -> tuple[SaddleBlock, SaddleBlock]:
    """Front and back half for bolts in `rows` along the tube, `nip` between the drawn halves."""
    beside = outside / 2 + WALL / 2 + bolt_bore / 2
    bolts = tuple(SleeveBore(u, v, bolt_bore) for v in rows for u in (-beside, beside))
    front = SaddleBlock(
        id=f"{id}-front",
        outside=outside,
        width=2 * (beside + bolt_bore / 2 + WALL),
        length=2 * (max(abs(v) for v in rows) + bolt_bore / 2 + WALL),
        height=height,
        depth=(outside - nip) / 2,
        sleeves=(*bolts, lock) if lock else bolts,
    )
    plain = SaddleBlock(
        id=f"{id}-back",
        outside=outside,
        width=front.width,
        length=front.length,
        height=back_height,
        depth=front.depth,
        sleeves=bolts,
    )
    return front, plain
