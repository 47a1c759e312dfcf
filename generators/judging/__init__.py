"""Will it hold, and can it be made: every part of a design against the rules, and what to pick."""
