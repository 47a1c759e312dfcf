"""Sentences on a terminal: 80 columns, and no number torn from its unit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangpost.cli.messages import filled

TOGETHER = (
    *("5 1/2 in", "188 N m", "671 lbf ft", "41.3 mm", "2002 N", "11 m/s", "15 degrees", "90 %"),
    *("4 15/16 in", "22 kN m", "180 lb", "9.5 kg"),
)


@pytest.mark.parametrize("whole", TOGETHER)
@given(before=st.integers(0, 90), end=st.sampled_from(("", ",", ";", ".", ")", ": more")))
def test_no_number_is_torn_from_its_unit(whole: str, before: int, end: str) -> None:
    words = " ".join("w" for _ in range(before))
    lines = filled(f"{words} {whole}{end} and on it goes", "  ok   ", " " * 7).splitlines()

    assert any(whole in line for line in lines)
    assert all(len(line) < 80 for line in lines)


def test_words_are_kept_in_order() -> None:
    text = "The leaf pivot lands 900.2 mm (35 7/16 in) inside the nearer end of the rail; " * 3
    assert filled(text, "  - ", "    ").split() == ["-", *text.split()]
