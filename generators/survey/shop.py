"""The shop: what the workshop has and how it works; complete without a file.

Everything may be overridden in a shop file, key by key; the defaults here are those of a workshop
that works in inches, `usual.py` has the others. A description says where a default
comes from: (standard), (common practice, no source) or (house).
Lengths in mm, strengths in MPa, prices in the shop's own currency.
"""

from collections.abc import Iterator
from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from hangpost.generators.survey.fields import (
    Broken,
    Gap,
    Name,
    Quantity,
    Record,
    Size,
    refuse,
)
from hangpost.generators.survey.stock import (
    Fasteners,
    FlatBar,
    Plate,
    Prices,
    Printer,
    Steel,
    stock_flat_bars,
    stock_plates,
)
from hangpost.parts import tables

Process = Literal["laser", "waterjet", "plasma", "hand"]
Paper = Literal["a4", "a3", "letter", "tabloid"]
Long = Annotated[float, Quantity("length", 0.0, 15_000.0, above=True)]
Factor = Annotated[float, Quantity("share", 0.0, 20.0)]

# Smallest hole over thickness. Laser: fabricators' guides; plasma: trade practice; waterjet as
# laser and hand (drilled) no limit: house.
HOLE_FACTORS: Final[dict[Process, float]] = {
    "laser": 1.0,
    "waterjet": 1.0,
    "plasma": 1.5,
    "hand": 0.0,
}


class Cutting(Record):
    """How flats are cut, and what the process can do."""

    process: Process = Field(
        default="laser", description="laser, waterjet, plasma or hand (default laser: house)."
    )
    hole_factor: Factor | None = Field(
        default=None,
        description="Smallest hole over thickness; below it the hole is marked for drilling. "
        "Default by process: laser 1, waterjet 1, plasma 1.5, hand 0 (common practice, no source).",
    )
    smallest_hole: Size = Field(
        default=1.0, description="Smallest hole at all (common practice, no source)."
    )
    web_factor: Factor = Field(
        default=1.0, description="Web between cut-outs over thickness (common practice, no source)."
    )
    edge_factor: Factor = Field(
        default=1.5,
        description="Hole's edge to the outline over thickness (common practice, no source).",
    )
    corner_radius: Gap = Field(default=3.0, description="Radius on every outside corner (house).")

    @property
    def least_hole_factor(self) -> float:
        """Smallest hole over thickness, given or by process."""
        return HOLE_FACTORS[self.process] if self.hole_factor is None else self.hole_factor

    def least_hole(self, thickness: float) -> float:
        """Return the smallest hole this process cuts in a plate."""
        return max(self.smallest_hole, self.least_hole_factor * thickness)


class Bending(Record):
    """How flats are bent; radius and K-factor go with each plate."""

    angle_tolerance: Annotated[float, Quantity("angle", 0.0, 5.0)] = Field(
        default=0.5, description="Plus-minus on a bend's angle in degrees (common practice)."
    )
    hole_factor: Factor = Field(
        default=2.0,
        description="Hole's edge to the start of the bend over thickness (common practice, no "
        "source).",
    )
    longest: Long = Field(default=1500.0, description="Longest bend the press takes (house).")


class Fits(Record):
    """Which clearance a hole gets."""

    bolts: tables.Fit = Field(
        default="normal",
        description="Series of bolt holes: close, normal, loose (ISO 273, ASME B18.2.8; standard).",
    )
    pins: tables.Fit = Field(
        default="close",
        description="Series of pivot holes, as for bolts (ISO 273, ASME B18.2.8; standard).",
    )
    zinc: Gap = Field(
        default=1.6,
        description="Added to hole diameters when finish is galvanised: 1/16 in (common practice, "
        "no source).",
    )


class Limits(Record):
    """How far a bracket may carry its pin."""

    reach: Size = Field(
        default=350.0, description="Seat of the post bracket to its pin, square off (house)."
    )
    overhang: Size = Field(
        default=300.0,
        description="Pin past the post's side face, along the leaf, either way (house).",
    )
    leaf_reach: Size = Field(
        default=250.0, description="Leaf's face to the leaf pivot, square off (house)."
    )


class Clearances(Record):
    """What must stay free, and how much of the travel is kept in hand."""

    folded: Gap = Field(
        default=107.95,
        description="Pin centre to the leaf's face where the actuator lies closest along the leaf: "
        "4 1/4 in (common practice, no source: 4 to 4 1/2 in).",
    )
    body: Gap = Field(
        default=10.0, description="Actuator body to leaf, post and bracket at every angle (house)."
    )
    stroke_margin: Gap = Field(
        default=10.0, description="Travel kept in hand at each end of the stroke (house)."
    )
    dead_centre: Annotated[float, Quantity("angle", 1.0, 60.0)] = Field(
        default=15.0,
        description="Actuator to the line through hinge axis and pin, never less, in degrees "
        "(common practice, no source).",
    )
    eye_swing: Gap = Field(
        default=6.0, description="Room around the actuator's eye as it turns (house)."
    )
    ear_side: Gap = Field(
        default=1.5, description="Ear to eye on each side, taken up by washers (house)."
    )
    tool: Gap = Field(default=3.0, description="Room around a socket on a fastener (house).")


class Sheet(Record):
    """Size of the sheets flats are cut from."""

    length: Long = Field(default=2438.4, description="Longer side: 8 ft (common practice).")
    width: Long = Field(default=1219.2, description="Shorter side: 4 ft (common practice).")
    spacing: Gap = Field(default=8.0, description="Between nested parts and at the edge (house).")


class Drawings(Record):
    """How drawings and paper templates are made."""

    units: Literal["in", "mm"] = Field(
        default="in",
        description="Unit that stands first; the other follows in brackets. Default: units of this "
        "file, or those of the site file where this one does not say.",
    )
    projection: Literal["auto", "first", "third"] = Field(
        default="auto",
        description="Projection: third angle, first angle, or auto (third with inches, first with "
        "mm; common practice).",
    )
    paper: tuple[Paper, ...] = Field(
        default=("letter", "a4"),
        description="Papers to print on, one file for each: a4, a3, letter, tabloid. Default: "
        "letter and a4 in inches, a4 in mm.",
        min_length=1,
        max_length=4,
    )
    etch: bool = Field(default=False, description="Etch the part's mark as strokes.", strict=True)

    @property
    def angle(self) -> Literal["first", "third"]:
        """Projection, worked out."""
        if self.projection == "auto":
            return "third" if self.units == "in" else "first"
        return self.projection


class Shop(Record):
    """The shop file."""

    units: Literal["in", "mm"] = Field(
        default="in", description="What a bare number in this file means."
    )
    name: Name = Field(default="house shop", description="Name of the shop, on every sheet.")
    revision: Name = Field(default="A", description="Revision printed on every sheet.")
    finish: Literal["plain", "painted", "galvanised", "stainless"] = Field(
        default="galvanised", description="plain, painted, galvanised (hot-dip) or stainless."
    )
    reserve: Annotated[float, Quantity("share", 1.0, 5.0)] = Field(
        default=1.1, description="Kept in hand on every strength check, as a factor (house)."
    )
    steel: Steel = Field(default=Steel(), description="What plate, bar and angle are made of.")
    plate: tuple[Plate, ...] = Field(
        default=stock_plates(), description="Plate in stock.", min_length=1, max_length=40
    )
    flat_bar: tuple[FlatBar, ...] = Field(
        default=stock_flat_bars(), description="Flat bar in stock.", max_length=100
    )
    fasteners: Fasteners = Field(default=Fasteners(), description="Bolts, lags and pins at hand.")
    fits: Fits = Field(default=Fits(), description="Which clearance a hole gets.")
    cutting: Cutting = Field(default=Cutting(), description="How flats are cut.")
    bending: Bending = Field(default=Bending(), description="How flats are bent.")
    sheet: Sheet = Field(default=Sheet(), description="Sheets flats are cut from.")
    printer: Printer = Field(default=Printer(), description="The 3D printer.")
    drawings: Drawings = Field(default=Drawings(), description="Drawings and paper.")
    limits: Limits = Field(default=Limits(), description="How far a bracket may reach.")
    clearances: Clearances = Field(default=Clearances(), description="What must stay free.")
    prices: Prices | None = Field(default=None, description="Prices, if lists are to cost.")

    @model_validator(mode="after")
    def _whole(self) -> Self:
        refuse(self._broken())
        return self

    def _broken(self) -> Iterator[Broken]:
        thicknesses = [each.thickness for each in self.plate]
        for index, thickness in enumerate(thicknesses):
            if thickness in thicknesses[:index]:
                yield Broken(f"plate[{index + 1}].thickness", "is listed twice", "once each")
        if self.sheet.width > self.sheet.length:
            yield Broken("sheet.width", "is more than length", "the shorter side")

    @property
    def plates(self) -> tuple[Plate, ...]:
        """Plate in stock, thinnest first."""
        return tuple(sorted(self.plate, key=lambda each: each.thickness))

    def plate_near(self, thickness: float) -> Plate:
        """Return the thinnest plate of at least this thickness, or the thickest there is."""
        enough = [each for each in self.plates if each.thickness >= thickness - 1e-6]
        return enough[0] if enough else self.plates[-1]

    def bolt_hole(self, size: str) -> float:
        """Return the hole for a bolt or lag of a listed size, zinc allowed for."""
        return tables.hole(size, self.fits.bolts) + self.zinc

    def pin_hole(self, diameter: float) -> float:
        """Return the finished hole for a pivot pin, reamed or masked: no zinc stays in it."""
        return tables.pin_hole(diameter, self.fits.pins)

    @property
    def zinc(self) -> float:
        """Growth of a hole's diameter for the finish."""
        return self.fits.zinc if self.finish == "galvanised" else 0.0
