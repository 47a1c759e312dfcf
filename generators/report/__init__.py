"""The one page that tells what was found."""
