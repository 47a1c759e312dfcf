"""A site file that uses most of what one may say."""

# The site file of the design page, as it stands there.
SAMPLE = """
units = "in"
job = "sample"
[post]
kind = "timber"
size = "6x6"
surface = "dressed"
species = "southern pine"
lean = { toward_leaf = 0.0, toward_actuator = 0.0 }
[hinge]
hand = "right"
to_leaf_face = "1 1/2"
to_actuator_face = "2 3/4"
[leaf]
width = "12 ft"
height = "4 ft"
bottom = "4"
thickness = "2"
axis_offset = 0
mass = "180 lb"
frame = "square_tube"
member = "2x2x1/8"
rails = ["10", "26", "44"]
fill = 0.35
[opening]
toward = "actuator"
angle = 95
[actuator]
retracted = "30 3/4"
stroke = "15 3/4"
thrust = "560 lbf"
speed = "0.6 in/s"
body_diameter = "3"
post_eye = { pin = "1/2", thickness = "3/4", radius = "3/4", to_body = "1 3/4" }
leaf_eye = { pin = "1/2", thickness = "3/4", radius = "3/4", to_body = "1 3/4" }
height = "26"
[lock]
post = { kind = "timber", size = "6x6" }
bolt_diameter = "5/8"
bolt_height = "26"
bolt_to_leaf_face = "1"
throw = "1 1/4"
gap = "2"
sag = "3/8"
[wind]
operating = "25 mph"
survival = "70 mph"
[[obstacle]]
name = "garden wall"
from = ["-4 ft", "5 ft"]
to = ["-3 ft", "16 ft"]
[fixed]
post_pivot = ["-6 3/8", "8 1/4 +- 1/16"]
"""
