"""The schemas that ship: current, sound by an independent validator, every key described."""

import tomllib

import jsonschema
import pytest

from hangpost.generators.survey import schema

from .sample_site import SAMPLE


@pytest.mark.parametrize("name", ["site", "shop"])
def test_the_shipped_schema_is_current_and_sound(name: str) -> None:
    made = {"site": schema.site_schema, "shop": schema.shop_schema}[name]()
    shipped = (schema.SHIPPED / f"{name}.schema.json").read_text(encoding="utf-8")

    assert shipped == schema.as_text(made)
    jsonschema.Draft202012Validator.check_schema(made)


def test_the_schema_refuses_an_unknown_key_and_takes_the_sample() -> None:
    data = tomllib.loads(SAMPLE)
    jsonschema.validate(data, schema.site_schema())
    data["leaf"]["widht"] = 3

    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(data, schema.site_schema())


def test_every_key_of_both_files_is_described() -> None:
    for made in (schema.site_schema(), schema.shop_schema()):
        tables = made["$defs"]
        for table in [made, *tables.values()]:
            for key, field in table["properties"].items():
                # a description equal to that of the table it points at is said there
                named = tables.get(field.get("$ref", "").rpartition("/")[2], {})
                assert field.get("description") or named.get("description"), key
