"""JSON Schema of the site file and the shop file, for editors and other programs.

Made from the records themselves; the two .schema.json files beside this one are what ships, and a
test holds them against these functions. `python -m hangpost.generators.survey.schema` rewrites
them. A schema cannot say everything: rules between fields are told by reading the file.
"""

import json
from pathlib import Path
from typing import Any, Final

from hangpost.generators.survey.fields import Record
from hangpost.generators.survey.shop import Shop
from hangpost.generators.survey.site import Site

DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"
SHIPPED: Final = Path(__file__).parent


def site_schema() -> dict[str, Any]:
    """Return the JSON Schema of the site file."""
    schema = _schema(Site, "hangpost site file")
    many = schema["properties"]["leaf"]
    # One leaf is written as a plain table, two as an array of tables.
    one = many["items"]
    schema["properties"]["leaf"] = {
        "description": many.pop("description"),
        "anyOf": [one, many],
    }
    schema["required"] = ["units", "job", "leaf"]  # a leaf may bring the other tables itself
    return schema


def shop_schema() -> dict[str, Any]:
    """Return the JSON Schema of the shop file."""
    return _schema(Shop, "hangpost shop file")


def as_text(schema: dict[str, Any]) -> str:
    """Return a schema as the shipped file holds it."""
    return json.dumps(schema, indent=2, ensure_ascii=True) + "\n"


def _schema(record: type[Record], title: str) -> dict[str, Any]:
    schema = record.model_json_schema(by_alias=True, mode="validation")
    return {"$schema": DIALECT, **schema, "title": title}


def write_shipped() -> None:
    """Write both schemas beside this file."""
    for name, schema in (("site", site_schema()), ("shop", shop_schema())):
        text = as_text(schema)
        (SHIPPED / f"{name}.schema.json").write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write_shipped()
