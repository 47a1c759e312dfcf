"""`python -m hangpost.cli` is the same as `hangpost`."""

from hangpost.cli.main import main

main()
