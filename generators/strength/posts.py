"""The post as a cantilever out of the ground: section, bending, twist, travel lost at the latch.

Units: N, mm, MPa. The footing and the soil are outside this tool: the post is taken as built in
at ground level, and real ground moves more.
Sources: strength of materials; AISC 360-16 F1, F7, F8, H3 (steel, nominal, "yield"); NDS 2018 3.3;
EN 1995-1-1:2004 6.1.8 for a timber that is twisted.
"""

from dataclasses import dataclass
from math import pi

from hangpost.generators.strength.tables import row

STEEL_MODULUS = 200_000.0


@dataclass(frozen=True, slots=True)
class Section:
    """Area, second moment, elastic and plastic modulus, torsion constant of a post's section."""

    area: float
    inertia: float
    elastic: float
    plastic: float
    torsion: float


def round_tube(outside: float, wall: float) -> Section:
    """Section of a round tube with the wall given."""
    inside = outside - 2 * wall
    inertia = pi / 64 * (outside**4 - inside**4)
    return Section(
        area=pi / 4 * (outside**2 - inside**2),
        inertia=inertia,
        elastic=2 * inertia / outside,
        plastic=(outside**3 - inside**3) / 6,
        torsion=2 * inertia,
    )


def square_tube(side: float, wall: float, *, depth: float | None = None) -> Section:
    """Section of a square or rectangular tube, corners taken sharp; bent in the plane of `depth`.

    Sharp corners give some per cent more than the rounded tube: use with the design wall.
    """
    d = side if depth is None else depth
    bi, di = side - 2 * wall, d - 2 * wall
    inertia = (side * d**3 - bi * di**3) / 12
    middle = (side - wall) * (d - wall)
    return Section(
        area=side * d - bi * di,
        inertia=inertia,
        elastic=2 * inertia / d,
        plastic=(side * d**2 - bi * di**2) / 4,
        torsion=4 * middle**2 * wall / (2 * (side + d - 2 * wall)),  # Bredt
    )


def rectangle(breadth: float, depth: float) -> Section:
    """Section of a solid post bent in the plane of `depth`."""
    long, short = max(breadth, depth), min(breadth, depth)
    torsion = long * short**3 * (1 / 3 - 0.21 * short / long * (1 - (short / long) ** 4 / 12))
    return Section(
        area=breadth * depth,
        inertia=breadth * depth**3 / 12,
        elastic=breadth * depth**2 / 6,
        plastic=breadth * depth**2 / 4,
        torsion=torsion,
    )


def shaft_of_rectangle(breadth: float, depth: float) -> float:
    """Torque over the greatest shear stress of a solid rectangle, Saint-Venant (Roark)."""
    short, long = sorted((breadth, depth))
    return short**2 * long / (3 + 1.8 * short / long)


def shaft_of_tube(breadth: float, depth: float, wall: float) -> float:
    """Torsional constant C of a rectangular tube, AISC 360-16 H3.1, User Note."""
    return 2 * (breadth - wall) * (depth - wall) * wall - 4.5 * (4 - pi) * wall**3


def twisted_round(fy: float, slenderness: float, *, modulus: float = STEEL_MODULUS) -> float:
    """Fcr of a round tube in torsion by D/t, AISC 360-16 H3.1(a), Eq. H3-2b, at most 0.6 Fy."""
    return float(min(0.6 * fy, 0.60 * modulus / slenderness**1.5))


def twisted_square(fy: float, slenderness: float, *, modulus: float = STEEL_MODULUS) -> float:
    """Fcr of a rectangular tube in torsion by h/t, AISC 360-16 Eq. H3-3 to H3-5."""
    first = 2.45 * (modulus / fy) ** 0.5
    if slenderness <= first:
        return 0.6 * fy
    if slenderness <= 3.07 / 2.45 * first:
        return float(0.6 * fy * first / slenderness)
    return float(0.458 * pi**2 * modulus / slenderness**2)


def timber_torque(fv: float, breadth: float, depth: float) -> float:
    """Allowable torque of a solid timber, before the duration: Fv times its shaft.

    EN 1995-1-1:2004 6.1.8 lets the stress reach fv times a shape factor of 1.15 and more for a
    rectangle; that is left out. The NDS has no clause.
    """
    return fv * shaft_of_rectangle(breadth, depth)


def steel_moment(fy: float, section: Section, *, slenderness: float, limit: float) -> float:
    """Nominal moment of a tube ("yield"): Fy Z while its wall is compact, else Fy S.

    AISC 360-16 F7, F8: `slenderness` D/t against 0.07 E/Fy, flat b/t against 1.12 sqrt(E/Fy).
    """
    return fy * (section.plastic if slenderness <= limit else section.elastic)


def compact_round(fy: float, *, modulus: float = STEEL_MODULUS) -> float:
    """Largest D/t of a compact round tube, AISC 360-16 Table B4.1b: 0.07 E / Fy."""
    return 0.07 * modulus / fy


def compact_square(fy: float, *, modulus: float = STEEL_MODULUS) -> float:
    """Largest b/t of a compact square tube, AISC 360-16 Table B4.1b: 1.12 sqrt(E / Fy)."""
    return float(1.12 * (modulus / fy) ** 0.5)


def size_factor(depth: float) -> float:
    """CF of a timber over 12 in deep, NDS 2018 4.3.6.2: (12/d)^(1/9); 1 for any gate post."""
    return float(min(1.0, (304.8 / depth) ** (1 / 9)))


def timber_moment(fb: float, section: Section, *, duration: float) -> float:
    """Allowable moment of a timber post, NDS 2018 3.3: Fb CD S; the table's Fb is for wet posts."""
    return fb * duration * section.elastic


def timber_values(species: str) -> tuple[float, float, float]:
    """Fb, E and Fv of a post of grade No. 2 by species, NDS Supplement Table 4D, species.csv."""
    entry = row("species", species.strip().lower())
    return float(entry["fb"]), float(entry["e"]), float(entry["fv"])


def twist(torque: float, height: float, modulus: float, torsion: float) -> float:
    """Turn of the post about its own axis at `height`, radians; G = E/2.6 steel, E/16 timber."""
    return torque * height / (modulus * torsion)


def lost_travel(pin_movement: float, leverage: float, leaf_width: float) -> float:
    """How far the latch edge stays behind when the post pin gives way along the actuator.

    The leaf turns by movement over leverage; at the latch edge that is times the leaf's width.
    """
    return pin_movement / leverage * leaf_width
