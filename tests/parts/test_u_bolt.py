"""U-bolts round tubes: they clear the tube, their legs meet the bracket's holes."""

import pytest

from hangpost.parts.bodies import Arch, Body
from hangpost.parts.flat import ParameterError
from hangpost.parts.u_bolt import UBolt


@pytest.fixture
def bolt() -> UBolt:
    return UBolt(size="M10", outside=60.3)


def test_body_goes_round_the_tube_and_touches_nothing(bolt: UBolt) -> None:
    import cadquery as cq

    solid = bolt.body("u", 12.0, 26.0).solid()
    tube = cq.Solid.makeCylinder(30.15, 100, cq.Vector(0, -40, -30.15), cq.Vector(0, 1, 0))
    box = solid.BoundingBox(1e-4)

    assert solid.isValid() and len(solid.Solids()) == 1
    assert solid.distance(tube) == pytest.approx(0.5, abs=1e-6)
    assert box.zmin == pytest.approx(-60.3 - 0.5 - 10.0, abs=1e-2)
    assert box.zmax == pytest.approx(26.0 + bolt.stack, abs=1e-2)
    assert (box.ymin + box.ymax) / 2 == pytest.approx(12.0, abs=1e-2)


def test_bar_keeps_its_length_round_the_bend(bolt: UBolt) -> None:
    """Volume of half a torus and two legs by Pappus, nuts and washers left out."""
    from math import pi

    arch, *rest = bolt.body("u", 0.0, 26.0).shapes
    assert arch.solid().Volume() == pytest.approx(pi * bolt.bend_radius * pi * 25.0, rel=1e-6)
    assert rest[0].length == pytest.approx(bolt.leg(26.0))


def test_mirror_image_is_itself(bolt: UBolt) -> None:
    body = bolt.body("u", 5.0, 20.0)
    one, two = body.solid(), body.mirrored().solid()

    assert one.intersect(two).Volume() == pytest.approx(one.Volume(), rel=1e-6)


def test_legs_stand_a_bar_and_the_fit_beside_the_tube(bolt: UBolt) -> None:
    assert bolt.pitch == pytest.approx(60.3 + 1.0 + 10.0)
    assert bolt.inside == pytest.approx(60.3 + 1.0)


def test_tight_bend_is_refused() -> None:
    with pytest.raises(ParameterError, match="tightest bend"):
        UBolt(size="M16", outside=26.9)


def test_mirrored_arch_is_the_mirror_image_of_the_arch() -> None:
    arch = Arch((10.0, 4.0, -7.0), (0.6, 0.8, 0.0), (0.0, 0.0, 1.0), 30.0, 5.0)
    body = Body("a", (arch,))

    image, own = body.solid().mirror("YZ"), body.mirrored().solid()
    assert image.intersect(own).Volume() == pytest.approx(own.Volume(), rel=1e-6)
