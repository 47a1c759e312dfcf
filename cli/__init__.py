"""Words for people: the command line."""
