"""Safety factors: what a nominal strength is divided by and a load multiplied by.

One table, `factors.csv`, holds them all with the clause or the word "house" behind each.
Clause functions after AISC return *nominal* strengths; `allowable` makes them fit to hold against
loads.
"""

from hangpost.generators.strength.tables import row


def factor(name: str) -> float:
    """Value of one factor, for example "resistance.yield" or "load.stall"."""
    return float(row("factors", name)["value"])


def allowable(nominal: float, limit_state: str) -> float:
    """Nominal strength over the factor "resistance.<limit_state>"."""
    return nominal / factor(f"resistance.{limit_state}")
