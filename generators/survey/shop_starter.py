"""The starter shop file of `hangpost new-shop`: what a workshop has, to be overwritten.

It says what is assumed where there is no shop file, in inches or in mm (house). A line that begins
with "#" and a key is a choice that can be switched on. Flat bar in mm: sizes of EN 10058, memory.
"""

from typing import Final

from hangpost.generators.survey.units import Units

NUMBERS: Final[dict[Units, dict[str, str]]] = {
    "in": {
        "bare": "inches (strengths MPa unless they say psi or ksi)",
        "grade": '"ASTM A36"',
        "yield_strength": '"36 ksi"',
        "ultimate": '"58 ksi"',
        "plates": '"3/16", "1/4", "5/16", "3/8", "1/2"',
        "bars": (
            '"2" x "1/4", "3" x "1/4", "4" x "1/4", "6" x "1/4", '
            '"3" x "3/8", "4" x "3/8", "6" x "3/8"'
        ),
        "bend_radius": '"3/8"',
        "bolts": '["3/8", "1/2", "5/8", "3/4"]',
        "lags": '["3/8", "1/2", "5/8"]',
        "u_bolts": '["3/8", "1/2", "5/8"]',
        "bolt_lengths": '["2", "3", "4", "5", "6", "8", "10"]',
        "pins": '["3/8", "1/2", "5/8", "3/4"]',
        "bolt_grade": '"ASTM A307"',
        "pin_yield": '"310 MPa"',
        "length": '"8 ft"',
        "width": '"4 ft"',
        "paper": '["letter", "a4"]',
        "folded": '"4 1/4"',
    },
    "mm": {
        "bare": "mm (strengths MPa)",
        "grade": '"S235JR"',
        "yield_strength": "235",
        "ultimate": "360",
        "plates": "5, 6, 8, 10, 12, 15",
        "bars": "50 x 6, 80 x 6, 100 x 6, 150 x 6, 80 x 10, 100 x 10, 150 x 10",
        "bend_radius": "10",
        "bolts": '["M10", "M12", "M16", "M20"]',
        "lags": '["M10", "M12"]',
        "u_bolts": '["M10", "M12"]',
        "bolt_lengths": "[40, 60, 80, 100, 120, 160, 200]",
        "pins": "[10, 12, 14, 16, 20]",
        "bolt_grade": '"8.8"',
        "pin_yield": "310",
        "length": "2500",
        "width": "1250",
        "paper": '["a4"]',
        "folded": "108",
    },
}

TEXT: Final = """\
# Shop file for hangpost: what the workshop has. Name it to solve and build with --shop FILE.
# A bare number is in {bare}. Text in quotes may carry its own unit: "3/8", "10 mm".
# Leave out what you do not know: the common workshop's figure stands in for it.

units = "{units}"
name = "house shop"                 # on every sheet
finish = "galvanised"               # plain | painted | galvanised (hot-dip) | stainless
# Flat bar in stock: may stiffen a rail that is too weak alone.
flat_bar = [
{bars}
]

[steel]
grade = {grade}
yield_strength = {yield_strength}
ultimate = {ultimate}

# One block for each thickness of plate that can be had. Bend radius and K-factor of your own
# press brake make the flats come out true: bend one strip and measure it.
{plates}
[fasteners]                         # sizes, preferred first
bolts = {bolts}
lags = {lags}
u_bolts = {u_bolts}
#bolt_lengths = {bolt_lengths}
pins = {pins}
bolt_grade = {bolt_grade}
pin_yield = {pin_yield}

[cutting]
process = "laser"                   # laser | waterjet | plasma | hand

[sheet]                             # what flats are cut from
length = {length}
width = {width}

[printer]
bed = ["220 mm", "220 mm", "250 mm"]
material = "ASA"

[drawings]
units = "{units}"                        # stands first; the other follows in brackets
paper = {paper}               # a4 | a3 | letter | tabloid, one file of templates for each
#projection = "first"               # first | third angle

[clearances]
folded = {folded}                    # pin to the leaf's face where the actuator lies along it
body = "10 mm"                      # actuator to whatever it passes

#[prices]                           # for lists that cost: what is left out is not costed
#currency = "EUR"
#steel = 2.40                       # a kg
#cut = 1.10                         # a metre
"""


def shop_starter(units: Units = "in") -> str:
    """A commented shop file in one of the two systems."""
    values = NUMBERS[units]
    first, *others = values["plates"].split(", ")
    blocks = [f"[[plate]]\nthickness = {first}\n#bend_radius = {values['bend_radius']}\n"]
    blocks[0] += "#k_factor = 0.42\n"
    sizes = [each.split(" x ") for each in values["bars"].split(", ")]
    bars = [f"    {{ width = {wide}, thickness = {thick} }}," for wide, thick in sizes]
    blocks += [f"[[plate]]\nthickness = {each}\n" for each in others]
    lists = {"plates": "\n".join(blocks), "bars": "\n".join(bars)}
    return TEXT.format_map({**values, **lists, "units": units})
