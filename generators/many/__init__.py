"""Many gates in one run: who does the work, what is remembered of it, the table of results."""
