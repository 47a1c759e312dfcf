"""How near moving things come to each other over the whole swing, and whether any of them foul.

Bodies are closed meshes; each says where it stands at every opening angle. A pair is judged at
the given angles and between them: from one angle to the next no point of a body goes farther
than the corners of its box, so a stretch whose ends are farther apart than that hides nothing.
Angles at which boxes, or slabs between the two bodies, prove a greater distance are passed over.
The least found is then made precise between its neighbours. Distances come from FCL (trees of
boxes over triangles); FCL sees surfaces only, so penetration and one body inside another are
taken from the common volume (manifold3d).

The chord errors of both meshes are taken off the distance. Frame: the plan frame; mm, mm3,
degrees.
"""

from collections.abc import Collection, Sequence

from hangpost.generators.clearance.meeting import Meeting
from hangpost.generators.clearance.records import OVERLAP, Clearance, Moving, Pair
from hangpost.generators.clearance.solid import Solid

__all__ = ["OVERLAP", "Bodies", "Clearance", "Moving", "Pair", "course", "sweep"]


class Bodies:
    """Bodies as the libraries know them, made once for as many sweeps as are wanted."""

    def __init__(self, bodies: Sequence[Moving]) -> None:
        """Names must differ: pairs are told by them."""
        self._solids = {body.name: Solid(body) for body in bodies}
        if len(self._solids) < len(bodies):
            raise ValueError("two bodies of a sweep have the same name")

    def sweep(
        self, angles: Sequence[float], pairs: Sequence[Pair], touching: Collection[Pair] = ()
    ) -> tuple[Clearance, ...]:
        """What every pair leaves over the swing; `touching` names pairs in contact by design."""
        held = {frozenset(pair) for pair in touching}
        return tuple(
            self._meeting(pair, angles).judged(touching=frozenset(pair) in held) for pair in pairs
        )

    def tightest(self, angle: float, pairs: Sequence[Pair]) -> Clearance | None:
        """The pair with the least room at one angle; boxes tell which are not worth measuring."""
        found: Clearance | None = None
        meetings = [self._meeting(pair, [angle]) for pair in pairs]
        for meeting in sorted(meetings, key=lambda each: each.apart):
            if found is not None and meeting.apart > found.room:
                break
            row = meeting.judged(touching=False)
            found = row if found is None else min(found, row, key=lambda each: each.room)
        return found

    def _meeting(self, pair: Pair, angles: Sequence[float]) -> Meeting:
        a, b = pair
        return Meeting(self._solids[a], self._solids[b], tuple(angles))


def sweep(
    bodies: Sequence[Moving],
    angles: Sequence[float],
    pairs: Sequence[Pair],
    touching: Collection[Pair] = (),
) -> tuple[Clearance, ...]:
    """One sweep of these bodies."""
    return Bodies(bodies).sweep(angles, pairs, touching)


def course(a: Moving, b: Moving, angles: Sequence[float]) -> tuple[float, ...]:
    """The distance between two bodies at each angle, chord errors taken off: for a list of gaps."""
    meeting = Meeting(Solid(a), Solid(b), tuple(angles))
    return tuple(max(meeting.gap(angle) - a.chord - b.chord, 0.0) for angle in angles)
