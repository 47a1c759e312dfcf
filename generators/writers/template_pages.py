"""What is on each page of a template file, as data for the manifest and for reading back."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PageMark:
    """The centre of one hole as it lies in the PDF, mm from the page's lower left corner."""

    hole: str
    x: float
    y: float
    diameter: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """One page of a template file: what it shows and where its holes are."""

    page: int
    template: str
    kind: str  # entry, exit, wrap, numbers
    tile: str  # "1/1", "2/3"; "" for a page of numbers
    turned: bool  # the drawing lies on its side: UP points to the left
    marks: tuple[PageMark, ...] = ()

    def data(self) -> dict[str, object]:
        """The page as it stands in the pack's manifest."""
        return {
            "page": self.page,
            "template": self.template,
            "kind": self.kind,
            "tile": self.tile,
            "turned": self.turned,
            "marks": [
                {"hole": m.hole, "x": round(m.x, 4), "y": round(m.y, 4), "diameter": m.diameter}
                for m in self.marks
            ],
        }
