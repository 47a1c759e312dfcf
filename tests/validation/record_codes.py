"""Makes codes.csv: what other people's open code libraries say of the clauses that we use.

Run by hand when a case is added, in an environment of its own: `pip install pyaisc360==0.1.1
civilpy==0.6.1 eurocodepy==2027.0.12 pamd-eurocodes==0.3.0 bd-warehouse==0.4.0`, then `python
record_codes.py`. The tests read the recorded file, so they do not need the libraries. pyaisc360
gives the page of AISC 360-16 beside each number; the others name standard and table.
"""

import csv
import re
from importlib.metadata import version
from pathlib import Path

import bd_warehouse
import civilpy.structural.wood as nds
import eurocodepy.ec3.materials as ec3
import eurocodepy.ec5.materials as ec5
from civilpy.general import units
from eurocodepy.ec5.uls.shear import check_shear_with_torsion
from eurocodepy.utils import RectangularCrossSection
from pamd_eurocodes.eurocode_3.part_1_8 import Tables as SteelTables
from pamd_eurocodes.eurocode_5.part_1_1 import Tables as TimberTables
from pyaisc360 import Basis, chapter_h, chapter_j, chapter_k
from pyaisc360.materials import GRADES

INCH, KSI = 25.4, 6.894757293168361
KIP = KSI * INCH**2
STEELS = {
    "A36": "A36", "A572-50": "A572 Gr. 50", "A53-B": "A53 Gr. B",
    "A500-B-round": "A500 Gr. B (round)", "A500-B-square": "A500 Gr. B (rect.)",
    "A500-C-round": "A500 Gr. C (round)", "A500-C-square": "A500 Gr. C (rect.)",
}  # fmt: skip
WOODS = {"douglas fir-larch": "Douglas Fir-Larch", "southern pine": "Southern Pine",
         "red oak": "Red Oak"}  # fmt: skip
METRIC = {"M5", "M6", "M8", "M10", "M12", "M16", "M20", "M24", "M30"}
THREADS = {"1/4", "5/16", "3/8", "7/16", "1/2", "5/8", "3/4", "7/8", "1"}
THREADS |= {f"M{d}" for d in (6, 8, 10, 12, 14, 16, 20, 24)}
COARSE = {"M5-0.8", "M6-1", "M8-1.25", "M10-1.5", "M12-1.75", "M16-2", "M20-2.5"}
# The rules as the library prints them, and what they give in bolt diameters, across (90) and along
# (0) the grain; "mm" is a least distance in mm.
EN_BOLTS: dict[str, tuple[str, dict[str, float]]] = {
    "a1": (r"(4 + |\cos\alpha|) \cdot d", {"0": 5.0, "90": 4.0}),
    "a2": ("4 * d", {"0": 4.0, "90": 4.0}),
    "a3,t": (r"\max(7d, 80\text{ mm})", {"0": 7.0, "90": 7.0, "mm": 80.0}),
    "a4,t": (r"\max(2 + 2\sin\alpha, 3) \cdot d", {"0": 3.0, "90": 4.0}),
    "a4,c": ("3 * d", {"0": 3.0, "90": 3.0}),
}


def main() -> None:
    """Write codes.csv beside this script."""
    rows: list[tuple[str, str, str, str]] = []

    def add(case: str, given: object, value: float, library: str, where: str) -> None:
        rows.append((case, str(given), f"{value:.7g}", f"{library} {version(library)}: {where}"))

    def aisc(case: str, given: object, value: float, where: str) -> None:
        add(case, given, value, "pyaisc360", f"AISC 360-16 {where}")

    for ours, theirs in STEELS.items():
        aisc("steel fy", ours, GRADES[theirs].Fy * KSI, "A3.1a")
        aisc("steel fu", ours, GRADES[theirs].Fu * KSI, "A3.1a")
    group, thread = chapter_j.BoltGroup, chapter_j.ThreadCondition
    for name, each in (("A307", group.A307), ("A325", group.GROUP_A)):
        for words, state in (("in", thread.INCLUDED), ("out", thread.EXCLUDED)):
            fnt, fnv = chapter_j.nominal_bolt_stress(each, state)
            aisc(f"bolt fnv {words}", name, fnv * KSI, "Table J3.2")
        aisc("bolt fnt", name, fnt * KSI, "Table J3.2")
    for words, state in (("in", thread.INCLUDED), ("out", thread.EXCLUDED)):
        fnt, fnv = chapter_j.nominal_bolt_stress(group.THREADED_PART, state, Fu=100.0)
        aisc(f"bolt fnv {words}", "share of Fu", fnv / 100, "Table J3.2")
    aisc("bolt fnt", "share of Fu", fnt / 100, "Table J3.2")
    hole = chapter_j.HoleType
    for ours, kind in (
        ("slip_standard", hole.STANDARD),
        ("slip_standard", hole.SHORT_SLOT_PERPENDICULAR),
        ("slip_short_slot", hole.SHORT_SLOT_PARALLEL),
        ("slip_long_slot", hole.LONG_SLOT_PARALLEL),
    ):
        aisc("slip omega", ours, chapter_j.slip_factors(kind)[1], "J3.8")
    slip = chapter_j.slip_resistance(0.30, 1.0, 1.0, 28.0, 1, hole.STANDARD, basis=Basis.ASD)
    aisc("slip", "3/4 A325", slip.nominal * KIP, "Eq. J3-4 with Du = 1")
    aisc("tube wall omega", "", chapter_k.OMEGA_PLASTIFICATION, "K2.2")
    for fy, d, t, b in ((35.0, 4.5, 0.237, 3.0), (42.0, 3.5, 0.216, 2.2)):
        given = f"{fy * KSI:.6g} {d * INCH:g} {t * INCH:.6g} {b * INCH:g}"
        across = chapter_k.transverse_plate_to_round_hss(fy, t, d, b, 90.0, 1.0, basis=Basis.ASD)
        aisc("plate across", given, across.nominal * KIP, "Eq. K2-1a")
        moment = across.limit_states[0].detail["Mn (Eq. K2-1b)"]
        aisc("plate across moment", given, moment * KIP * INCH, "Eq. K2-1b")
    for side, t, fy, fyb, tb, b in ((4.0, 0.233, 46.0, 36.0, 0.25, 4.0), (6.0, 0.174, 46.0, 36.0, 0.375, 5.0)):  # fmt: skip
        share = chapter_k.effective_width(side, t, fy, fyb, tb, b) / b
        given = " ".join(
            f"{x:.7g}" for x in (fy * KSI, side * INCH, t * INCH, fyb * KSI, tb * INCH)
        )
        aisc("uneven share", given, share, "Eq. K1-1")
    for use in (0.2, 0.5, 0.8):
        aisc("round stressed", use, chapter_k.Qf(use), "Eq. K2-3")
        aisc("square stressed", f"{use} 0.7", chapter_k.Qf_rectangular(use, 0.7), "Eq. K3-14")
    for b, h, t in ((101.6, 101.6, 5.92), (152.4, 101.6, 2.95)):
        constant = chapter_h.rectangular_hss_torsional_constant(b, h, t)
        aisc("tube shaft", f"{b} {h} {t}", constant, "H3.1 User Note")
    for d, t in ((114.3, 5.6), (88.9, 5.1)):
        constant = chapter_h.round_hss_torsional_constant(d, t)
        aisc("round shaft", f"{d} {t}", constant, "H3.1 User Note, on the safe side")
    for slender in (30.0, 65.0, 80.0, 120.0):
        stress = chapter_h.rectangular_hss_torsional_stress(slender, 200_000.0, 315.0)[0]
        aisc("square twisted", f"315 {slender}", stress, "Eq. H3-3 to H3-5")
    for d, t in ((114.3, 5.6), (200.0, 1.2)):  # so long that Eq. H3-2a is the lesser
        stress = chapter_h.round_hss_torsional_stress(d, t, 1e6, 200_000.0, 240.0)[0]
        aisc("round twisted", f"240 {d / t:.7g}", stress, "Eq. H3-2b")
    shear = chapter_j.element_shear_strength(36.0, 1.0, 58.0, 1.0, basis=Basis.ASD)
    aisc("shear", "A36 rupture", shear.limit_states[1].nominal * KSI, "Eq. J4-4")

    def wood(case: str, given: object, value: float, where: str) -> None:
        add(case, given, value, "civilpy", where)

    lumber = nds._wood_ref
    for ours, theirs in WOODS.items():
        listed = lumber[(lumber.Species == theirs) & (lumber.Grade == "No. 2")]
        posts = listed[listed.Size_Class.str.startswith("5x5")]
        for name in ("Fb", "E", "Fv", "Fc_perp"):
            wood(f"timber {name}", ours, float(posts[name].min()) * KSI / 1000,
                 "NDS Supplement Table 4D, No. 2, the least of its rows")  # fmt: skip
        wood("timber wet Fc_perp", ours, float(posts.CM_Fc_perp.min()), "NDS Supplement Table 4D")
    for ours, theirs in (("stall", "normal"), ("start_up", "normal"), ("weight", "permanent"),
                         ("survival_wind", "10_min")):  # fmt: skip
        wood("duration", ours, nds.LOAD_DURATION_FACTORS[theirs], "NDS Table 2.3.2")
    bolt = nds.BoltConnection(0.5 * units("in"), 5.5 * units("in"), 0.25 * units("in"), 0.55)
    far = 100 * units("in")
    wet = bolt.Z_prime(wet_service=True)["factors"]["CM"]
    wood("wet lateral", "", wet, "NDS Table 11.3.3")
    for case, places in (("end", 0), ("edge", 1), ("in row", 2)):
        grown = [n / 100 for n in range(50, 1000)]  # of D = 0.5 in

        def factor(n: float, places: int = places) -> float:
            at = [far, far, far]
            at[places] = n * 0.5 * units("in")
            return float(bolt.C_delta(*at))

        full = next(n for n in grown if factor(n) >= 1.0)
        least = next(n for n in grown if factor(n) > 0.0)
        wood("distance full", case, full, "NDS 12.5.1, in D")
        wood("distance least", case, least, "NDS 12.5.1, in D")

    listed = TimberTables.minimum_spacings_and_edge_distances_for_bolts.values
    written = {re.search(r"a\d(,[tc])?", row[0])[0]: row[3] for row in listed}  # type: ignore[index]
    for name, (text, found) in EN_BOLTS.items():
        assert written[name] == text, f"{name}: the library says {written[name]}"
        for given, value in found.items():
            add(
                "en bolt",
                f"{name} {given}",
                value,
                "pamd-eurocodes",
                f"EN 1995-1-1 Table 8.4: {text}",
            )
    for row in SteelTables.minimum_and_maximum_spacings_and_edge_distances.values:
        name = re.search(r"\b[ep][12]\b", row[0])
        least = re.search(r"[0-9.]+", row[1])
        assert name and least
        add(
            "en steel bolt",
            name[0],
            float(least[0]),
            "pamd-eurocodes",
            "EN 1993-1-8 Table 3.3, in d0",
        )
    for name, breadth, depth in (("C24", 140.0, 140.0), ("C24", 90.0, 180.0)):
        timber = ec5.Timber(name)
        found = check_shear_with_torsion(
            0.0, 0.0, 1.0, RectangularCrossSection(breadth / 1e3, depth / 1e3), timber,
            ec5.ServiceClass.SC3, list(ec5.LoadDuration)[2],
        )  # fmt: skip
        shaft = 1e6 / found["checks"]["check_t"] / timber.fvd  # N mm over MPa
        add(
            "en torsion",
            f"{breadth:g} {depth:g}",
            shaft,
            "eurocodepy",
            "EN 1995-1-1 6.1.8, T over fv",
        )
    for row in TimberTables.strength_classes_for_structural_timber.values[:1]:
        add(
            "en bending",
            row[0],
            float(row[1]),
            "pamd-eurocodes",
            "EN 338, fm,k of the weakest class",
        )

    for name in ("S235", "S275", "S355"):
        plate = ec3.Steel(name)
        add("steel fy", name, plate.fyk, "eurocodepy", "EN 10025-2, up to 40 mm or less")
        add("steel fu", name, plate.fuk, "eurocodepy", "EN 10025-2, up to 40 mm or less")
    data = Path(bd_warehouse.__file__).parent / "data"
    for file, column, case in (
        ("hex_head_parameters.csv", "iso4017:s", "hex wrench"),
        ("hex_head_parameters.csv", "iso4017:k", "hex head"),
        ("plain_washer_parameters.csv", "iso7093:d2", "washer wide"),
        ("plain_washer_parameters.csv", "iso7093:h", "washer wide thickness"),
        ("clearance_hole_sizes.csv", "Close", "hole fine"),
        ("clearance_hole_sizes.csv", "Normal", "hole medium"),
        ("clearance_hole_sizes.csv", "Loose", "hole coarse"),
        ("tap_hole_sizes.csv", "Soft", "tap hole"),
        ("hex_nut_parameters.csv", "iso4032:m", "nut"),
    ):
        for row in csv.DictReader((data / file).open()):
            size, value = row["Size"].split("-")[0], row[column]
            coarse = case != "tap hole" or row["Size"] in COARSE
            if size in METRIC and value and coarse:
                add(case, size, float(value), "bd-warehouse", f"{file}, {column}")
    where = "socket_head_cap_parameters.csv, thread of a size"
    seen: set[str] = set()
    for row in csv.DictReader((data / "socket_head_cap_parameters.csv").open()):
        size, _, thread = row["Size"].partition("-")
        if size not in seen and not size.startswith(
            "#"
        ):  # the coarse one, listed first or coarsest
            threads = [r["Size"].partition("-")[2] for r in
                       csv.DictReader((data / "socket_head_cap_parameters.csv").open())
                       if r["Size"].partition("-")[0] == size]  # fmt: skip
            seen.add(size)
            coarse = max(map(float, threads)) if size[0] == "M" else 25.4 / min(map(float, threads))
            add("pitch", size, coarse, "bd-warehouse", where)
    for row in csv.DictReader((data.parent / "pipe.csv").open()):
        if row["material"] == "steel" and row["identifier"] in {"40", "80"}:
            given = f"{row['nps']} {row['identifier']}"
            add("pipe outside", row["nps"], float(row["od"]), "bd-warehouse", "pipe.csv, in")
            add("pipe wall", given, float(row["thickness"]), "bd-warehouse", "pipe.csv, in")
    sizes = nds._lumber_sizes
    for nominal in (2, 3, 4, 6):
        thick = float(sizes[sizes.Nominal_Width == nominal].Actual_Width.min())
        add("dressed", nominal, thick, "civilpy", "NDS Supplement Table 1B, in")
    target = Path(__file__).with_name("codes.csv")
    with target.open("w", newline="", encoding="utf-8") as stream:
        stream.write(
            "# Recorded by record_codes.py: N, mm, MPa; each row names library and clause\n"
        )
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("case", "given", "value", "source"))
        writer.writerows(dict.fromkeys(rows))


if __name__ == "__main__":
    main()
