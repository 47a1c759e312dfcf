"""Makes bracket_fe.csv: one post bracket angle by finite elements, to hold our formulas against.

Run by hand when the model changes: hangpost installed, `pip install gmsh==4.15.2`, and CalculiX
2.20 (`apt-get install libglu1-mesa calculix-ccx`), then `python record_bracket_fe.py`. The tests
read the recorded file and need neither.

Second-order tetrahedra, linear elastic, E = 200 GPa, nu = 0.3. Frame: the part's seat frame.
Cases, 1000 N each, on the pin hole:
  ear    seat held all over its back; force along u: the ear as a bar on edge
  seat   seat held square to the post only under its washers, and along it; force out of the post
"""

import csv
import subprocess
import tempfile
from pathlib import Path

import cadquery as cq
import gmsh
import numpy as np

from hangpost.parts.post_bracket import PostAngle, SlotSpec

FORCE = 1000.0
WASHER = 25.4  # across the washers of 3/8 bolts
ANGLE = PostAngle(
    id="angle",
    place="upper",
    plate_thickness=9.525,
    bend_radius=9.525,
    k_factor=None,
    gap=22.05,
    pin=13.5,
    pin_u=120.0,
    reach=112.0,
    tip=22.0,
    root=(66.0, 136.0),
    seat=(3.0, 136.7),
    columns=(38.1, 101.6),
    rows=(60.0, 108.0),
    slot=SlotSpec(diameter=11.9, travel=0.0, land=20.3),
)


def meshed(size: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Node numbers, places and second-order tetrahedra of the angle."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "angle.step"
        cq.exporters.export(cq.Workplane(ANGLE.solid()), str(path))
        gmsh.initialize()
        gmsh.option.setNumber("General.Terminal", 0)
        gmsh.model.occ.importShapes(str(path))
        gmsh.model.occ.synchronize()
        gmsh.option.setNumber("Mesh.MeshSizeMax", size)
        gmsh.option.setNumber("Mesh.MeshSizeMin", size / 2)
        gmsh.model.mesh.generate(3)
        gmsh.model.mesh.setOrder(2)
        tags, coords, _ = gmsh.model.mesh.getNodes()
        _, nodes = gmsh.model.mesh.getElementsByType(11)
        gmsh.finalize()
    return tags, coords.reshape(-1, 3), nodes.reshape(-1, 10)


def solve(case: str, tags: np.ndarray, places: np.ndarray, tets: np.ndarray) -> dict[str, float]:
    """Run one case and give back what the checks reckon too."""
    at = dict(zip(tags, places, strict=True))
    used = sorted({int(n) for n in tets.ravel()})
    xyz = np.array([at[n] for n in used])
    u, v, w = xyz.T
    level = ANGLE.gap / 2 + ANGLE.plate_thickness / 2
    on_hole = np.abs(np.hypot(u - ANGLE.pin_u, w - ANGLE.reach) - ANGLE.pin / 2) < 0.05
    on_hole &= np.abs(v - level) <= ANGLE.plate_thickness / 2 + 0.1
    held: list[tuple[int, int]] = []
    if case == "ear":
        back = np.abs(w) < 1e-3
        held = [(used[i], d) for i in np.flatnonzero(back) for d in (1, 2, 3)]
    else:
        front = np.abs(w - ANGLE.plate_thickness) < 1e-3
        for row in ANGLE.rows:
            for column in ANGLE.columns:
                near = front & (np.hypot(u - column, v - row) <= WASHER / 2)
                held += [(used[i], d) for i in np.flatnonzero(near) for d in (1, 2, 3)]
    push = (FORCE, 0.0, 0.0) if case == "ear" else (0.0, 0.0, FORCE)
    loaded = np.flatnonzero(on_hole)
    lines = ["*NODE, NSET=NALL"]
    lines += [f"{n}, {x:.9g}, {y:.9g}, {z:.9g}" for n, (x, y, z) in zip(used, xyz, strict=True)]
    lines.append("*ELEMENT, TYPE=C3D10, ELSET=EALL")
    order = [0, 1, 2, 3, 4, 5, 6, 7, 9, 8]  # gmsh counts the last two edges the other way
    lines += [f"{k + 1}, " + ", ".join(str(int(t[i])) for i in order) for k, t in enumerate(tets)]
    lines += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "200000., 0.3"]
    lines += ["*SOLID SECTION, ELSET=EALL, MATERIAL=STEEL", "*STEP", "*STATIC", "*BOUNDARY"]
    lines += [f"{n}, {d}, {d}" for n, d in held]
    lines.append("*CLOAD")
    for axis, part in enumerate(push):
        if part:
            lines += [f"{used[i]}, {axis + 1}, {part / len(loaded):.9g}" for i in loaded]
    lines += ["*NODE PRINT, NSET=NALL", "U, RF", "*EL PRINT, ELSET=EALL", "S", "*END STEP"]
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "job.inp").write_text("\n".join(lines) + "\n", encoding="ascii")
        subprocess.run(["ccx", "job"], cwd=folder, check=True, capture_output=True)
        text = (Path(folder) / "job.dat").read_text(encoding="ascii")
    moved, pulled, stress = _read(text)
    index = {n: i for i, n in enumerate(used)}
    result = {"tip": _tip(case, moved, used, loaded)}
    points, parts = _gauss(tets, at, stress)
    if case == "ear":
        result["root"] = _root(points, parts)
    else:
        result["row"] = sum(
            pulled[n][2]
            for n in {n for n, _ in held}
            if abs(xyz[index[n]][1] - ANGLE.rows[0]) <= WASHER / 2
        )
        result["bend"] = _seat(points, parts, ANGLE.bend_line + 3.0, ANGLE.root)
        result["seat"] = _seat(points, parts, ANGLE.rows[0] - WASHER / 2 - 3.0, ANGLE.seat)
    return result


def _read(text: str) -> tuple[dict[int, np.ndarray], dict[int, np.ndarray], dict[int, list]]:
    moved: dict[int, np.ndarray] = {}
    pulled: dict[int, np.ndarray] = {}
    stress: dict[int, list] = {}
    table = None
    for row in text.splitlines():
        if "displacements" in row:
            table = moved
        elif "forces" in row:
            table = pulled
        elif "stresses" in row:
            table = None
        elif row.split():
            cells = row.split()
            if table is not None:
                table[int(cells[0])] = np.array([float(c) for c in cells[1:4]])
            else:
                stress.setdefault(int(cells[0]), []).append([float(c) for c in cells[2:8]])
    return moved, pulled, stress


def _gauss(tets: np.ndarray, at: dict, stress: dict) -> tuple[np.ndarray, np.ndarray]:
    """Middles of the elements and their mean stresses."""
    middles = np.array([np.mean([at[n] for n in t[:4]], axis=0) for t in tets])
    parts = np.array([np.mean(stress[k + 1], axis=0) for k in range(len(tets))])
    return middles, parts


def _tip(case: str, moved: dict, used: list[int], loaded: np.ndarray) -> float:
    axis = 0 if case == "ear" else 2
    return float(np.mean([moved[used[i]][axis] for i in loaded]))


def _root(points: np.ndarray, parts: np.ndarray) -> float:
    """Stress along w at the root's edges: a line fitted through the section just off the bend."""
    start = ANGLE.plate_thickness + ANGLE.bend_radius
    near = np.abs(points[:, 2] - start - 4.0) < 3.0
    u, s = points[near, 0], parts[near, 2]
    slope, middle = np.polyfit(u, s, 1)
    return float(max(abs(slope * end + middle) for end in ANGLE.root))


def _seat(points: np.ndarray, parts: np.ndarray, at: float, across: tuple[float, float]) -> float:
    """Bending stress along v in the seat at v = `at`: a line through the thickness, 20 mm wide."""
    u, v, w = points.T
    near = (np.abs(v - at) < 3.0) & (w < ANGLE.plate_thickness)
    best = 0.0
    for left in np.arange(across[0], across[1] - 19.0, 5.0):
        part = near & (u >= left) & (u < left + 20.0)
        slope, _ = np.polyfit(w[part], parts[part, 1], 1)
        best = max(best, abs(slope) * ANGLE.plate_thickness / 2)
    return float(best)


def main() -> None:
    """Both cases on two meshes, so that the reader sees what the mesh does."""
    with (Path(__file__).parent / "bracket_fe.csv").open("w", encoding="ascii") as file:
        file.write(
            "# One post bracket angle by finite elements (gmsh, CalculiX 2.20, C3D10), 1000 N; "
            "written by record_bracket_fe.py\n"
        )
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["case", "mesh", "nodes", "what", "value", "unit"])
        units = {"tip": "mm", "root": "MPa", "row": "N", "bend": "MPa", "seat": "MPa"}
        for size in (4.0, 3.0):
            tags, places, tets = meshed(size)
            for case in ("ear", "seat"):
                for what, value in solve(case, tags, places, tets).items():
                    writer.writerow([case, size, len(tags), what, f"{value:.5g}", units[what]])


if __name__ == "__main__":
    main()
