"""Gates drawn at random through the whole program: how many end how, and why.

    python tests/trials/random_gates.py 2000               pivots, hardware, every check, the swing
    python tests/trials/random_gates.py 20000 --reckoned   the same without solids
    python tests/trials/random_gates.py 120 --packs        whole packs, each read back by verify

`--seed S` draws others, `--from N` begins later, `-o DIR` keeps the site file of every gate that
the program failed at. A gate ends as "pass" (made, all checks pass), "fail" (made, a check failed
and says so), refused by a named reason, or "fault": an error of the program. Exit status 1: there
was a fault, or a pack that does not verify. Not part of the tests: a swept gate takes seconds.
"""

import argparse
import sys
import time
import traceback
from collections import Counter
from contextlib import suppress
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parent))
from drawn_gates import drawn

from hangpost.generators.batch import work
from hangpost.generators.hardware.build import design_gate
from hangpost.generators.hardware.kit import NoHardware
from hangpost.generators.judged import judged, reckoned
from hangpost.generators.judging.choose import choose
from hangpost.generators.many.order import MADE, Order
from hangpost.generators.pivots.gate import solve_gate
from hangpost.generators.pivots.ways_out import NoPivots
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import survey_from_bytes, usual_shop
from hangpost.generators.verify import verify

Ending = tuple[str, tuple[str, ...]]  # how, and by what


def judged_gate(text: str, *, swept: bool) -> Ending:
    """Everything but the files."""
    try:
        site = survey_from_bytes(text.encode("utf-8"), file="gate.toml").site
        shop = usual_shop(site.units)  # as the program takes where no shop file is given
        solved = solve_gate(site, shop, briefly=True)
        chosen = choose(site, shop, solved)
        design = design_gate(site, shop, solved, [each.picks for each in chosen])
        checks = judged(design, Shelf(), lambda *_: None)[0] if swept else reckoned(design)
    except SurveyError as error:
        return "wrong input", tuple(f"{each.key}: {each.wrong}"[:60] for each in error.mistakes)
    except NoPivots as error:
        return "no pivots", tuple(error.blocking)
    except NoHardware as error:
        return "no hardware", (str(error).partition(":")[0][:60],)
    failed = tuple(check.id.partition(":")[0] for check in checks if check.status == "fail")
    return ("fail", failed) if failed else ("pass", ())


def packed_gate(text: str, name: str) -> Ending:
    """The whole pack in a folder, read back."""
    with TemporaryDirectory(prefix="hangpost-") as folder:
        pack = Path(folder) / name
        order = Order(name=name, site=text.encode("utf-8"), file=f"{name}.toml", pack=pack)
        outcome = work(order)
        if outcome.status == "fault":
            raise RuntimeError(outcome.reason)
        if outcome.status not in MADE:
            return outcome.status, (outcome.reason.partition(":")[0][:60],)
        if problems := verify(pack).problems:
            raise RuntimeError("; ".join(map(str, problems[:5])))
        return f"{outcome.status}, verified", (outcome.reason.partition(":")[0][:60],)


def main() -> None:
    """Draw them, count them."""
    parser = argparse.ArgumentParser()
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--from", type=int, default=0, dest="first")
    parser.add_argument("--reckoned", action="store_true")
    parser.add_argument("--packs", action="store_true")
    parser.add_argument("-o", type=Path, dest="out")
    asked = parser.parse_args()
    endings, reasons, began = Counter[str](), Counter[tuple[str, str]](), time.monotonic()
    done = 0
    with suppress(KeyboardInterrupt):  # Ctrl-C: what there is is told
        for number in range(asked.first, asked.first + asked.count):
            text = drawn(asked.seed, number)
            try:
                if asked.packs:
                    ending, why = packed_gate(text, f"gate-{asked.seed}-{number}")
                else:
                    ending, why = judged_gate(text, swept=not asked.reckoned)
            except Exception as error:
                ending, why = "fault", (f"{type(error).__name__}: {error}",)
                print(f"gate {asked.seed}-{number}: {why[0]}", flush=True)
                traceback.print_exc(limit=-4)
                if asked.out is not None:
                    asked.out.mkdir(parents=True, exist_ok=True)
                    (asked.out / f"gate-{asked.seed}-{number}.toml").write_text(
                        text, encoding="utf-8"
                    )
            endings[ending] += 1
            reasons.update((ending, reason) for reason in set(why) if reason)
            done = number - asked.first + 1
            if done % (10 if asked.packs else 100) == 0:
                print(f"{done} in {time.monotonic() - began:.0f} s: {dict(endings)}", flush=True)
    print(f"{done} gates in {time.monotonic() - began:.0f} s, seed {asked.seed}")
    for ending, count in endings.most_common():
        print(f"{count:6} {ending}")
    for (ending, reason), count in reasons.most_common():
        print(f"{count:10} {ending}: {reason}")
    sys.exit(1 if endings["fault"] else 0)


if __name__ == "__main__":
    main()
