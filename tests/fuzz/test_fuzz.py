"""Whatever a person's file holds, a record comes back or a message in words; nothing else.

Cases by hand for what has gone wrong in such parsers elsewhere, and property-based bytes.
"""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st


def _parsers() -> ModuleType:
    spec = importlib.util.spec_from_file_location("parsers", Path(__file__).with_name("parsers.py"))
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


PARSERS = _parsers()

CASES = {
    "empty": b"",
    "not utf-8": b"\xff\xfe\x00units",
    "nul": b'units = "in"\x00',
    "not a number": b'units = "in"\njob = "x"\n[leaf]\nwidth = nan\nmass = inf\n',
    "huge": b'units = "mm"\n[leaf]\nwidth = 1e308\nheight = 1e-308\n',
    "huge integer": b'units = "mm"\n[leaf]\nwidth = ' + b"9" * 5000 + b"\n",
    "deep": b"a = " + b"[" * 400 + b"]" * 400 + b"\n",
    "dotted": b".".join([b"a"] * 400) + b" = 1\n",
    "long job": b'units = "in"\njob = "' + b"x" * 10_000 + b'"\n',
    "path as job": b'units = "in"\njob = "../../etc/passwd"\n',
    "table for text": b"units = { a = 1 }\njob = [1]\n[post]\nkind = 3\n",
    "many keys": b"".join(b"k%d = 1\n" % i for i in range(20_000)),
    "unicode": 'units = "in"\njob = "\u202egate\u0000"\n'.replace("\u0000", "").encode(),
    "tab in a fraction": b'units = "in"\n[lock]\nthrow = "1/\t2"\n[leaf]\nwidth = "1/\t2"\n',
    "dates": b"units = 2020-01-01\njob = 07:32:00\n",
}


@pytest.mark.parametrize("parser", PARSERS.PARSERS)
@pytest.mark.parametrize("case", CASES)
def test_hostile_bytes_get_words_or_a_record(parser: str, case: str) -> None:
    PARSERS.fed(PARSERS.PARSERS[parser], CASES[case])


@pytest.mark.parametrize("parser", PARSERS.PARSERS)
@given(data=st.binary(max_size=300) | st.text(max_size=300).map(lambda t: t.encode("utf-8")))
@settings(max_examples=60)
def test_any_bytes_get_words_or_a_record(parser: str, data: bytes) -> None:
    PARSERS.fed(PARSERS.PARSERS[parser], data)
