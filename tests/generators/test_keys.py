"""Every key of the site file and the shop file does something: none is asked for and forgotten."""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest

from hangpost.generators import survey
from hangpost.generators.survey.around import People
from hangpost.generators.survey.fields import Record
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site

GENERATORS = Path(survey.__file__).parents[1]
BY_NAME = {People}  # records whose every field is told by a loop over their names


def records(record: type[Record]) -> Iterator[type[Record]]:
    """The record and all that stand in it."""
    yield record
    for info in record.model_fields.values():
        for each in inner(info.annotation):
            yield from records(each)


def inner(kind: object) -> Iterator[type[Record]]:
    if isinstance(kind, type) and issubclass(kind, Record):
        yield kind
    for each in get_args(kind):
        yield from inner(each)


def looked_at() -> set[str]:
    """Every attribute that the generators read."""
    return {
        node.attr
        for source in GENERATORS.rglob("*.py")
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute) and isinstance(node.ctx, ast.Load)
    }


@pytest.mark.parametrize("file", [Site, Shop])
def test_every_key_is_looked_at(file: type[Record]) -> None:
    read = looked_at()
    asked = {
        f"{record.__name__}.{name}"
        for record in set(records(file)) - BY_NAME
        for name in record.model_fields
        if name not in read
    }

    assert len(set(records(file))) > 5
    assert not asked, "asked for and never read"
