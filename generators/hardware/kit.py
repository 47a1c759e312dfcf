"""What one choice of hardware brings: placed parts, sheets, the list of bought things, reasons."""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from hangpost.generators.hardware.design import Bought, Placed, Template
from hangpost.generators.hardware.fixing import Fixing
from hangpost.generators.survey.display import shop_first
from hangpost.generators.survey.units import Units
from hangpost.parts.flat import ParameterError
from hangpost.parts.part import Part


class NoHardware(Exception):
    """The pivots are fine, but no bracket of this family can hold them here; says why."""


@contextmanager
def made(what: str, *hangs_on: str) -> Iterator[None]:
    """Where parts of `what` are made: one that cannot be is NoHardware, told by the site's keys."""
    try:
        yield
    except ParameterError as error:
        rules = dict.fromkeys(line.partition(": ")[2] for line in str(error).splitlines())
        raise NoHardware(
            f"the {what} cannot be made here: {'; '.join(rules)}. It hangs on "
            f"{', '.join(hangs_on)}, and on the plates and fasteners of the shop file"
        ) from error


@contextmanager
def speaking(units: Units) -> Iterator[None]:
    """Where NoHardware leaves the designers for a person: their unit stands first."""
    try:
        yield
    except NoHardware as error:
        raise NoHardware(shop_first(str(error), units)) from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """One end of the actuator, or the lock: everything that belongs to it."""

    placed: tuple[Placed, ...] = ()
    tools: tuple[Placed, ...] = ()  # room that sockets need
    templates: tuple[Template, ...] = ()
    bought: tuple[Bought, ...] = ()
    fixings: tuple[Fixing, ...] = ()
    jigs: tuple[Part, ...] = ()  # made, used and taken away again
    reasons: tuple[str, ...] = ()
    eases: tuple[str, ...] = ()  # of the reasons, what would let it be lighter


def together(kits: Iterable[Kit]) -> Kit:
    """All kits as one, bought things of the same name and grade counted together."""
    kits = tuple(kits)
    counted: dict[tuple[str, str, str, str], int] = {}
    for item in (each for kit in kits for each in kit.bought):
        key = (item.name, item.grade, item.finish, item.note)
        counted[key] = counted.get(key, 0) + item.quantity
    return Kit(
        placed=tuple(each for kit in kits for each in kit.placed),
        tools=tuple(each for kit in kits for each in kit.tools),
        templates=tuple(each for kit in kits for each in kit.templates),
        fixings=tuple(each for kit in kits for each in kit.fixings),
        jigs=tuple(each for kit in kits for each in kit.jigs),
        bought=tuple(
            Bought(name=name, quantity=count, grade=grade, finish=finish, note=note)
            for (name, grade, finish, note), count in counted.items()
        ),
        reasons=tuple(each for kit in kits for each in kit.reasons),
    )
