"""The gate's mechanism against things outside the project.

MuJoCo (a multibody library, https://mujoco.org) builds the gate as bodies, hinges and a slide and
measures length and moment arm itself; it works in metres and radians. SciPy's optimisers look for
the best pivots by their own road. One rule of the trade is common practice, no source.
"""

from collections.abc import Callable
from dataclasses import replace

import mujoco
import numpy as np
import pytest
from scipy.optimize import differential_evolution, minimize

from hangpost.generators.pivots import kinematics
from hangpost.generators.pivots.constraints import CONSTRAINTS, leverage, margins, positions_at
from hangpost.generators.pivots.pairs import ends, tie
from hangpost.generators.pivots.problem import PostPlan, Problem
from hangpost.generators.pivots.solve import solve

Gate = Callable[..., Problem]

# A leaf on a hinge, a tube on a swivel, a rod on a slide in it, and the rod's tip pinned to the
# leaf; the distance between the pins is measured by a tendon of MuJoCo's own.
MODEL = """
<mujoco><option gravity="0 0 0" timestep="0.001" solver="Newton" tolerance="1e-14"/><worldbody>
<body name="leaf"><joint name="hinge" type="hinge" axis="0 0 1" damping="30"/>
  <geom type="box" pos="1.5 0 0" size="1.5 .025 .6" mass="70" contype="0" conaffinity="0"/>
  <site name="leaf_pin" pos="{gx} {gy} 0"/></body>
<body name="tube" pos="{px} {py} 0" euler="0 0 {heading}">
  <joint name="swivel" type="hinge" axis="0 0 1"/>
  <geom type="capsule" fromto="0.05 0 0 .6 0 0" size=".03" mass="3" contype="0" conaffinity="0"/>
  <body name="rod" pos="{length} 0 0"><joint name="slide" type="slide" axis="1 0 0"/>
    <geom type="sphere" size=".015" mass="1" contype="0" conaffinity="0"/><site name="tip"/></body>
</body><site name="post_pin" pos="{px} {py} 0"/></worldbody>
<tendon><spatial name="pins"><site site="post_pin"/><site site="leaf_pin"/></spatial></tendon>
<equality><connect site1="tip" site2="leaf_pin" solref="0.002 1" solimp="0.9999 0.99999 0.0001"/>
</equality><actuator><motor name="thrust" joint="slide"/></actuator></mujoco>"""


def multibody(found: tuple[float, float, float, float]) -> mujoco.MjModel:
    px, py, gx, gy = (value / 1000.0 for value in found)
    heading = np.degrees(np.arctan2(gy - py, gx - px))
    return mujoco.MjModel.from_xml_string(
        MODEL.format(px=px, py=py, gx=gx, gy=gy, heading=heading, length=np.hypot(gx - px, gy - py))
    )


@pytest.mark.parametrize("direction", ["pull", "push"])
def test_length_and_leverage_are_those_of_a_multibody_library(gate: Gate, direction: str) -> None:
    """GEO-02."""
    problem = gate(direction=direction, opening=90.0)
    found = solve(problem)
    four = (*found.post_pivot, *found.leaf_pivot)
    model = multibody(four)
    data = mujoco.MjData(model)
    hinge, dof = model.joint("hinge").qposadr[0], model.joint("hinge").dofadr[0]
    for t in kinematics.swing(problem.direction, problem.opening, 1.0):
        data.qpos[hinge] = np.radians(t)
        data.qvel[dof] = 1.0  # radian per second, so that the tendon's speed is dL/dt
        mujoco.mj_forward(model, data)

        length, rate = data.ten_length[0] * 1000.0, data.ten_velocity[0] * 1000.0
        assert abs(length - kinematics.length(*four, t)) < 1e-9
        assert abs(-rate - kinematics.leverage(*four, t)) < 1e-9


@pytest.mark.parametrize(("direction", "thrust"), [("pull", -40.0), ("push", 40.0)])
def test_driven_gate_follows_the_closed_form_over_the_whole_swing(
    gate: Gate, direction: str, thrust: float
) -> None:
    problem = gate(direction=direction, opening=90.0)
    found = solve(problem)
    four = (*found.post_pivot, *found.leaf_pivot)
    model = multibody(four)
    data = mujoco.MjData(model)
    hinge, slide = (model.joint(name).qposadr[0] for name in ("hinge", "slide"))
    data.ctrl[0] = thrust
    worst, angle = 0.0, 0.0
    while abs(angle) < problem.opening and data.time < 60.0:
        mujoco.mj_step(model, data)
        angle = float(np.degrees(data.qpos[hinge]))
        length = found.closed_length + data.qpos[slide] * 1000.0
        worst = max(worst, abs(length - float(kinematics.length(*four, angle))))

    assert abs(angle) >= problem.opening  # it opened, and to the side it should
    assert (angle > 0.0) == (direction == "pull")
    assert worst < 0.5  # mm; the pin joint is a stiff spring in the simulation


# Common practice, no source: for 90 degrees setback and standoff together are about the stroke
# that is used. With equal offsets b and a long leaf arm the travel is 2 b to first order.
@pytest.mark.parametrize("stroke", [340.0, 400.0, 460.0])
@pytest.mark.parametrize("to_actuator_face", [45.0, 80.0])
def test_for_ninety_degrees_the_two_offsets_make_up_the_stroke(
    gate: Gate, stroke: float, to_actuator_face: float
) -> None:
    hung = gate(opening=90.0, torque=100e3)
    post = PostPlan.square(
        to_leaf_face=42.0, to_actuator_face=to_actuator_face, width=140.0, depth=148.0
    )
    actuator = replace(hung.actuator, stroke=stroke)
    found = solve(replace(hung, post=post, actuator=actuator), grid=300)

    assert 0.93 < (found.setback + found.standoff) / found.stroke_used < 1.07


@pytest.mark.parametrize("direction", ["pull", "push"])
def test_an_optimiser_on_the_same_constraints_finds_no_more_leverage(
    gate: Gate, direction: str
) -> None:
    problem = gate(direction=direction, opening=90.0)
    angles = ends(problem)

    def cost(at: np.ndarray) -> np.ndarray:
        px, py = np.atleast_2d(np.asarray(at).T).T
        pairs = tie(problem, px, py)
        left = margins(problem, pairs, angles)
        short = sum(np.maximum(0.0, -left[c.name]) / c.scale for c in CONSTRAINTS)
        least = leverage(problem, pairs, positions_at(pairs, angles))
        return -least + 100.0 * np.nan_to_num(short, nan=1e6)

    box = problem.post.outline
    bounds = [(box.left - 300.0, box.right + 300.0), (box.top + 25.0, box.top + 350.0)]
    rough = differential_evolution(
        cost,
        bounds,
        rng=7,
        vectorized=True,
        updating="deferred",
        popsize=60,
        tol=1e-10,
        maxiter=400,
        polish=False,
    )
    fine = minimize(
        lambda at: float(cost(at)[0]),
        rough.x,
        method="Nelder-Mead",
        options={"xatol": 1e-6, "fatol": 1e-8, "maxiter": 4000},
    )

    best = solve(problem).best_leverage
    assert best == pytest.approx(-fine.fun, abs=0.05)  # 0.01 mm lattice against a corner
