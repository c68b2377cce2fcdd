"""What a step goes by and isn't there: each with its name, for whoever programs, and in words for a maker."""

from __future__ import annotations

from drafting.errors import DraftingError
from drafting.saying import Name, Words, say


class Lacking(DraftingError, LookupError):
    """What a step goes by isn't there. Its text is for whoever programs; ``words`` say it as a maker does."""


class UnknownLine(Lacking):
    """A piece has no line of that name."""

    def __init__(self, name: str, piece: str, close: tuple[str, ...]) -> None:
        self.name, self.piece, self.close = name, piece, close
        super().__init__(f"piece {piece!r} has no line {name!r}; close: {', '.join(close) or 'none'}")

    @property
    def words(self) -> Words:
        """What a maker reads: "the front has no left bust dart"."""
        return say("the {piece:placed} has no {line:placed}", piece=Name(self.piece), line=Name(self.name))


class UnknownPiece(Lacking):
    """The garment has no piece of that name."""

    def __init__(self, name: str, close: tuple[str, ...]) -> None:
        self.name, self.close = name, close
        super().__init__(f"the garment has no piece {name!r}; close: {', '.join(close) or 'none'}")

    @property
    def words(self) -> Words:
        """What a maker reads: "there is no left sleeve"."""
        return say("there is no {piece:placed}", piece=Name(self.name))


class UnknownSeam(Lacking):
    """The garment has no seam of that name."""

    def __init__(self, name: str, close: tuple[str, ...]) -> None:
        self.name, self.close = name, close
        super().__init__(f"the garment has no seam {name!r}; close: {', '.join(close) or 'none'}")

    @property
    def words(self) -> Words:
        """What a maker reads: "there is no left side seam"."""
        return say("there is no {seam:placed} seam", seam=Name(self.name))


class UnknownFact(Lacking):
    """No step that was taken states a fact of that name."""

    def __init__(self, name: str, close: tuple[str, ...]) -> None:
        self.name, self.close = name, close
        super().__init__(f"the garment holds no fact {name!r}; close: {', '.join(close) or 'none'}")

    @property
    def words(self) -> Words:
        """What a maker reads."""
        return "the bodice that it is to be drafted onto isn't made for it"
