"""Who judges the fasteners of a seat: one line for each thing that they go into."""

from collections.abc import Callable, Iterator, Mapping

from hangpost.generators.checks import Check
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.judging.bench import Bench
from hangpost.generators.judging.demand import Demand
from hangpost.generators.judging.loads import PinLoads
from hangpost.generators.judging.on_round_rail import round_rail_group
from hangpost.generators.judging.on_timber import timber_group
from hangpost.generators.judging.on_timber_rail import timber_rail_group
from hangpost.generators.judging.on_tube import post_group, rail_group
from hangpost.generators.judging.strongback import bracket_on_bar
from hangpost.generators.judging.unjudged import not_judged
from hangpost.generators.judging.wood import post_wood, unlisted

OnHost = Callable[[Bench, str, Fixing, Demand, PinLoads], Iterator[Check]]


def on_host(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    """Every check of the fasteners of a seat in what they go into."""
    end = fixing.name
    kind = bench.hung.post.kind if end == "post" else bench.under_leaf_bracket
    judge = HOSTS.get((end, kind))
    if judge is None or (end == "post" and fixing.fastener.kind == "U-bolt"):
        words = f"the {fixing.fastener.kind}s of the {of} on a {end} of {kind.replace('_', ' ')}"
        yield not_judged(bench, f"{of} fasteners", words)
        return
    yield from judge(bench, of, fixing, demand, loads)


def _timber_post(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    if words := unlisted(bench.hung.post.species):
        yield not_judged(bench, f"{of} fasteners", words)
        return
    wood = post_wood(bench.site, bench.hung, bench.steel[1])
    yield from timber_group(bench, of, fixing, wood, demand, loads)


def _timber_rail(
    bench: Bench, of: str, fixing: Fixing, demand: Demand, loads: PinLoads
) -> Iterator[Check]:
    if words := unlisted(bench.hung.leaf.species):
        yield not_judged(bench, f"{of} fasteners", words)
        return
    yield from timber_rail_group(bench, of, fixing, demand, loads)


HOSTS: Mapping[tuple[str, str], OnHost] = {
    ("post", "timber"): _timber_post,
    ("post", "round_steel"): post_group,
    ("post", "square_steel"): post_group,
    ("leaf", "square_tube"): rail_group,
    ("leaf", "round_tube"): round_rail_group,
    ("leaf", "timber"): _timber_rail,
    ("leaf", "strongback"): bracket_on_bar,
}
