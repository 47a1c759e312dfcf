"""The wood of a post or a leaf by its common name, which the tables have or have not.

A wood that the tables do not have is built with and said to be unjudged; a slip of the pen in the
name of one that they have would lose its checks as well, so it is refused.
"""

from difflib import get_close_matches
from typing import Annotated

from pydantic import AfterValidator, Field

from hangpost.generators.strength.tables import table
from hangpost.generators.survey.fields import unfit

SLIP = 0.9  # likeness from which on a name is a slip; "northern" and "southern pine" have 0.85


def _no_slip(species: str) -> str:
    listed = list(table("species"))
    name = " ".join(species.split()).lower()
    if name not in listed and (like := get_close_matches(name, listed, 1, SLIP)):
        raise unfit(
            f'is not in the tables of wood, and looks like "{like[0]}"',
            f"{', '.join(listed)}; another wood is built with, and its checks are not judged",
        )
    return species


Species = Annotated[str, Field(min_length=2, max_length=60), AfterValidator(_no_slip)]
