"""What verifying says: one problem a line, each with the file it is in."""

from dataclasses import dataclass

from hangpost.generators.one_line import one_line


class Unreadable(ValueError):
    """A file is not what its name says, or is damaged; the text says how."""


@dataclass(frozen=True, slots=True)
class Problem:
    """Something in a file that is not as pack.json says."""

    path: str
    what: str

    def __str__(self) -> str:
        """One line for people, whatever signs a file name or its contents bring along."""
        return one_line(f"{self.path}: {self.what}")


@dataclass(frozen=True, slots=True)
class Verdict:
    """How many files were read back, and everything that is wrong."""

    files: int
    problems: tuple[Problem, ...]

    @property
    def good(self) -> bool:
        """Whether the pack is what it says."""
        return not self.problems
