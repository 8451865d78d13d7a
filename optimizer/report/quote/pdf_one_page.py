"""Content that is to stand on one page, drawn smaller where it would not fit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from reportlab.platypus import Flowable

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from optimizer.report.quote.pdf_paper import Paper


#: A page's content is drawn smaller by one of these where it would not fit.
_SHRUNK: Final = (1.0, 1.04, 1.08, 1.12, 1.16, 1.2, 1.25)


def on_one_page(make: Callable[[Paper], Iterable[Flowable]], paper: Paper) -> Iterator[Flowable]:
    """Yield content as one page, its letters a little smaller where need be; else as it flows."""
    for factor in _SHRUNK:
        page = OnePage(list(make(paper.wider(factor))), paper, factor)
        if page.fits:
            yield page
            return
    yield from make(paper)


def height_of(content: Sequence[Flowable], paper: Paper) -> float:
    """Return how high flowables are below each other [points]."""
    high = gap = 0.0
    for place, one in enumerate(content):
        high += one.wrap(paper.width, paper.height)[1]
        high += max(gap, one.getSpaceBefore()) if place else 0.0
        gap = one.getSpaceAfter()
    return high


class OnePage(Flowable):  # type: ignore[misc] # reportlab has no types
    """Flowables below each other, drawn smaller by a factor.

    Parameters
    ----------
    content : sequence of Flowable
        Made for a page wider by the factor.
    paper : Paper
        The page as it is.
    factor : float
        By how much the content is larger than the page.
    """

    def __init__(self, content: Sequence[Flowable], paper: Paper, factor: float) -> None:
        super().__init__()
        self.content, self.factor = content, factor
        self.width, self.height = paper.width, paper.height - 1
        self._places = list(self._placed())

    @property
    def fits(self) -> bool:
        """Whether all of it is on the page."""
        return min(self._places) >= 0

    def _placed(self) -> Iterator[float]:
        """Yield how far above the foot each begins [points], its own foot."""
        y, gap = self.height * self.factor, 0.0
        for place, one in enumerate(self.content):
            _, high = one.wrap(self.width * self.factor, y)
            y -= (max(gap, one.getSpaceBefore()) if place else 0.0) + high
            gap = one.getSpaceAfter()
            yield y

    def draw(self) -> None:
        """Draw on the page."""
        self.canv.scale(1 / self.factor, 1 / self.factor)
        for one, y in zip(self.content, self._places, strict=True):
            one.wrapOn(self.canv, self.width * self.factor, self.height)
            one.drawOn(self.canv, 0, y)
