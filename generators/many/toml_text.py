"""A site file written from tables: the plain TOML that every variant of a catalogue is kept as.

Only what a site file holds: text, numbers, truth, lists and tables. tomllib reads it back equal.
Source: TOML 1.0.0.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

_ESCAPES: Final = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t", "\r": "\\r"}


def toml(tables: Mapping[str, Any]) -> str:
    """The file's text: single keys first, then each table, lists of tables as [[...]]."""
    return "\n".join(_table(tables, ())).strip() + "\n"


def _table(table: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    inner = {key: value for key, value in table.items() if _is_table(value) or _are_tables(value)}
    for key, value in table.items():
        if key not in inner:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in inner.items():
        here = (*path, key)
        name = ".".join(map(_key, here))
        for each in value if _are_tables(value) else [value]:
            yield f"\n[[{name}]]" if _are_tables(value) else f"\n[{name}]"
            yield from _table(each, here)


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping)


def _are_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(map(_is_table, value))


def _key(key: str) -> str:
    plain = key.replace("-", "").replace("_", "")
    return key if plain.isascii() and plain.isalnum() else _text(key)


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return repr(value)
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{_key(k)} = {_value(v)}' for k, v in value.items())} }}"
    return str(value)  # a date or a time: no key of ours, the reader says so


def _text(text: str) -> str:
    signs = (_ESCAPES.get(c) or (c if c.isprintable() else f"\\U{ord(c):08x}") for c in text)
    return f'"{"".join(signs)}"'
