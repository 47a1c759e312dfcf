"""The survey form and the check sizes that are typed back from it."""

import pytest

from hangpost.generators.survey.check_sizes import CheckSizes, site_readings
from hangpost.generators.survey.consistency import CHECKS, NAMES, suspects
from hangpost.generators.survey.reading import check_sizes_from_bytes, site_from_bytes
from hangpost.generators.survey.site import Site
from hangpost.generators.writers.layout import overlaps
from hangpost.generators.writers.paper import PAPERS, TRUE
from hangpost.generators.writers.survey_form import FORM, numbers, survey_form

from .drawings import GATE, strays, text_of


def test_form_names_its_boxes_as_the_site_file_does():
    """PDF-14: the fields are the keys of the site file."""
    schema = Site.model_fields
    for group in FORM[:-1]:
        for entry in group.fields:
            record, *rest = entry.key.split(".")
            kind = schema[record].annotation
            for name in rest:
                fields = _fields(kind)
                assert name in fields, entry.key
                kind = fields[name].annotation


def _fields(kind):
    """Fields of a record, whatever it is wrapped in."""
    from typing import get_args

    if hasattr(kind, "model_fields"):
        return kind.model_fields
    for inner in get_args(kind):
        found = _fields(inner)
        if found:
            return found
    return {}


@pytest.mark.parametrize(("paper", "units"), [("letter", "in"), ("a4", "mm"), ("a3", "mm")])
def test_form_is_one_page_with_every_number_and_nothing_meets(paper, units):
    """PDF-14: one page with date, person, revision, plumb, level and the redundant diagonals."""
    sheet = survey_form(PAPERS[paper], units, "0.1.0")
    assert overlaps(sheet.items) == []
    assert strays(sheet, TRUE.field(PAPERS[paper])) == []
    text = text_of([sheet])
    for key, number in numbers().items():
        assert f"{number}{key}" in text.replace(" ", "")
    for words in ("date", "measured by", "revision", "plumb", "level", "photos"):
        assert words in text
    asked = set(numbers())
    assert {"check.post_diagonal", "check.leaf_diagonal"} <= asked
    # SAF-04, SAF-06: asked at the gate, whatever the answers
    people = ("stop_open", "stop_closed", "manual_release", "separate_path", "signs")
    assert {f"people.{each}" for each in people} <= asked
    assert {"hinge.count", "hinge.tether"} <= asked


def test_check_sizes_typed_back_name_the_slip():
    site = site_from_bytes(GATE.encode())
    (hung,) = site.leaves
    base = site_readings(site, hung)
    assert base["hinge.to_leaf_face"] == float(hung.hinge.to_leaf_face)
    assert base["hinge.to_actuator_face"] == float(hung.hinge.to_actuator_face)
    leaf_face, actuator_face = base["hinge.to_leaf_face"], base["hinge.to_actuator_face"]
    width = base["post.width"]
    far = leaf_face + width
    typed = (
        f'units = "mm"\nhinge_to_far_post_face = {far}\n'
        f"hinge_to_near_corner = {(leaf_face**2 + actuator_face**2) ** 0.5}\n"
        f"hinge_to_far_corner = {(far**2 + actuator_face**2) ** 0.5}\n"
    )
    sizes = check_sizes_from_bytes(typed.encode(), "in")
    good = {**base, **sizes.readings}
    assert suspects(good) == ()

    (found,) = suspects({**good, "hinge.to_leaf_face": leaf_face + 12.7})
    assert found.name == "hinge.to_leaf_face"
    assert found.others_say == pytest.approx(leaf_face, abs=0.5)


def test_the_check_file_knows_every_check():
    given = {c.name.removeprefix("check.") for c in CHECKS}
    assert given == set(CheckSizes.model_fields) - {"units", "leaf"}
    site = site_from_bytes(GATE.encode())
    assert set(site_readings(site, site.leaves[0])) <= set(NAMES)
