"""Several garments on one cloth: what is cut from the same cloth is laid together, as a choir's tops from one bolt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields

from drafting.cloth import Cloth
from drafting.finishing.cutpiece import CutPiece
from drafting.finishing.labels import name_cloth
from drafting.garment import Brief, Garment
from drafting.lay.parts import Part
from drafting.lay.plan import FIRST, share_out
from drafting.lay.search import SearchDepth, Told
from drafting.lay.spread import Lay
from drafting.lay.together import lay_together
from drafting.record import dataclass
from drafting.units import Unit


@dataclass(frozen=True, slots=True)
class ToLay:
    """A garment to lay with others: whose it is, its net and its cut pieces, and what it is made of."""

    owner: str
    garment: Garment
    cut: Sequence[CutPiece]
    brief: Brief


def plan_shared_lays(
    made: Sequence[ToLay], unit: Unit, told: Told = lambda _: True, how: SearchDepth = FIRST
) -> tuple[Lay, ...]:
    """Return the lay of each cloth that any of the garments is cut from, in the order in which they come.

    Cloths are the same where all that their tickets say of them is; what one of them calls main another may call
    otherwise: the first one's word counts.
    """
    return tuple(
        lay_together(batches, cloth, kind, unit, told, how)
        for cloth, (kind, batches) in share_cloths(made, unit).items()
    )


def share_cloths(
    made: Sequence[ToLay], unit: Unit
) -> Mapping[Cloth, tuple[str, Sequence[tuple[Garment, Sequence[Part]]]]]:
    """Return of each cloth what its first garment calls it, and the parts of all that are cut from it."""
    shared: dict[Cloth, tuple[str, list[tuple[Garment, Sequence[Part]]]]] = {}
    for each in made:
        for kind, cloth, parts in share_out(each.garment, each.cut, each.brief, unit, each.owner):
            shared.setdefault(cloth, (kind, []))[1].append((each.garment, parts))
    return shared


NEARLY_ALIKE = 2
"""In how many of their figures cloths differ at most that a maker may have meant to be one."""


def tell_nearly_alike(made: Sequence[ToLay]) -> Iterator[str]:
    """Yield of cloths that are laid apart though they are nearly alike what keeps them apart: all in one sentence."""
    firsts: list[tuple[str, str, Cloth]] = []
    apart: dict[tuple[str, tuple[str, ...]], dict[str, None]] = {}
    for each in made:
        for kind, cloth, _ in share_out(each.garment, each.cut, each.brief, owner=each.owner):
            of_kind = [(owner, first) for owner, named, first in firsts if named == kind]
            if not any(first == cloth for _, first in of_kind):
                firsts.append((each.owner, kind, cloth))
                for owner, first in of_kind:
                    keys = tuple(_differing(first, cloth))
                    if len(keys) <= NEARLY_ALIKE:
                        apart.setdefault((kind, keys), {}).update({owner: None, each.owner: None})
    for (kind, keys), owners in apart.items():
        *some, last = (f"of {owner}" for owner in owners)
        yield f"{name_cloth(kind)} {', '.join(some)} and {last}: their tickets differ in {' and '.join(keys)}"


def _differing(one: Cloth, other: Cloth) -> list[str]:
    names = (field.name for field in fields(Cloth))
    return [name.replace("_", " ") for name in names if getattr(one, name) != getattr(other, name)]


def tell_owners(made: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Return what tells garments apart, of each wearer and title: the wearer, with the title of one who has several.

    Where that isn't enough they are numbered.

    >>> tell_owners([("Alto", "Tee"), ("Bass", "Tee"), ("Alto", "Dress"), ("", ""), ("", "Tee"), ("", "Tee")])
    ('Alto, Tee', 'Bass', 'Alto, Dress', 'garment 4', 'Tee 1', 'Tee 2')
    """
    wearers = [wearer for wearer, _ in made]
    named = [
        wearer if wearer and wearers.count(wearer) == 1 else ", ".join(filter(None, (wearer, title))) or f"garment {at}"
        for at, (wearer, title) in enumerate(made, start=1)
    ]
    return tuple(
        f"{name} {named[: at + 1].count(name)}" if named.count(name) > 1 else name for at, name in enumerate(named)
    )
