"""How long the search for the pivots takes: a million candidates, a whole solve, a whole process.

Run as `python benchmarks/pivots.py`. Figures are reported, never asserted: machines differ.
"""

import subprocess
import sys
from collections.abc import Callable
from time import perf_counter

from hangpost.generators.pivots.pairs import ends
from hangpost.generators.pivots.problem import (
    ActuatorPlan,
    Eye,
    LeafPlan,
    PostPlan,
    Problem,
)
from hangpost.generators.pivots.search import axis, ranges
from hangpost.generators.pivots.sift import sift_grid
from hangpost.generators.pivots.solve import solve
from hangpost.generators.pivots.ways_out import no_pivots


def gate(direction: str, torque: float = 300e3) -> Problem:
    eye = Eye(radius=18.0, thickness=20.0, to_body=46.0)
    return Problem(
        direction="pull" if direction == "pull" else "push",
        opening=92.0,
        post=PostPlan.square(to_leaf_face=40.0, to_actuator_face=66.0, width=140.0, depth=150.0),
        leaf=LeafPlan(width=3300.0, thickness=52.0, rail_to=3300.0),
        actuator=ActuatorPlan(
            retracted=770.0,
            stroke=410.0,
            thrust=2600.0,
            speed=16.0,
            body_radius=36.0,
            rod_radius=14.0,
            post_eye=eye,
            leaf_eye=eye,
        ),
        torque=torque,
    )


def best_of(what: Callable[[], object], times: int = 5) -> float:
    """The least of several runs in seconds."""
    taken = []
    for _ in range(times):
        start = perf_counter()
        what()
        taken.append(perf_counter() - start)
    return min(taken)


def main() -> None:
    for direction in ("pull", "push"):
        problem = gate(direction)
        across, along = ranges(problem)
        xs, ys = axis(across, 1000), axis(along, 1000)
        seconds = best_of(lambda p=problem, x=xs, y=ys: sift_grid(p, x, y, ends(p)))
        print(f"{direction}: one million pivots     {seconds:6.3f} s")
        print(f"{direction}: whole solve            {best_of(lambda p=problem: solve(p)):6.3f} s")
    hopeless = best_of(lambda: no_pivots(gate("pull", 900e3)), times=2)
    print(f"a gate explained             {hopeless:6.3f} s")
    whole = best_of(lambda: subprocess.run([sys.executable, __file__, "once"], check=True))
    bare = best_of(lambda: subprocess.run([sys.executable, "-c", "pass"], check=True))
    print(f"solve, whole process         {whole:6.3f} s, of which the interpreter {bare:.3f} s")


if __name__ == "__main__":
    if sys.argv[1:] == ["once"]:
        solve(gate("pull"))
    else:
        main()
