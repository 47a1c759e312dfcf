"""What changed between two packs, in words: for whoever holds the old parts or the old paper.

Packs are read through their pack.json. Parts, sheets, checks and bought things are matched by
name, holes by their mark. Lengths that differ by less than 0.05 mm, angles by less than 0.05
degrees and masses, moments and speeds by less than 1 % are noise and not told; a clearance is told
from 1 mm and only where it is under 50 mm in one of the packs (all house). Directions are as one
looks at the face: right and up; of pivots, along the leaf and off it.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from hangpost.generators.figures import HOLE, MOUNT, PART, QUANTITY, Data, Figure, same
from hangpost.generators.one_line import one_line
from hangpost.generators.pack_json import NotRead, read_json
from hangpost.generators.survey.display import plain
from hangpost.generators.survey.mistakes import Mistake, SurveyError

CLEARANCE: Final = 1.0  # mm
NEAR: Final = 50.0  # mm
PACK: Final = "pack.json"
# What reading data of any shape as if it were ours may raise.
STRANGE: Final = (ValueError, LookupError, TypeError, AttributeError, OverflowError, RecursionError)
NUMBERS: Final = re.compile(r"[0-9]+([.][0-9]+)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that is different: what it belongs to, and how it changed."""

    where: str
    what: str

    def __str__(self) -> str:
        """One line for people, whatever signs the packs bring along."""
        return one_line(f"{self.where}: {self.what}")


def read_pack(path: Path) -> Data:
    """The pack.json of a folder, or the file itself; SurveyError when it is no such thing."""
    file = path / "pack.json" if path.is_dir() else path
    try:
        data = read_json(file)
        tuple(_changes(data, data))  # everything that is read later is there
    except NotRead as error:
        raise _no_pack(file, f"is not a pack.json that hangpost wrote: it {error}") from None
    except FileNotFoundError:
        raise _no_pack(path, "holds no pack.json" if path.is_dir() else "does not exist") from None
    except STRANGE:
        raise _no_pack(file, "is not a pack.json that hangpost wrote") from None
    found: Data = data
    return found


def _no_pack(path: Path, words: str) -> SurveyError:
    return SurveyError([Mistake(file=str(path), key="", wrong=words)])


def compare(old: Data, new: Data) -> tuple[Change, ...]:
    """Everything that changed from one pack to another, in the order of a pack; SurveyError."""
    try:
        return _changes(old, new)
    except STRANGE:
        words = "holds other kinds of things than the other pack; hangpost did not write both"
        raise SurveyError([Mistake(file=PACK, key="", wrong=words)]) from None


def _changes(old: Data, new: Data) -> tuple[Change, ...]:
    return (
        *_named(old, new),
        *_leaves(old, new),
        *_matched("part", _by(old["parts"], "id"), _by(new["parts"], "id"), _part),
        *_matched("sheet", _by(old["templates"], "id"), _by(new["templates"], "id"), _template),
        *_matched("to buy", _bought(old), _bought(new), _count),
        *_checks(old, new),
        *_clearances(old, new),
    )


def _leaves(old: Data, new: Data) -> Iterator[Change]:
    before, after = _named_leaves(old), _named_leaves(new)
    yield from _matched("gate", before, after, _leaf)


def _named_leaves(data: Data) -> dict[str, Data]:
    listed: Sequence[Data] = data.get("leaves") or [data]
    return {
        (f"{leaf.get('name', '')} leaf" if leaf.get("name") else "gate"): leaf for leaf in listed
    }


def _leaf(old: Data, new: Data) -> Iterator[str]:
    yield from _told(old, new, ("hand",))
    opens = (old["opening"]["toward"], new["opening"]["toward"])
    if opens[0] != opens[1]:
        yield f"opens toward {opens[0]}, now toward {opens[1]}"
    angle = Figure(words="opens", read=lambda leaf: leaf["opening"]["angle"], unit="degrees")
    yield from _figures((angle,), old, new)
    was, now = old["mount"], new["mount"]
    for name, key in (("post pivot", "post_pivot"), ("leaf pivot", "leaf_pivot")):
        ways = (("along the leaf", "back"), ("off the leaf", "nearer to the leaf"), ("up", "down"))
        moved = _moved(was[key], now[key], ways)
        if moved:
            yield f"{name} moved {moved}"
    yield from _figures(MOUNT, was, now)


def _part(old: Data, new: Data) -> Iterator[str]:
    yield from _told(old, new, ("kind", "hand", "material"))
    yield from _figures(PART, old, new)
    sides = [_sides(old), _sides(new)]
    for name, was, now in zip(("wide", "high", "deep"), *sides, strict=True):
        if not same(was, now, "mm"):
            yield f"overall {name} {plain(was)} to {plain(now)} mm"
    yield from _holes(old["holes"], new["holes"])


def _sides(part: Data) -> list[float]:
    low, high = part["solid_box"]
    return [float(b) - float(a) for a, b in zip(low, high, strict=True)]


def _template(old: Data, new: Data) -> Iterator[str]:
    yield from _told(old, new, ("face", "datum"))
    yield from _figures(
        (
            Figure(words="wrapped around", read=lambda t: t["wrap_diameter"]),
            Figure(words="height of the mark", read=lambda t: t.get("height")),
        ),
        old,
        new,
    )
    yield from _holes(old["holes"], new["holes"])


def _holes(old: Sequence[Data], new: Sequence[Data]) -> Iterator[str]:
    before, after = _numbered(old), _numbered(new)
    ways = (("right", "left"), ("up", "down"))
    moves: dict[str, list[str]] = {}
    changes: list[str] = []
    for name in before.keys() & after.keys():
        moved = _moved(before[name]["at"], after[name]["at"], ways)
        if moved:
            moves.setdefault(moved, []).append(name)
    for name in [n for n in before if n in after]:
        changes += [f"hole {name}: {c}" for c in _figures(HOLE, before[name], after[name])]
    for moved, names in sorted(moves.items(), key=lambda item: sorted(item[1])):
        all_of_them = len(names) > 2 and len(names) == len(before) == len(after)
        said = "all holes" if all_of_them else f"hole {', '.join(sorted(names))}"
        yield f"{said} moved {moved}"
    yield from changes
    for name, hole in before.items():
        if name not in after:
            yield f"hole {name} ({plain(hole['diameter'])} mm) is gone"
    for name, hole in after.items():
        if name not in before:
            yield f"hole {name} ({plain(hole['diameter'])} mm) is new"


def _numbered(holes: Sequence[Data]) -> dict[str, Data]:
    """Holes by name; those without one by their place in the list."""
    return {str(h.get("name", n)): h for n, h in enumerate(holes, start=1)}


def _moved(
    was: Sequence[float], now: Sequence[float], ways: Sequence[tuple[str, str]]
) -> str | None:
    steps = [(float(b) - float(a), way) for a, b, way in zip(was, now, ways, strict=False)]
    said = [
        f"{plain(abs(step), places=1)} mm {way[0] if step > 0.0 else way[1]}"
        for step, way in steps
        if not same(step, 0.0, "mm")
    ]
    return " and ".join(said) or None


def _bought(data: Data) -> dict[str, Data]:
    found: dict[str, Data] = {}
    for thing in data.get("bought", ()):
        name = " ".join(p for p in (thing["name"], thing.get("grade", "")) if p)
        found[name] = {"quantity": found.get(name, {"quantity": 0})["quantity"] + thing["quantity"]}
    return found


def _count(old: Data, new: Data) -> Iterator[str]:
    yield from _figures((QUANTITY,), old, new)


def _checks(old: Data, new: Data) -> Iterator[Change]:
    before, after = _by(old["checks"], "id"), _by(new["checks"], "id")
    for name, check in after.items():
        was = before.get(name)
        if was is not None and was["status"] != check["status"]:
            figures = f"{_figure(was)} to {_figure(check)}"
            limit = f"limit {_number(check['limit'])} {check['unit']}".strip()
            what = f"{was['status']} to {check['status']}, {figures}, {limit}"
            yield Change(where=f"check {name}", what=what)
        elif was is None and check["status"] != "pass":
            yield Change(where=f"check {name}", what=f"is new and says {check['status']}")
    for name, was in before.items():
        if name not in after and was["status"] != "pass":
            yield Change(where=f"check {name}", what=f"is gone; it said {was['status']}")


def _figure(check: Data) -> str:
    return f"{_number(check['value'])} {check['unit']}".strip()


def _number(value: Any) -> str:
    return "none" if value is None else plain(float(value), places=2)


def _clearances(old: Data, new: Data) -> Iterator[Change]:
    before = {tuple(row["pair"]): row for row in old.get("clearances", ())}
    for row in new.get("clearances", ()):
        was = before.get(tuple(row["pair"]))
        if was is None or was["least"] is None or row["least"] is None:
            continue
        a, b = float(was["least"]), float(row["least"])
        if abs(a - b) >= CLEARANCE and min(a, b) < NEAR:
            where = f"clearance {' to '.join(row['pair'])}"
            yield Change(where=where, what=f"{plain(a, places=1)} to {plain(b, places=1)} mm")


def _matched(
    kind: str,
    before: Mapping[str, Data],
    after: Mapping[str, Data],
    differ: Callable[[Data, Data], Iterator[str]],
) -> Iterator[Change]:
    for name, was in before.items():
        where = name if kind == "gate" else f"{kind} {name}"
        if name in after:
            yield from (Change(where=where, what=what) for what in differ(was, after[name]))
        else:
            yield Change(where=where, what="is gone")
    for name in after:
        if name not in before:
            yield Change(where=name if kind == "gate" else f"{kind} {name}", what="is new")


def _figures(figures: Sequence[Figure], old: Data, new: Data) -> Iterator[str]:
    yield from (said for figure in figures if (said := figure.change(old, new)) is not None)


def _told(old: Data, new: Data, keys: Sequence[str]) -> Iterator[str]:
    for key in keys:
        # Numbers in words are rounded, and are told as figures elsewhere.
        was, now = (NUMBERS.sub("#", str(data.get(key))) for data in (old, new))
        if was != now:
            yield f'{key} "{old.get(key)}" to "{new.get(key)}"'


def _named(old: Data, new: Data) -> Iterator[Change]:
    for key in ("job", "hangpost"):
        if old.get(key) != new.get(key):
            yield Change(where=key, what=f'"{old.get(key)}" to "{new.get(key)}"')


def _by(rows: Sequence[Data], key: str) -> dict[str, Data]:
    return {str(row[key]): row for row in rows}
