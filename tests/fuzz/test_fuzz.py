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
    "utf-16": 'units = "in"\njob = "x"\n'.encode("utf-16"),
    "utf-16 without a mark": 'units = "in"\n'.encode("utf-16-le"),
    "mark and carriage returns": b'\xef\xbb\xbfunits = "in"\r\njob = "x"\r\n',
    "old carriage returns": b'units = "in"\rjob = "x"\r',
    "a million bytes": b"# " + b"x" * 1_000_000,
    "a million keys in a line": b"a = {" + b",".join(b"k%d=1" % i for i in range(100_000)) + b"}",
    "deep tables": b"\n".join(b"[" + b".".join([b"a"] * n) + b"]" for n in range(1, 40)),
    "deep inline": b"a = " + b"{a = " * 300 + b"1" + b"}" * 300,
    "same key twice": b'units = "in"\nunits = "mm"\n',
    "names with separators": b'units = "in"\njob = "a/b\\\\c:d"\n[post]\nspecies = "../x"\n',
    "absolute name": b'units = "in"\njob = "/etc/passwd"\nbase = "/etc/passwd"\n',
    "nul by escape": b'units = "in"\njob = "a\\u0000b"\nbase = "a\\u0000b"\n',
    "a terminal's codes": b'units = "in"\njob = "a\\u001b[2Jb"\n["a\\u001b[2Jb"]\nx = 1\n',
    "a program": b'units = "in"\njob = "{{ 7*7 }}$(id)`id`%s%n<script>alert(1)</script>"\n',
    "an archive": b"PK\x03\x04" + bytes(range(256)),
    "json deep": b"[" * 100_000,
    "json numbers": b'{"parts": [NaN, Infinity, 1e999, -1e999, ' + b"9" * 10_000 + b"]}",
    "json a list": b"[1, 2]",
    "json surrogates": b'{"job": "\\ud800", "hangpost": "\\udfff"}',
    "bars": b"149.2x199.1",
    "bars of nothing": b"0x0",
    "bars of figures": "\u0661\u0664\u0669x\u0661\u0669\u0669".encode(),
    "bars without end": b"1" * 5000 + b"x" + b"1" * 5000,
    "a quantity": b"5 1/2",
    "a quantity without end": b"1" * 59 + b"x",
    "dates": b"units = 2020-01-01\njob = 07:32:00\n",
}


@pytest.mark.parametrize("parser", [p for p in PARSERS.PARSERS if p != "changed_pack"])
@pytest.mark.parametrize("case", CASES)
def test_hostile_bytes_get_words_or_a_record(parser: str, case: str) -> None:
    """CLI-02: no traceback on hostile input."""
    PARSERS.fed(PARSERS.PARSERS[parser], CASES[case])


QUICK = [name for name in PARSERS.PARSERS if name not in {"pack", "changed_pack"}]


@pytest.mark.parametrize("parser", QUICK)
@given(data=st.binary(max_size=300) | st.text(max_size=300).map(lambda t: t.encode("utf-8")))
@settings(max_examples=60)
def test_any_bytes_get_words_or_a_record(parser: str, data: bytes) -> None:
    """CLI-02: no traceback on fuzzed input."""
    PARSERS.fed(PARSERS.PARSERS[parser], data)


# Three bytes a change: where, and what is put there. Each of these was an error of the program.
CHANGED = {
    "a job of 2000 letters": bytes((0xEA, 0x8D, 0x37)),
}


@pytest.mark.parametrize("case", CHANGED)
def test_a_changed_pack_that_was_not_taken_well(case: str) -> None:
    PARSERS.fed(PARSERS.PARSERS["changed_pack"], CHANGED[case])


@given(data=st.binary(min_size=3, max_size=9))
@settings(max_examples=4)
def test_a_changed_pack_gets_words_or_a_record(data: bytes) -> None:
    PARSERS.fed(PARSERS.PARSERS["changed_pack"], data)
