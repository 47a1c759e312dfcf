"""Stock of a shop: plate, bar, angle, fasteners, printer, prices, each with the usual defaults.

Lengths in mm, strengths in MPa. Bend radius one thickness and minimum flange by an opening of the
die of eight thicknesses: common practice, no source. Strengths: ASTM A36, minimum values.
"""

from typing import Annotated, Final, Literal

from pydantic import AfterValidator, Field

from hangpost.generators.strength.plastics import plastic
from hangpost.generators.survey.fields import Gap, Name, Quantity, Record, Size, Stress, unfit
from hangpost.parts import tables
from hangpost.parts.part import Material

Thickness = Annotated[float, Quantity("length", 1.0, 60.0)]
Price = Annotated[float, Quantity("share", 0.0, 1e6)]


def _listed(size: str) -> str:
    try:
        return tables.hole_fit(size).size
    except tables.SizeError as error:
        raise unfit("is not a listed size", str(error).partition("; ")[2]) from None


def _in_mm(*sizes: float) -> tuple[float, ...]:
    return tuple(round(size * tables.INCH, 9) for size in sizes)


# Metric: nominal lengths of ISO 888:2012, from memory. Inch: common practice, no source.
USUAL_LENGTHS: Final[dict[tuple[str, str], tuple[float, ...]]] = {
    ("bolt", "in"): _in_mm(1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 10, 12),
    ("lag", "in"): _in_mm(2, 2.5, 3, 3.5, 4, 4.5, 5, 6),
    ("bolt", "mm"): (
        *(25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150),
        *(160, 180, 200, 220, 240, 260, 280, 300),
    ),
    ("lag", "mm"): (50, 60, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160),
}

FastenerSize = Annotated[str, AfterValidator(_listed)]


class Steel(Record):
    """What plate, bar and angle are made of."""

    grade: Name = Field(default="ASTM A36", description="Grade (standard).")
    yield_strength: Stress = Field(
        default=248.2, description="Yield strength: 36 ksi (ASTM A36; standard)."
    )
    ultimate: Stress = Field(
        default=399.9, description="Ultimate strength: 58 ksi (ASTM A36; standard)."
    )


class Plate(Record):
    """One thickness of plate and how it bends."""

    thickness: Thickness = Field(description="Thickness.")
    bend_radius: Gap | None = Field(
        default=None,
        description="Inside bend radius; default: the thickness (common practice, no source).",
    )
    k_factor: Annotated[float, Quantity("share", 0.2, 0.6)] | None = Field(
        default=None,
        description="K-factor of the shop's press brake; default: by DIN 6935 (standard).",
    )
    die_flange: Gap | None = Field(
        default=None,
        description="Shortest flange the die takes, outside; default: 5.6 thicknesses, a die "
        "opening of 8 (common practice, no source).",
    )

    @property
    def radius(self) -> float:
        """Inside bend radius, given or one thickness."""
        return self.thickness if self.bend_radius is None else self.bend_radius

    @property
    def least_flange(self) -> float:
        """Shortest flange, measured outside."""
        return 5.6 * self.thickness if self.die_flange is None else self.die_flange


class FlatBar(Record):
    """One size of flat bar."""

    width: Size = Field(description="Width.")
    thickness: Thickness = Field(description="Thickness.")


class Fasteners(Record):
    """Bolts, lags and pins at hand; sizes by name, lengths in the file's unit."""

    bolts: tuple[FastenerSize, ...] = Field(
        default=("3/8", "1/2", "5/8", "3/4"),
        description='Through-bolts: sizes, "1/2" or "M12", preferred first.',
        min_length=1,
        max_length=30,
    )
    lags: tuple[FastenerSize, ...] = Field(
        default=("3/8", "1/2", "5/8"),
        description="Lag screws: sizes, preferred first.",
        max_length=30,
    )
    u_bolts: tuple[FastenerSize, ...] = Field(
        default=("3/8", "1/2", "5/8"),
        description="U-bolts: sizes of the thread, preferred first.",
        max_length=30,
    )
    bolt_lengths: tuple[Size, ...] | None = Field(
        default=None,
        description="Lengths of through-bolts under the head; default: the usual lengths, 1 to 12 "
        "in for inch threads (common practice, no source), 25 to 300 mm for metric ones (ISO 888).",
        min_length=1,
        max_length=60,
    )
    lag_lengths: tuple[Size, ...] | None = Field(
        default=None,
        description="Lengths of lag screws under the head; default: the usual lengths, 2 to 6 in "
        "for inch threads (common practice, no source), 50 to 160 mm for metric ones (ISO 888).",
        max_length=60,
    )
    pins: tuple[Size, ...] = Field(
        default=_in_mm(0.375, 0.5, 0.625, 0.75),
        description="Diameters of pins (house).",
        max_length=30,
    )
    bolt_grade: Name = Field(
        default="ASTM A307", description="Grade of bolts (standard); printed on the lists."
    )
    pin_yield: Stress = Field(
        default=310.0, description="Yield strength of pins: cold-drawn bar, 45 ksi (house)."
    )

    def lengths(self, kind: Literal["bolt", "lag"], size: str) -> tuple[float, ...]:
        """Lengths at hand of one thread, shortest first."""
        given = self.bolt_lengths if kind == "bolt" else self.lag_lengths
        usual = USUAL_LENGTHS[kind, "mm" if tables.is_metric(size) else "in"]
        return tuple(sorted(usual if given is None else given))


class Printer(Record):
    """The 3D printer and how its holes come out."""

    bed: tuple[Size, Size, Size] = Field(
        default=(220.0, 220.0, 250.0), description="Bed and height: [x, y, z] (house)."
    )
    hole_compensation: Annotated[float, Quantity("length", -2.0, 2.0)] = Field(
        default=0.3, description="Added to a printed hole's diameter (house)."
    )
    chamfer: Gap = Field(default=0.8, description="Chamfer at the bottom edge (house).")
    wall: Size = Field(default=2.4, description="Thinnest wall to print (house).")
    material: Name = Field(
        default="ASA", description="Material for outdoors (common practice, no source)."
    )

    @property
    def plastic(self) -> Material:
        """What blocks are printed of; their mass is told as if they were solid."""
        return Material(f"{self.material}, printed (mass if solid)", plastic(self.material).density)


class Prices(Record):
    """Prices in the shop's own currency; what is left out is not costed."""

    currency: Name = Field(default="", description="Name or sign of the currency.")
    steel: Price | None = Field(default=None, description="Steel, a kg.")
    cut: Price | None = Field(default=None, description="Cutting, a metre.")
    bend: Price | None = Field(default=None, description="One bend.")
    hole: Price | None = Field(default=None, description="One hole.")
    weld: Price | None = Field(default=None, description="Welding, a metre.")
    fastener: Price | None = Field(default=None, description="One bolt, lag or pin.")
    finish: Price | None = Field(default=None, description="Finish, a kg.")


def stock_plates() -> tuple[Plate, ...]:
    """Return the plate a common shop has (house)."""
    return tuple(Plate(thickness=size) for size in _in_mm(0.1875, 0.25, 0.3125, 0.375, 0.5))


def stock_flat_bars() -> tuple[FlatBar, ...]:
    """Return the flat bar a common shop has (house)."""
    sizes = ((2, 0.25), (3, 0.25), (4, 0.25), (6, 0.25), (3, 0.375), (4, 0.375), (6, 0.375))
    return tuple(
        FlatBar(width=wide, thickness=thick) for wide, thick in (_in_mm(*size) for size in sizes)
    )
