"""How much memory the program may take here, and what to say where that is too little.

Libraries that get none end the process without a word, or seem to be damaged. So a limit below
what is known to be wanted (`ulimit -v`, a batch system) is told before the work starts.
Units: MB of addresses, which are more than what lies in the memory itself.
"""

from math import inf
from typing import Final

# House: what was seen on two processors, and a third more.
RECKONING: Final = 300
KERNEL: Final = 1600  # a process with the CAD kernel in it
ENOUGH: Final = 4 * KERNEL  # under a limit above it, memory is not why something gave out


def allowed() -> float:
    """What this process and each that it starts may take; inf where there is no limit."""
    try:
        import resource
    except ImportError:  # Windows knows no such limits
        return inf
    limits = (resource.getrlimit(kind)[0] for kind in (resource.RLIMIT_AS, resource.RLIMIT_DATA))
    return min((size / 1e6 for size in limits if size != resource.RLIM_INFINITY), default=inf)


def want(megabytes: int) -> None:
    """Raise MemoryError where no process may take so much."""
    if allowed() < megabytes:
        raise MemoryError(too_little())


def too_little() -> str:
    """What is wanted, and what a person can do."""
    most = allowed()
    why = f"may take {most:.0f} MB of memory here" if most < ENOUGH else "is short of memory"
    return (
        f"the program {why}.\n"
        f"To solve wants {RECKONING} MB; to build and to verify wants {KERNEL} MB for each\n"
        "process (1 to 3; in a batch as many as --jobs says). Lift the limit\n"
        "(`ulimit -v`) or close what you do not need, then run it again."
    )
