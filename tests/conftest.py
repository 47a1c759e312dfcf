"""What all tests share: property tests draw the same examples every time, however busy it is."""

from hypothesis import settings

settings.register_profile("repeatable", deadline=None, derandomize=True)
settings.load_profile("repeatable")
