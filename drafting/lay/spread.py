"""The cloth as it is spread, with what lies on it, and the lay: all that is spread of one cloth, and what to buy."""

from __future__ import annotations

from dataclasses import field, replace
from enum import StrEnum

from drafting.cloth import Cloth, Flaw
from drafting.geometry import signed_area
from drafting.geometry.cells import Floats
from drafting.lay.matched import LaidStripe
from drafting.lay.parts import Part
from drafting.record import dataclass


class Layers(StrEnum):
    """What a part is cut through, as it is written into it on the plan."""

    SINGLE = ""
    BOTH = "both layers"
    ON_FOLD = "on the fold"


@dataclass(frozen=True, slots=True)
class LaidPart:
    """A part on the cloth; ``turned``: it lies upside down.

    ``ring`` is its cut outline there (mm): x from what can be used of the cloth's left edge, or from its fold, y from
    its cut end. Through both layers it is cut with its mirror image, on the fold as a half.
    """

    part: Part
    turned: bool
    ring: Floats = field(compare=False, repr=False)
    layers: Layers = Layers.SINGLE


@dataclass(frozen=True, slots=True)
class ClothSpread:
    """A length of cloth as it is spread: right side up in a single layer, or ``folded`` lengthwise, right sides in.

    ``width`` is what can be used of it after the wash, from selvedge to selvedge or from the fold, which lies on the
    left, to the selvedges; these take ``edge`` mm each. ``length`` is what the parts take of it. It ``begins`` so far
    from the cloth's cut end (mm), beyond what was spread before; ``flaws`` lie on it as measured from there.
    """

    width: float
    edge: float
    laid: tuple[LaidPart, ...] = ()
    length: float = 0.0
    folded: bool = False
    begins: float = 0.0
    flaws: tuple[Flaw, ...] = ()

    @property
    def left(self) -> float:
        """From the cloth's left edge, or its fold, to what can be used of it (mm)."""
        return 0.0 if self.folded else self.edge

    @property
    def wide(self) -> float:
        """How wide the cloth lies (mm): selvedges and all."""
        return self.left + self.width + self.edge

    @property
    def used(self) -> float:
        """The share of it that parts cover."""
        area = sum(abs(signed_area(each.ring)) for each in self.laid)
        return area / (self.width * self.length) if self.length else 0.0

    def grown(self, across: float, along: float) -> ClothSpread:
        """Return it as it lies on cloth so many times as large, that is cut before its wash."""
        return replace(
            self,
            width=self.width * across,
            edge=self.edge * across,
            laid=tuple(replace(each, ring=each.ring * (across, along)) for each in self.laid),
            length=self.length * along,
        )


@dataclass(frozen=True, slots=True)
class Lay:
    """The lay of one cloth: how it is spread, one length of it after the other, the last in a single layer or folded.

    ``needs`` is what that takes of the cloth as it is sold, ``buy`` what to buy (mm). ``too_wide`` are parts for which
    the cloth isn't wide enough. ``stripes`` are those that are matched, one across, one along, or both of a check: such
    a cloth is spread once, in a single layer. ``stopped``: the search was ended before all was tried. ``spared`` is
    what a longer search spares of what is bought without it, as the booklet tells it (mm). ``alone`` is what garments
    that are laid together need one by one (mm), 0 of a single one; ``singly`` what is bought for them one by one, and
    ``ends`` how much of what together they need less is ends that are squared, and stripes begun at, but once (mm).
    """

    cloth: Cloth
    kind: str
    spreads: tuple[ClothSpread, ...]
    too_wide: tuple[Part, ...]
    needs: float
    buy: float
    stripes: tuple[LaidStripe, ...] = ()
    stopped: bool = False
    spared: float = 0.0
    alone: float = 0.0
    singly: float = 0.0
    ends: float = 0.0

    @property
    def laid(self) -> tuple[LaidPart, ...]:
        """All parts that are laid."""
        return tuple(each for spread in self.spreads for each in spread.laid)

    @property
    def length(self) -> float:
        """From the cut end to the farthest part (mm)."""
        return self.spreads[-1].begins + self.spreads[-1].length

    @property
    def width(self) -> float:
        """What can be used of the cloth's width after the wash, between the selvedges (mm)."""
        return self.spreads[0].width * (2.0 if self.spreads[0].folded else 1.0)

    @property
    def one_way(self) -> bool:
        """Whether all parts lie the same way up."""
        return self.cloth.one_way

    @property
    def across(self) -> LaidStripe | None:
        """The stripe that runs from selvedge to selvedge, None without one that ties a part."""
        return next((each for each in self.stripes if each.is_across and each.shifts), None)

    @property
    def is_tied(self) -> bool:
        """Whether a stripe ties a part."""
        return any(each.shifts for each in self.stripes)

    @property
    def short(self) -> float:
        """By how much there is too little of the cloth (mm), where the maker says how much there is; else 0."""
        there = self.cloth.length
        return max(0.0, self.needs - there) if there is not None and self.laid else 0.0
