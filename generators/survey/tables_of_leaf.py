"""Which tables belong to which leaf, before anything is read.

A double gate writes the tables both leaves share once, at the top; a leaf's own table says only
what differs. Here the two are laid over each other, so that every table is whole when it is read.
"""

from collections.abc import Mapping
from typing import Any, Final

OWN: Final = ("post", "hinge", "opening", "actuator", "fixed")


def shared_out(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return the file's tables with every leaf's own tables completed from the shared ones."""
    made = dict(data)
    leaf = made.get("leaf")
    if isinstance(leaf, Mapping):
        leaf = [leaf]
    if not isinstance(leaf, (list, tuple)) or not all(isinstance(each, Mapping) for each in leaf):
        return made
    leaves = [dict(each) for each in leaf[:2]]
    for name in OWN:
        if leaves and name not in made and isinstance(leaves[0].get(name), Mapping):
            made[name] = leaves[0][name]
        shared = made.get(name)
        for index, own in enumerate(leaves):
            table = own.get(name)
            if isinstance(table, Mapping) and isinstance(shared, Mapping):
                own[name] = _over(name, shared, table, second=index == 1)
    made["leaf"] = [*leaves, *leaf[2:]]
    return made


def _over(
    name: str, shared: Mapping[str, Any], table: Mapping[str, Any], *, second: bool
) -> dict[str, Any]:
    # A post of another kind shares nothing with the first; neither does an existing pivot.
    if (name == "post" and "kind" in table) or name == "fixed":
        return dict(table)
    laid = {**shared, **table}
    if name == "hinge" and second and "hand" not in table:
        opposite = {"right": "left", "left": "right"}
        hand = shared.get("hand")
        laid["hand"] = opposite.get(hand, hand) if isinstance(hand, str) else hand
    return laid
