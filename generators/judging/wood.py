"""The wood a seat stands on: species, size, how wet, and lag screws by size.

Units: mm, MPa. Sources: strength/species.csv, strength/lags.csv; NDS 2018 Table 11.3.3 and
Supplement Table 4D for wet service.
"""

from dataclasses import dataclass

from hangpost.generators.pivots.mount import Mount
from hangpost.generators.strength import posts, timber, yield_modes
from hangpost.generators.strength.tables import row, table
from hangpost.generators.survey.site import HungLeaf, Site
from hangpost.parts import tables

WET_BEARING = 0.67  # NDS Supplement Table 4D, CM on Fc_perp
ABOVE_LEAF = 150.0  # house: how far a post stands above its leaf when nobody measured it

# A metric coach screw has no row in the table: its root is the core of DIN 571 (memory), its tip
# as long as it is thick (house).
METRIC_ROOT, METRIC_TIP, METRIC_YIELD = 0.70, 1.0, 310.264


@dataclass(frozen=True, slots=True, kw_only=True)
class Wood:
    """One timber face with a seat on it."""

    species: str
    edges: tuple[float, float]  # of the face, across the grain: u on a post, v on a rail
    depth: float  # into the wood
    end: float  # to the nearer end of the wood, along the grain from the pin
    gravity: float
    fc_perp: float
    fv: float
    modulus: float
    wet: bool
    plate_fu: float

    @property
    def wet_lateral(self) -> float:
        """CM for lateral loads."""
        return timber.WET_LATERAL if self.wet else 1.0

    @property
    def wet_withdrawal(self) -> float:
        """CM for withdrawal."""
        return timber.WET_WITHDRAWAL if self.wet else 1.0

    @property
    def wet_bearing(self) -> float:
        """CM for pressure across the grain."""
        return WET_BEARING if self.wet else 1.0


def unlisted(species: str) -> str:
    """Words for fasteners in a wood that the tables do not have; empty for one that they have."""
    if timber.is_listed(species):
        return ""
    listed = ", ".join(table("species"))
    return f"fasteners in {species}, a species that the tables do not have (they have {listed})"


def post_wood(site: Site, hung: HungLeaf, plate_fu: float) -> Wood:
    """The hanging post behind its seat; u = 0 is its leaf-side edge."""
    post, species = hung.post, hung.post.species.strip().lower()
    _, modulus, fv = posts.timber_values(species)
    top = float(post.height) if post.height is not None else float(hung.leaf.top) + ABOVE_LEAF
    return Wood(
        species=species,
        edges=(0.0, float(post.width)),
        depth=float(post.depth),
        end=top - float(hung.pin_height),
        gravity=timber.specific_gravity(species),
        fc_perp=float(row("species", species)["fc_perp"]),
        fv=fv,
        modulus=modulus,
        wet=site.wood.service == "wet",
        plate_fu=plate_fu,
    )


def rail_wood(
    site: Site, hung: HungLeaf, mount: Mount, plate_fu: float, rail: float | None = None
) -> Wood:
    """The timber rail behind the leaf bracket; v = 0 is the pin's level, the grain along u.

    `rail` is the v of another rail than the one nearest to the pins.
    """
    leaf, species = hung.leaf, hung.leaf.species.strip().lower()
    _, modulus, fv = posts.timber_values(species)
    half, at = float(leaf.rail_height) / 2, mount.leaf_pivot[0]
    if rail is None:
        rail = min((float(height) - mount.height for height in leaf.rails), key=abs)
    return Wood(
        species=species,
        edges=(rail - half, rail + half),
        depth=float(leaf.rail_depth),
        end=min(at - float(leaf.hinge_edge), float(leaf.width) - at),
        gravity=timber.specific_gravity(species),
        fc_perp=float(row("species", species)["fc_perp"]),
        fv=fv,
        modulus=modulus,
        wet=site.wood.service == "wet",
        plate_fu=plate_fu,
    )


def lag_size(size: str) -> tuple[float, float, float, float]:
    """Nominal diameter, root, tip and bending yield strength of a lag or coach screw."""
    if size in table("lags"):
        return yield_modes.lag(size)
    d = tables.shank(size)
    return d, METRIC_ROOT * d, METRIC_TIP * d, METRIC_YIELD
