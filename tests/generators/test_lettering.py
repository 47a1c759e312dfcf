"""Etched marks: strokes of their size, inside their box, and read back by a person's eye once.

The letters were drawn to a picture and looked at when they were made; here only what can be
counted is held.
"""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.generators.writers.lettering import etched, length_of

SIGNS = string.ascii_uppercase + string.digits + "-_./+"


@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_of_a_file_name_has_strokes_within_its_box(sign: str) -> None:
    points = [p for stroke in etched(sign, (0, 0), 6) for p in stroke]

    assert points and all(0 <= x <= 4 and 0 <= y <= 6 for x, y in points)
    assert all(len(stroke) >= 2 for stroke in etched(sign, (0, 0), 6))


def test_no_two_signs_look_the_same() -> None:
    drawn = {sign: etched(sign, (0, 0), 6) for sign in SIGNS}

    assert len(set(drawn.values())) == len(SIGNS)


def test_small_letters_are_etched_as_capitals_and_strange_signs_refused() -> None:
    assert etched("post-rh", (0, 0), 5) == etched("POST-RH", (0, 0), 5)
    with pytest.raises(ValueError, match="cannot be etched"):
        etched("Ø9", (0, 0), 5)


@given(st.text(SIGNS, min_size=1, max_size=20), st.floats(1, 30), st.floats(-180, 180))
def test_a_mark_is_as_long_as_it_says_and_turns_about_its_corner(
    words: str, height: float, angle: float
) -> None:
    flat = [p for stroke in etched(words, (0, 0), height) for p in stroke]
    turned = [p for stroke in etched(words, (7, -3), height, angle) for p in stroke]

    assert max(x for x, _ in flat) <= length_of(words, height) + 1e-9
    assert max(y for _, y in flat) <= height + 1e-9
    for (x, y), (u, v) in zip(flat, turned, strict=True):
        assert (u - 7) ** 2 + (v + 3) ** 2 == pytest.approx(x * x + y * y, abs=1e-6)
