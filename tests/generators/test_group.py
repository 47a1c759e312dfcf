"""Fasteners of one seat as a group: in the plane by the elastic method, out of it by tilting."""

import numpy as np
import pytest

from hangpost.generators.judging.group import Group, lifted


def test_group_in_round_holes_is_the_elastic_method() -> None:
    """AISC Manual part 7: P/n and M r / sum r2; held against a library by test_bolts.py too."""
    points = ((0.0, 0.0), (60.0, 0.0), (0.0, 90.0), (60.0, 90.0), (0.0, 150.0))
    group = Group(points=points, slides=(False,) * 5)
    u, v = group.in_plane(np.array([300.0]), np.array([-700.0]), (140.0, 20.0))
    x, y = np.array(points).T - np.mean(points, axis=0)[:, None]
    moment = (140.0 - 24.0) * -700.0 - (20.0 - 66.0) * 300.0  # about the middle, (24, 66)
    polar = (x**2 + y**2).sum()

    assert u[0] == pytest.approx(300.0 / 5 - moment * y / polar)
    assert v[0] == pytest.approx(-700.0 / 5 + moment * x / polar)


def test_fastener_in_a_slot_takes_nothing_along_it() -> None:
    points = ((0.0, 0.0), (60.0, 0.0), (0.0, 90.0), (60.0, 90.0))
    group = Group(points=points, slides=(False, False, True, True))
    fu, fv, at = np.array([400.0]), np.array([-150.0]), (30.0, -20.0)
    u, v = group.in_plane(fu, fv, at)
    turn = sum(x * b - y * a for (x, y), a, b in zip(points, u[0], v[0], strict=True))

    assert u[0, 2:] == pytest.approx([0.0, 0.0])
    assert (u.sum(), v.sum()) == pytest.approx((400.0, -150.0))
    assert turn == pytest.approx(at[0] * fv[0] - at[1] * fu[0])


@pytest.mark.parametrize(
    ("pull", "first"), [(500.0, 5000.0), (500.0, -9000.0), (500.0, 60000.0), (-300.0, 40000.0)]
)
@pytest.mark.parametrize("edges", [(-10.0, 100.0), (23.0, 100.0), (-10.0, 69.6), (24.0, 66.0)])
def test_lifted_seat_is_in_balance(pull: float, first: float, edges: tuple[float, float]) -> None:
    """By statics; where a fastener stands beyond what presses, the seat turns about that."""
    places = (20.0, 70.0)
    tension, contact = lifted(places, np.array([pull]), np.array([first]), edges)
    edges = (min(edges[0], 20.0), max(edges[1], 70.0))
    short = first - float(tension[0] @ np.array(places))  # what the contact must bring

    assert (tension >= -1e-9).all() and contact[0] >= 0
    assert tension.sum() - contact[0] == pytest.approx(pull)
    if contact[0] > 0:
        at = -short / contact[0]
        assert min(abs(at - edge) for edge in edges) < 1e-6


def test_pressed_seat_pulls_nothing() -> None:
    tension, contact = lifted((20.0, 70.0), np.array([-400.0]), np.array([-18000.0]), (0.0, 90.0))

    assert tension == pytest.approx(np.zeros((1, 2)))
    assert contact == pytest.approx([400.0])
