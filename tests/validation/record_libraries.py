"""Makes libraries.csv: numbers of other people's open libraries for our groups and sections.

Run by hand when a case is added: `pip install ezbolt==0.3.0 ezweld==0.2.1
sectionproperties`, then `python record_libraries.py`.
The tests read the recorded file, so they do not need the libraries.
"""

import csv
from importlib.metadata import version
from itertools import pairwise
from pathlib import Path

import ezbolt
import ezweld
from sectionproperties.analysis import Section
from sectionproperties.pre.library import (
    circular_hollow_section,
    rectangular_hollow_section,
    rectangular_section,
)

BOLTS = [  # columns, rows, width, height in mm; Vx, Vy in N acting at ex from the centroid
    (1, 2, 0, 76.2, 0, -10, 150),
    (1, 4, 0, 228.6, 0, -10, 127),
    (2, 3, 76.2, 152.4, 0, -10, 203.2),
    (2, 2, 100, 130, 0, -10, 300),
    (3, 3, 150, 160, 0, -10, 230),
    (2, 4, 140, 230, 6, -8, 250),
    (2, 3, 76.2, 152.4, 7, -7, 100),
]
WELDS = [  # width, height of a box; force, and where it acts from the box's middle
    (150, 200, 0, -50, 0, 0, 0, 240),
    (75, 125, 4, -10, 6, -35, 20, 310),
    (75, 125, 4, -10, 0, 330, -70, 0),
    (50, 100, 1, 2, 3, 260, 40, 90),
]


def main() -> None:
    """Write libraries.csv beside this script."""
    rows: list[tuple[object, ...]] = []

    def add(case: str, given: tuple[object, ...], value: float, library: str) -> None:
        rows.append(
            (case, " ".join(map(str, given)), f"{value:.7g}", f"{library} {version(library)}")
        )

    for given in BOLTS:
        nx, ny, width, height, vx, vy, ex = given
        group = ezbolt.BoltGroup()
        group.add_bolts(xo=-width / 2, yo=-height / 2, width=width, height=height, nx=nx, ny=ny)
        found = group.solve(Vx=vx, Vy=vy, torsion=vy * ex, bolt_capacity=17.9, verbose=False)
        add(
            "bolts elastic", given, found["Elastic Method - Superposition"]["Bolt Demand"], "ezbolt"
        )
    for given in WELDS:
        width, height, *force, x, y, z = given
        fx, fy, fz = force
        moment = (y * fz - z * fy, z * fx - x * fz, x * fy - y * fx)
        weld = ezweld.WeldGroup(PATCH_SIZE=0.02)
        corners = [(0, 0), (width, 0), (width, height), (0, height), (0, 0)]
        for start, end in pairwise(corners):
            weld.add_line(start=start, end=end, thickness=1)
        names = ("Vx", "Vy", "Vz", "Mx", "My", "Mz")
        weld.solve(**dict(zip(names, (*force, *moment), strict=True)))
        add("weld box", given, max(weld.dict_welds["v_resultant"]), "ezweld")
    for outside, wall in ((88.9, 5.49), (114.3, 6.02)):
        tube = Section(circular_hollow_section(d=outside, t=wall, n=256).create_mesh([20]))
        _record(tube, "round", (outside, wall), add)
    for depth, breadth, wall in ((101.6, 101.6, 5.9), (120, 80, 4)):
        geometry = rectangular_hollow_section(d=depth, b=breadth, t=wall, r_out=0, n_r=1)
        _record(Section(geometry.create_mesh([20])), "box", (depth, breadth, wall), add)
    for depth, breadth in ((139.7, 139.7), (184.15, 139.7), (100, 10)):
        solid = Section(
            rectangular_section(d=depth, b=breadth).create_mesh([depth * breadth / 800])
        )
        _record(solid, "solid", (depth, breadth), add)

    with (Path(__file__).parent / "libraries.csv").open("w", newline="", encoding="utf-8") as out:
        out.write("# Recorded by record_libraries.py: N, mm; each row names library and version\n")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(("case", "given", "value", "source"))
        writer.writerows(rows)


def _record(section, shape, given, add) -> None:
    section.calculate_geometric_properties()
    section.calculate_plastic_properties()
    section.calculate_warping_properties()
    library = "sectionproperties"
    add(f"{shape} area", given, section.get_area(), library)
    add(f"{shape} inertia", given, section.get_ic()[0], library)
    add(f"{shape} elastic", given, section.get_z()[0], library)
    add(f"{shape} plastic", given, section.get_s()[0], library)
    add(f"{shape} torsion", given, section.get_j(), library)


if __name__ == "__main__":
    main()
