"""The stripes that a lay matches: those of its cloth after the wash, and how the parts lie against each of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from drafting.cloth import Cloth, Stripe
from drafting.garment import Garment
from drafting.lay.parts import Part
from drafting.lay.stripes import Match, place_against_stripe
from drafting.lay.unmatched import list_unmatched, tell_askew
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.trade import TradeValue

FINEST_STRIPE = TradeValue(4.0, "mm", "derived", "by drawing")
"""Of repeat at least of a stripe that is matched."""


@dataclass(frozen=True, slots=True)
class LaidStripe:
    """A stripe across or along a cloth that is laid, as it is after the wash.

    ``first`` is where its first line lies, from the cut end if it runs across; one along the cloth may lie anywhere,
    for the parts leave a repeat of the width free. ``shifts`` tell how far each part is moved against it (mm),
    ``matches`` how it meets, ``unmatched`` at which seams nothing brings it together, ``apart`` is said of those at
    which it can't be.
    """

    stripe: Stripe
    shifts: Mapping[str, float]
    matches: tuple[Match, ...] = ()
    unmatched: tuple[Words, ...] = ()
    apart: tuple[Words, ...] = ()
    first: float = 0.0

    def grown(self, times: float) -> LaidStripe:
        """Return it as it lies on cloth so many times as large the way that its lines follow each other."""
        return replace(
            self,
            stripe=replace(self.stripe, repeat=self.stripe.repeat * times),
            shifts={key: shift * times for key, shift in self.shifts.items()},
            first=self.first * times,
        )

    @property
    def is_across(self) -> bool:
        """Whether it runs from selvedge to selvedge."""
        return self.stripe.direction == "across"


def list_matched(cloth: Cloth) -> Iterator[Stripe]:
    """Yield the stripes of a cloth after the wash, without one too fine to be matched: two of a check."""
    for stripe in cloth.stripe.plain if cloth.stripe else ():
        left = cloth.washed[stripe.direction == "across"]
        if stripe.repeat >= FINEST_STRIPE:
            yield replace(stripe, repeat=stripe.repeat * left)


def match_batches(batches: Sequence[tuple[Garment, Sequence[Part]]], stripe: Stripe) -> LaidStripe:
    """Return how the parts of some garments lie against a stripe."""
    laid = LaidStripe(stripe, {})
    for garment, some in batches:
        placed = place_against_stripe(garment, some, stripe)
        askew = {title for _, _, title in placed.askew}
        met = {match.title for match in placed.matches}
        matches = (_tell_partly(each) if each.title in askew else each for each in placed.matches)
        apart = [each for each in placed.askew if each[2] not in met]
        moved = {part.key: placed.moved[part.name] for part in some if part.name in placed.moved}
        laid = LaidStripe(
            stripe,
            {**laid.shifts, **moved},
            (*laid.matches, *(replace(match, owner=some[0].owner) for match in matches)),
            (*laid.unmatched, *list_unmatched(garment, some, placed)),
            (*laid.apart, *tell_askew(garment, apart, stripe)),
        )
    return laid


def _tell_partly(match: Match) -> Match:
    """A match at a seam of which other layers lie otherwise on the cloth."""
    return replace(match, title=say("{seam} (not all its layers)", seam=match.title))
