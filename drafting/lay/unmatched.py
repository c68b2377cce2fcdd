"""What is said of seams where stripes aren't brought together, or run differently in the two pieces."""

from __future__ import annotations

from collections.abc import Sequence

from drafting.cloth import Stripe
from drafting.garment import Garment, Seam, Section
from drafting.garment.laying import tell_sleeve_stripes
from drafting.lay.parts import Part
from drafting.lay.stripes import StripesPlaced
from drafting.saying import Words, list_sayings, say


def list_unmatched(garment: Garment, parts: Sequence[Part], placed: StripesPlaced) -> tuple[Words, ...]:
    """Return the titles of the seams between pieces tied to the stripe where it isn't matched: shoulders above all.

    Of a seam at which some layers meet, the layers that don't are named.
    """
    tied = {part.name for part in parts if part.tied and not part.piece.interfaced and not part.piece.is_strip}
    known = {match.seam for match in placed.matches} | {seam.name for seam, _, _ in placed.askew}
    apart = (seam for seam in garment.seams if seam.name not in known)
    whole = (seam.title for seam in apart if any(_joins_tied(section, tied) for section in seam.sections))
    return (*whole, *placed.left)


def tell_askew(garment: Garment, askew: Sequence[tuple[Seam, str, Words]], stripe: Stripe) -> tuple[Words, ...]:
    """Return what is said of seams where stripes run differently in two pieces: of sleeves once, of others by name."""
    sleeves = tell_sleeve_stripes(garment.pieces, stripe) if any(seam.kind.at_notch for seam, _, _ in askew) else ""
    others = [(title, at) for seam, at, title in askew if not (sleeves and seam.kind.at_notch)]
    titles = [say("{seam}, {at}", seam=title, at=at) if at else title for title, at in others]
    told = say(
        "stripes run differently in the two pieces at: {seams}; they don't meet", seams=list_sayings(titles, "; ")
    )
    return (*([sleeves] if sleeves else []), *([told] if titles else []))


def _joins_tied(section: Section, tied: set[str]) -> bool:
    """Tell whether two layers of a seam, not one and the next along the seam, are of pieces that are tied."""
    layers = [{use.piece for use in run} & tied for run in section.plies]
    return sum(map(bool, layers)) > 1 and len(set[str]().union(*layers)) > 1
