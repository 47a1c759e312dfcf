"""Where the two pins must sit."""
