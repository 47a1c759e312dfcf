"""The survey: what was measured at the gate and what the workshop has, read and checked."""
