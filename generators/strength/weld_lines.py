"""Welds as lines in space, not in one plane only: the elastic method, for many loads at once.

The lines stand on a base that is alike in every direction and move as one rigid thing: a turn of
the group gives each spot a force square to its arm. In one plane that is the textbooks'
method. Units: N, mm; forces per length in N/mm, throat counted as 1.
Source: elastic method with the weld treated as a line (Blodgett, Shigley).
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Seam = Floats  # (k, 3): a chain of nodes with straight weld between them


def force_per_length(seams: Sequence[Seam], force: Floats, at: Floats) -> Floats:
    """Greatest force per length anywhere in the seams, one for each row of `force`.

    `force` is (n, 3) and acts at the point `at`.
    """
    starts = np.concatenate([seam[:-1] for seam in seams])
    ends = np.concatenate([seam[1:] for seam in seams])
    long = np.linalg.norm(ends - starts, axis=1)
    whole = long.sum()
    middle = (long[:, None] * (starts + ends) / 2).sum(axis=0) / whole
    a, b = starts - middle, ends - middle
    # The integral of r r^T along a straight piece, exact.
    both = np.einsum("n,ni,nj->ij", long, a + b, a + b)
    spread = (
        both + np.einsum("n,ni,nj->ij", long, a, a) + np.einsum("n,ni,nj->ij", long, b, b)
    ) / 6
    inertia = np.trace(spread) * np.eye(3) - spread
    moment = np.cross(at - middle, force)
    turn = moment @ np.linalg.pinv(inertia, rcond=1e-9)
    spots = np.concatenate((a, b))  # along a straight piece the force is greatest at an end
    each = force[:, None, :] / whole + np.cross(turn[:, None, :], spots[None, :, :])
    found: Floats = np.linalg.norm(each, axis=2).max(axis=1)
    return found
