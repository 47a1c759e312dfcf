"""Whatever stands in a file, it is read or refused in printable lines that name the file."""

import json
from collections.abc import Callable

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hangpost.generators.survey.mistakes import SurveyError
from hangpost.generators.survey.reading import shop_from_bytes, site_from_bytes

from .sample_site import SAMPLE

VALUES = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-(10**20), 10**20),
        st.floats(),
        st.text(max_size=30),
        st.sampled_from(["5 1/2", "-3 ft", "timber", "right", "free", "6x6", "2x2x1/8", "1e99"]),
    ),
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3)
    ),
    max_leaves=5,
)


def assert_read_or_refused(read: Callable[..., object], data: bytes) -> None:
    """Fail on anything but a record or a refusal of printable lines that name the file."""
    try:
        read(data, file="site.toml")
    except SurveyError as refused:
        lines = str(refused).splitlines()
        good = all(each.startswith("site.toml") and each.isprintable() for each in lines)
    else:
        return

    assert lines and good, lines


def as_toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value).replace("\x7f", "\\u007f")
    if isinstance(value, float):
        return {"inf": "inf", "-inf": "-inf", "nan": "nan"}.get(str(value), repr(value))
    if isinstance(value, list):
        return "[" + ", ".join(map(as_toml, value)) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{json.dumps(k)} = {as_toml(v)}" for k, v in value.items()) + "}"
    return str(value)


LINES = [line for line in SAMPLE.splitlines() if " = " in line]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(LINES), VALUES)
def test_any_value_under_any_key_is_read_or_refused_in_words(line: str, value: object) -> None:
    key = line.partition(" = ")[0]
    text = SAMPLE.replace(line, f"{key} = {as_toml(value)}")
    assert_read_or_refused(site_from_bytes, text.encode("utf-8", "surrogatepass"))


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_are_refused_in_words(data: bytes) -> None:
    for read in (site_from_bytes, shop_from_bytes):
        assert_read_or_refused(read, data)


@settings(max_examples=100, deadline=None)
@given(st.data())
def test_a_sample_with_torn_bytes_is_read_or_refused(data: st.DataObject) -> None:
    whole = SAMPLE.encode()
    start = data.draw(st.integers(0, len(whole) - 1))
    torn = whole[:start] + data.draw(st.binary(max_size=12)) + whole[start + 3 :]
    assert_read_or_refused(site_from_bytes, torn)
