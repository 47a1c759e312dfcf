"""report.html: one page to look at, whole in one file, that asks the network for nothing.

It is filled from the data of pack.json, so its numbers are the pack's; the gate it swings comes
from the same solids. Its scripts are named by their hash in the page's own security policy, so
that nothing else in it, a job name for one, can run. Units: mm, N, degrees, kg.
"""

import json
from base64 import b64encode
from collections.abc import Mapping, Sequence
from functools import partial
from hashlib import sha256
from importlib.resources import files
from math import isfinite
from typing import Any, Final

from markupsafe import Markup

from hangpost.generators.gaps import CAUTION, source
from hangpost.generators.hardware.design import Design
from hangpost.generators.report.curves import curves
from hangpost.generators.report.figures import Figures
from hangpost.generators.report.moving import moving
from hangpost.generators.report.pictures import LARGE, SMALL, map_paths
from hangpost.generators.report.plan import PlanView, plan_view
from hangpost.generators.shelf import Shelf
from hangpost.generators.survey.display import both, shop_first
from hangpost.generators.writers.cautions import Caution, Where, cautions
from hangpost.parts.part import PrintedPart

Data = Mapping[str, Any]

MARKS: Final = {"fail": "\u2715 fail", "warn": "! warn", "pass": "\u2713 pass"}
ORDER: Final = {"fail": 0, "warn": 1, "pass": 2}
KINDS: Final = {
    "step": "STEP solid",
    "dxf": "DXF to cut",
    "dxf_full": "DXF with bends",
    "dxf_r12": "DXF, R12",
    "drawing": "drawing",
    "drawing_dxf": "drawing as DXF",
    "drawing_dxf_2": "drawing as DXF, sheet 2",
    "stl": "STL to print",
    "3mf": "3MF to print",
    "picture": "picture",
}
STILLS: Final = (
    ("near", "pictures/assembly-near.png", "The actuator and its two brackets, gate closed"),
    ("closed", "pictures/assembly-closed.png", "The whole gate, closed"),
    ("open", "pictures/assembly-open.png", "The whole gate, open"),
)


def report_page(design: Design, data: Data, pictures: Mapping[str, bytes], shelf: Shelf) -> bytes:
    """The page for a design, from the data of pack.json and the pack's files by path."""
    from jinja2 import Environment, StrictUndefined

    environment = Environment(
        autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
    )
    template = environment.from_string(_text("page.html.j2"))
    scripts = [Markup(_text(name)) for name in ("viewer.js", "page.js")]
    plan = plan_view(design, shelf.mesh)
    page = template.render(
        f=Figures(data, design.site.units),
        said=partial(shop_first, units=design.site.units),
        pack=data,
        words=_words(data),
        verdict=_verdict(data),
        sections=_sections(data),
        css=Markup(_text("page.css")),
        policy=_policy(scripts),
        scripts=scripts,
        gate=Markup(embedded(moving(design, shelf.coarse))),
        leaves=[
            {"name": leaf.name, "curves": curves(leaf, design.site.units), "data": entry}
            for leaf, entry in zip(design.leaves, data["leaves"], strict=True)
        ],
        plan=plan,
        scale_bar=_scale_bar(plan),
        bar_words=both(plan.bar, design.site.units),
        size=LARGE,
        small=SMALL,
        stills=[(name, _base64(pictures[path]), label) for name, path, label in STILLS],
        part_pictures={
            part["id"]: _base64(pictures[f"pictures/{part['id']}.png"]) for part in data["parts"]
        },
        cautions=_cautions(design),
        checks=_checks(data),
        clearances=_clearances(data),
        uncertain=any(leaf["mount"].get("uncertainty") for leaf in data["leaves"]),
        maps=[(path, _base64(pictures[path])) for path in map_paths(design)],
        gap_caution=CAUTION,
        gap_source=source(),
        kinds=KINDS,
        documents=_documents(data),
    )
    return page.encode("utf-8")


def _text(name: str) -> str:
    return files("hangpost.generators.report").joinpath(name).read_text(encoding="utf-8")


def _base64(content: bytes) -> str:
    return b64encode(content).decode("ascii")


def embedded(data: Any) -> str:
    """JSON that can stand inside a script element, whatever names are in it."""
    text = json.dumps(data, separators=(",", ":"), allow_nan=False)
    return text.replace("<", "\\u003c").replace(">", "\\u003e").replace("&", "\\u0026")


def _policy(scripts: Sequence[str]) -> str:
    hashes = " ".join(f"'sha256-{_base64(sha256(s.encode()).digest())}'" for s in scripts)
    return (
        f"default-src 'none'; script-src {hashes}; style-src 'unsafe-inline'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )


def _words(data: Data) -> str:
    """The gate in one line."""
    each = [
        f"{leaf['hand']}-hand leaf opening {leaf['opening']['angle']:g} degrees "
        + (
            "towards the actuator"
            if leaf["opening"]["toward"] == "actuator"
            else "away from the actuator"
        )
        for leaf in data["leaves"]
    ]
    return f"A {' and a '.join(each)}"


def _verdict(data: Data) -> dict[str, str]:
    """What the checks come to, for the head of the page."""
    counts = {word: sum(c["status"] == word for c in data["checks"]) for word in ORDER}
    worst = next((word for word in ORDER if counts[word]), "pass")
    heads = {
        "fail": f"{counts['fail']} of {len(data['checks'])} checks fail.",
        "warn": f"No check fails, {counts['warn']} of {len(data['checks'])} warn.",
        "pass": f"All {len(data['checks'])} checks pass.",
    }
    rests = {
        "fail": "Do not make or fit this before they are cleared up.",
        "warn": "Read the warnings before anything is made.",
        "pass": "They screen by rules; they do not replace an engineer or the local code.",
    }
    mark = {"fail": "\u2715", "warn": "!", "pass": "\u2713"}[worst]
    return {"status": worst, "mark": mark, "head": heads[worst], "rest": rests[worst]}


def _sections(data: Data) -> list[tuple[str, str]]:
    uncertain = any(leaf["mount"].get("uncertainty") for leaf in data["leaves"])
    wanted = [
        ("swing", "How it swings", True),
        ("cautions", "Cautions", True),
        ("figures", "Pivots", True),
        ("map", "Where the pivot may go", True),
        ("uncertainty", "How sure it is", uncertain),
        ("checks", "Checks", True),
        ("clearances", "Clearances", True),
        ("gaps", "Gaps that shrink", True),
        ("parts", "Parts", True),
        ("files", "Files", True),
    ]
    return [(id, name) for id, name, there in wanted if there]


def _cautions(design: Design) -> tuple[Caution, ...]:
    work: list[Where] = ["installing", "drilling", "zinc"]
    if any(
        hung.post.kind == "timber" or hung.leaf.frame == "timber" for hung in design.site.leaves
    ):
        work.append("timber")
    if any(isinstance(part, PrintedPart) for part, _ in design.parts):
        work.append("printed")
    return cautions(*work)


def _checks(data: Data) -> list[dict[str, Any]]:
    """Worst first: by result, then by how much of the limit is used."""
    rows = []
    for index, check in enumerate(data["checks"]):
        used = check["utilisation"]
        finite = used is not None and isfinite(used)
        rows.append(
            {
                "would_do": "",  # stands in pack.json only where a check does not pass
                **check,
                "index": index,
                "mark": MARKS[check["status"]],
                "used": used if finite else 1e9,
                "shown": finite,
                "bar": round(100.0 * min(max(used, 0.0), 1.0)) if finite else 100,
            }
        )
    rows.sort(key=lambda row: (ORDER[row["status"]], -row["used"], row["index"]))
    return [{**row, "rank": rank} for rank, row in enumerate(rows)]


def _clearances(data: Data) -> list[dict[str, Any]]:
    rows = [
        {**row, "index": index, "opened": abs(row["at_angle"])}
        for index, row in enumerate(data["clearances"])
    ]
    return sorted(rows, key=lambda row: (-row["overlap"], row["least"], row["index"]))


def _documents(data: Data) -> list[tuple[str, str]]:
    """The files that belong to no single part, with a word on each."""
    parts = {path for part in data["parts"] for path in part["files"].values()}
    known = {
        "fabricate/assembly.step": "the whole gate, closed",
        "fabricate/assembly-open.step": "the whole gate, open",
        "install/templates.pdf": "drilling templates, print at actual size",
        "install/installation.pdf": "how it is put up",
        "fabricate/cut_list.csv": "what to cut",
        "print/how-to-print.txt": "material, walls and filling of what is printed",
    }
    paths = [file["path"] for file in data["files"] if file["path"] not in parts]
    return [(path, known.get(path, "")) for path in [*sorted(paths), "pack.json"]]


def _scale_bar(plan: PlanView) -> Markup:
    """A bar of a round length in the lower right corner of the plan."""
    x, y, wide, deep = (float(number) for number in plan.whole.split())
    right, foot = x + wide - 0.03 * wide, y + deep - 0.03 * deep
    tick = 0.012 * deep
    return Markup(
        '<path class="bar" d="M{:.1f} {:.1f}v{:.1f}h{:.1f}v{:.1f}M{:.1f} {:.1f}v{:.1f}"/>'
    ).format(
        right - plan.bar, foot - 2 * tick, 2 * tick, plan.bar, -2 * tick,
        right - plan.bar / 2, foot, -tick,
    )  # fmt: skip
