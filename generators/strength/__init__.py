"""Whether it holds: one function for each clause."""
