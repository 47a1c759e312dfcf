"""The parts that put the pins there, chosen and placed."""
