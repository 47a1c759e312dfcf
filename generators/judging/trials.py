"""Trying one combination of the stock after another at one end of the actuator, lightest first.

Candidates come in the order of their mass as estimated by a formula; what has passed is then
weighed truly against those that might still be lighter. A plate whose ears fail is not tried with
other fasteners. Pure arithmetic, no CAD. Units: mm, kg.
"""

from dataclasses import dataclass, replace
from math import inf, isfinite

from hangpost.generators.checks import Check
from hangpost.generators.hardware.build import leaf_kit, post_kit
from hangpost.generators.hardware.design import LeafDesign
from hangpost.generators.hardware.fixing import FACETS
from hangpost.generators.hardware.head_room import room_over_heads
from hangpost.generators.hardware.kit import Kit, NoHardware
from hangpost.generators.hardware.picks import Picks
from hangpost.generators.hardware.slots import needed
from hangpost.generators.judging.candidates import BETWEEN, Job, candidates, mass_of
from hangpost.generators.judging.judge import bench_for, make_checks, strength_checks
from hangpost.generators.judging.loads import PinLoads, pin_loads
from hangpost.generators.judging.stock import Stock, StockError
from hangpost.parts.frame import Frame

SHORTER = (0.85, 0.65)  # of the travel asked for, tried when nothing passes with all of it; house
NEARLY = 1.3  # utilisation above which a shorter slot or another neck would not help; house
MARGIN = 1.12  # how far an estimate of the mass may be out; house
PLAIN = Frame((0.0, 0.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """One combination at one end: its mass, and the worst of its checks."""

    picks: Picks
    mass: float
    worst: Check | None  # the failing check that is farthest over; None when all pass
    ears: float = 0.0  # how far the ears are over, which hangs on their plate alone
    refused: str = ""  # why it cannot be made at all
    short: bool = False  # its bolts allow no slots as long as the leaf's are asked to be
    tight: bool = False  # its bolts stand too near the actuator's body as it passes
    eases: tuple[str, ...] = ()  # what would let it be lighter, in sentences

    @property
    def passed(self) -> bool:
        """Whether it can be made and every check passes."""
        return self.worst is None and not self.refused

    @property
    def whole(self) -> bool:
        """Whether it passes with slots as long as asked for and leaves the body its room."""
        return self.passed and not self.short and not self.tight

    @property
    def over(self) -> float:
        """How far the worst check is over its limit."""
        if self.refused:
            return inf
        return 0.0 if self.worst is None else self.worst.utilisation


def search(job: Job, end: str, stock: Stock) -> tuple[Tried, list[Tried]]:
    """The lightest that passes or, when none does, the strongest; and all that were tried.

    Only when nothing passes so are a leaf bracket's necks between the usual ones tried, and then
    slots that are shorter than they should be.
    """
    listed = sorted(candidates(job, end, stock), key=lambda each: each[0])
    tried = _tried(job, end, listed)
    best = _lightest(tried)
    if end == "leaf" and best is None:
        between = _between(job, stock, tried)
        listed, tried = [*listed, *between], [*tried, *_tried(job, end, between)]
        best = _lightest(tried)
    near = {each.picks for each in tried if each.refused or _of_the_slots(each.worst)}
    for share in SHORTER:
        if best is not None:
            break
        again = [(mass, _slots(each, end, share)) for mass, each in listed if each in near]
        shorter = _tried(job, end, again)
        best = _lightest(shorter)
        tried = [*tried, *shorter]
    best = best or min((t for t in tried if t.passed), key=lambda each: each.mass, default=None)
    if best is not None:
        return best, tried
    if not tried:
        raise StockError(
            f"--stock leaves nothing for the {end} bracket: lag screws go into timber only, "
            "so name bolts too"
        )
    return min(tried, key=lambda each: (each.over, each.mass)), tried


def _between(job: Job, stock: Stock, tried: list[Tried]) -> list[tuple[float, Picks]]:
    """The leaf's plates that come near to passing, with necks between the usual ones."""
    near = {each.picks.leaf_plate for each in tried if each.over < NEARLY}
    plates = tuple(plate for plate in stock.plates if plate in near)
    found = candidates(job, "leaf", replace(stock, plates=plates), BETWEEN)
    return sorted(found, key=lambda each: each[0])


def _slots(picks: Picks, end: str, share: float) -> Picks:
    if end == "post":
        return replace(picks, post_slots=share)
    return replace(picks, leaf_slots=share)


def _lightest(tried: list[Tried]) -> Tried | None:
    return min((each for each in tried if each.whole), key=lambda each: each.mass, default=None)


def _tried(job: Job, end: str, candidates: list[tuple[float, Picks]]) -> list[Tried]:
    """The candidates tried in turn, until no later one can be lighter than one that passed."""
    tried: list[Tried] = []
    best: Tried | None = None
    loads = _loads(job)
    ears: dict[float, float] = {}  # how far a plate's ears are over, whatever fastens them
    least = inf  # how far over the best of those is that do not pass
    for estimate, picks in candidates:
        if best is not None and estimate > best.mass * MARGIN:
            break
        plate = float(picks.post_plate.thickness if end == "post" else picks.leaf_plate.thickness)
        if ears.get(plate, 0.0) >= least:  # it could come no nearer than another did
            continue
        one = trial(job, end, picks, loads)
        tried.append(one)
        if one.whole and (best is None or one.mass < best.mass):
            best = one
        if one.ears:
            ears[plate] = max(one.ears, ears.get(plate, 0.0))
        if not one.passed:
            least = min(least, one.over)
    return tried


def _loads(job: Job) -> dict[str, PinLoads]:
    """Loads on both pins in the frame that every seat is parallel to."""
    return {at: pin_loads(job.site, job.hung, job.mount, PLAIN, at=at) for at in ("post", "leaf")}


def trial(job: Job, end: str, picks: Picks, loads: dict[str, PinLoads] | None = None) -> Tried:
    """One combination made and judged, by loads that are at hand or are worked out for it."""
    try:
        kit = _kit(job, end, picks)
    except NoHardware as error:
        return Tried(picks=picks, mass=inf, worst=None, refused=str(error))
    leaf = LeafDesign(
        name="",
        hand=job.hung.hand,
        problem=job.problem,
        mount=job.mount,
        placed=kit.placed,
        templates=(),
        bought=(),
        fixings=kit.fixings,
    )
    bench = bench_for(job.site, job.shop, job.hung, leaf, loads)
    failed = [check for check in strength_checks(bench, (end,)) if check.status == "fail"]
    if not failed:  # what does not hold need not be asked whether it can be made
        failed = [check for check in make_checks(bench, (end,)) if check.status == "fail"]
    worst = max(failed, key=_over, default=None)
    ears = max((_over(each) for each in failed if _of_the_ears(each)), default=0.0)
    short = end == "leaf" and _short(kit, needed(job.mount, picks, end))
    tight = False
    if worst is None and end == "leaf":
        room = room_over_heads(job.problem, job.mount, kit.fixings)
        tight = room < job.problem.limits.body_clearance + FACETS
    return Tried(
        picks=picks,
        mass=mass_of(kit),
        worst=worst,
        ears=ears,
        short=short,
        tight=tight,
        eases=kit.eases,
    )


def _short(kit: Kit, travel: float | None) -> bool:
    """Whether a slot of the leaf bracket is shorter than it is asked to be."""
    slots = [h.slot_length for f in kit.fixings for _, h in f.holes if h.slot_length > 0.0]
    return travel is not None and min(slots, default=inf) < travel - 1e-6


def _kit(job: Job, end: str, picks: Picks) -> Kit:
    at = (job.hung, job.shop, job.problem, job.mount, picks)
    return post_kit(*at, job.site.choice) if end == "post" else leaf_kit(*at)


def _of_the_ears(check: Check) -> bool:
    """Whether a check hangs on the plate of the ears alone, not on what fastens the seat."""
    words = (" ear ", " pin ", " bend stress", " pin hole ")
    return any(word in check.id for word in words) and check.utilisation > 1.02


def _of_the_slots(check: Check | None) -> bool:
    """Whether a shorter slot might be enough for a check that failed by a little."""
    words = (" neck bending", " slip along its slots", " edge distance", " spacing")
    return check is not None and check.utilisation < NEARLY and check.id.endswith(words)


def _over(check: Check) -> float:
    return check.utilisation if isfinite(check.utilisation) else 1e9
