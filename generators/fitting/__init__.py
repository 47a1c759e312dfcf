"""Does what was made for a gate fit what is there."""
