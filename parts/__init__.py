"""What a thing is: its holes, its flat pattern and its solid."""
