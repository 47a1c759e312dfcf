"""From a survey to a checked pack."""
