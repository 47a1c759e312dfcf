"""What was measured at the gate, and what the shop has."""
