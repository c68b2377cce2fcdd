"""Blocks, changes and their options: the steps a design is made of.

A step is a plain function from garment to garment, with typed options. The engine knows no block by name: the
command line finds them through entry points.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection, Iterable, Mapping
from enum import IntEnum
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Generic, Protocol, TypeAlias, TypeVar, cast, get_type_hints, runtime_checkable

from drafting.errors import CannotDraft
from drafting.garment.departures import Figure, declare_departures
from drafting.garment.lines import Role
from drafting.garment.model import MAIN_CLOTH, Garment
from drafting.garment.opening_kinds import OpeningKind
from drafting.garment.seam import SeamKind
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import Face, Side, sides_of

if TYPE_CHECKING:
    from drafting.body import Body
    from drafting.cloth import Cloth, Fit


@dataclass(frozen=True, slots=True)
class Brief:
    """What a garment is drafted from: the wearer's body, the cloths and the fit asked for.

    ``cloth`` is the main cloth, ``cloths`` are the others by the maker's names for them. ``cut_from`` names the one
    that the step being taken cuts its own pieces from, ``pieces`` those of pieces that the maker names by themselves.
    ``lengthened`` is by how much (mm) edges of a role are lengthened by what a later step sews to them, as by a cuff.
    """

    body: Body
    cloth: Cloth
    fit: Fit
    cloths: Mapping[str, Cloth] = dataclasses.field(default_factory=lambda: MappingProxyType({}), hash=False)
    cut_from: str = MAIN_CLOTH
    pieces: Mapping[str, str] = dataclasses.field(default_factory=lambda: MappingProxyType({}), hash=False)
    lengthened: Mapping[Role, float] = dataclasses.field(default_factory=lambda: MappingProxyType({}), hash=False)

    @property
    def own_cloth(self) -> Cloth:
        """The cloth that the step being taken cuts its own pieces from."""
        return self.cloth_named(self.cut_from)

    def cloth_for(self, piece: str) -> Cloth:
        """Return the cloth that a piece of the step being taken is cut from, by its name."""
        return self.cloth_named(self.pieces.get(piece, self.cut_from))

    def cloth_named(self, name: str) -> Cloth:
        """Return the cloth that a piece names: the main cloth, or one of the others; KeyError where there is none."""
        return self.cloth if name == MAIN_CLOTH else self.cloths[name]


UNITS = ("length", "ratio", "angle", "count", "choice", "flag", "text")
"""What an option is given in: mm, a share, radians, a whole number, one of its choices, true or false, a text."""


@dataclass(frozen=True, slots=True)
class OptionInfo:
    """What is told of an option: ``unit`` is one of ``UNITS``.

    ``low`` and ``high`` are inside units (mm, radians, shares); None where there is no bound. A default of None
    means that a rule in the block decides, and the sentence says which. ``shapes`` is the role of the lines that it
    shapes and nothing else, where a later step may draw those anew (``Step.redraws``). ``one_of`` are the options of
    which one is to be given, this among them. ``needed``: it must be given. ``lengthens`` is the role of the edges that
    are worn so much longer by it, the height of what is sewn to them: ``Brief.lengthened`` tells earlier steps of it.
    ``denied`` are choices that one may look for and that there aren't, each with why, and what serves instead.
    """

    name: str
    sentence: Words
    unit: str
    default: float | str | bool | None
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    shapes: Role | None = None
    one_of: tuple[str, ...] = ()
    needed: bool = False
    lengthens: Role | None = None
    denied: tuple[tuple[str, str], ...] = ()


def option(
    sentence: Words,
    unit: str,
    default: float | str | bool | None,
    *,
    low: float | None = None,
    high: float | None = None,
    choices: tuple[str, ...] = (),
    shapes: Role | None = None,
    one_of: tuple[str, ...] = (),
) -> Any:
    """Return a dataclass field that carries what is told of an option, as ``OptionInfo`` has it.

    ValueError where there is no such unit, or a choice without choices.
    """
    if unit not in UNITS:
        raise ValueError(f'an option\'s unit is "{unit}"; there are {", ".join(UNITS)}')
    if (unit == "choice") != bool(choices):
        raise ValueError(f'an option of the unit "{unit}" has {len(choices) or "no"} choices')
    told = {"sentence": sentence, "unit": unit, "low": low, "high": high, "choices": choices}
    return dataclasses.field(default=default, metadata={"option": told | {"shapes": shapes, "one_of": one_of}})


def height_option(sentence: Words, default: float, lengthens: Role, *, low: float, high: float) -> Any:
    """Return the field of an option that asks how high (mm) is what is sewn to edges of a role, and lengthens them."""
    told = option(sentence, "length", default, low=low, high=high).metadata["option"]
    return dataclasses.field(default=default, metadata={"option": told | {"lengthens": lengthens}})


def choice_option(sentence: Words, default: str, choices: tuple[str, ...], denied: tuple[tuple[str, str], ...]) -> Any:
    """Return the field of an option of some choices; ``denied`` are none, each with why and what serves."""
    told = option(sentence, "choice", default, choices=choices).metadata["option"]
    return dataclasses.field(default=default, metadata={"option": told | {"denied": denied}})


def side_option(sentence: str) -> Any:
    """Return the field of an option that asks for a side of the wearer's or, by default, both; for ``sides_of``."""
    return option(sentence, "choice", "both", choices=("both", "left", "right"))


def one_side_option(sentence: str, default: str) -> Any:
    """Return the field of an option that asks for one of the wearer's sides."""
    return option(sentence, "choice", default, choices=("left", "right"))


def face_option(sentence: str, default: str = "both") -> Any:
    """Return the field of an option that asks for front, back or both; for ``faces_of``."""
    return option(sentence, "choice", default, choices=("both", "front", "back"))


def options_of(kind: type) -> tuple[OptionInfo, ...]:
    """Return what is told of each option of an options dataclass, in order."""
    return tuple(
        OptionInfo(name=f.name, default=cast("float | str | bool | None", f.default), **f.metadata["option"])
        for f in dataclasses.fields(kind)
        if "option" in f.metadata
    )


class Stage(IntEnum):
    """When a step is taken. Steps of one stage keep the ticket's order; a later stage sees what earlier ones made.

    A sleeve is drafted after every change to the armhole it is set into, so that no change leaves it behind.
    """

    BODY = 10  # blocks drafted from the body
    FIT = 15  # changes that fit the block to its wearer, before its design is drawn (common practice)
    SHAPE = 20  # changes to the lines of the body pieces
    WORK = 25  # darts eased or gathered in, once the edges that they lie in are drawn
    STYLE = 30  # style lines, overlays: pieces parted and added
    OPENING = 35  # closures: seams left open, once all pieces are parted
    SLEEVE = 40  # blocks drafted onto armholes
    SLEEVE_SHAPE = 50  # changes to sleeves
    EDGE = 60  # cuffs, bands, bindings, hems: drafted onto whatever openings are there
    EDGE_SHAPE = 70  # changes to those
    WHOLE = 90  # changes to the garment as a whole (mirror)


PARTS = ("bodice", "skirt", "waist seam")
"""Parts of which a garment has one, as the engine's own blocks make them; a package may bring another."""

Options = TypeVar("Options")
Kind: TypeAlias = SeamKind | OpeningKind
"""What a step brings: a kind of the seams that it makes, or of the openings that it leaves."""

Work: TypeAlias = Callable[[Garment, Brief, Options], Garment]


@dataclass(frozen=True, slots=True)
class Step(Generic[Options]):
    """A block or a change: its name in a ticket, one sentence, its options, its stage, and the function itself.

    ``needs`` are the measurements it can't be drawn without, ``kinds`` the kinds of the seams it makes: each gets its
    key under ``[seams]``. ``mends`` are the situations in which a proof or a fitting sheet advises it. ``makes`` is the
    part of which a garment has one, "bodice", where the step drafts that: two of them don't go together.
    ``redraws`` are the roles of lines that it draws anew whatever they were, so that what shaped them before has no
    effect. ``moves`` are the figures that it means to alter against the body's ("waist", "hip", or a ``Figure`` of
    its own): of another the proof asks why. ``turns`` where it turns the whole garment over, so that what
    comes before is drafted for the body's mirror image, and in the end fits the body. ``openings`` are the kinds of the
    openings that it leaves, where they aren't the engine's own (``proof.checks.passing``).
    """

    name: str
    sentence: str
    options: type[Options]
    stage: Stage
    work: Work[Options]
    needs: tuple[str, ...] = ()
    kinds: tuple[SeamKind, ...] = ()
    mends: tuple[Mend, ...] = ()
    makes: str = ""
    redraws: tuple[Role, ...] = ()
    moves: tuple[str | Figure, ...] = ()
    turns: bool = False
    openings: tuple[OpeningKind, ...] = ()

    def apply(self, garment: Garment, brief: Brief, options: Options) -> Garment:
        """Return the garment with the step taken; CannotDraft, which names the step, where it can't be."""
        try:
            made = self.work(garment, brief, options)
            return declare_departures(garment, made, self.moves) if self.moves else made
        except CannotDraft as error:
            error.step = self.name
            raise

    def told(self) -> Mapping[str, OptionInfo]:
        """What is told of each option, by name."""
        return {info.name: info for info in options_of(self.options)}


class Block(Step[Options]):
    """A step that drafts pieces from the body or onto the garment so far."""

    __slots__ = ()


class Change(Step[Options]):
    """A step that alters the garment so far."""

    __slots__ = ()


def block(
    name: str,
    sentence: str,
    stage: Stage,
    *,
    needs: tuple[str, ...] = (),
    kinds: tuple[Kind, ...] = (),
    mends: tuple[Mend, ...] = (),
    makes: str = "",
    redraws: tuple[Role, ...] = (),
) -> Callable[[Work[Options]], Block[Options]]:
    """Return what makes a block of the function that drafts it; its options are of the class the function takes."""
    seams, gaps = _sort_kinds(kinds)
    return lambda work: Block(
        name, sentence, _options_type(work), stage, work, needs, seams, mends, makes, redraws, openings=gaps
    )


def begin_garment(
    steps: Iterable[Step[Any]],
    opened: Collection[str] = (),
    banded: Iterable[tuple[Side, float]] = (),
    panelled: Iterable[tuple[Face, Side]] = (),
) -> Garment:
    """Return the garment that steps start from: without pieces, told what they will sew to its openings.

    What is ``opened`` again on both sides isn't taken up: a sleeveless armhole. ``banded`` are the armholes that get a
    band, and its width (mm); ``panelled`` the halves that get a panel seam to the hem.
    """
    steps = tuple(steps)
    taken = {kind.takes_up for step in steps for kind in step.kinds if kind.takes_up}
    both = [name for name in taken if all(f"{name}-{side}" in opened for side in sides_of("both"))]
    return Garment(
        taken_up=frozenset(taken.difference(both)),
        banded=tuple(banded),
        panelled=tuple((face, side, 0.0) for face, side in panelled),
        opening_kinds=tuple({kind.name: kind for step in steps for kind in step.openings}.values()),
    )


@runtime_checkable
class OpensAgain(Protocol):
    """Options of a step that takes off again what was sewn to openings: what comes before is drafted without it."""

    @property
    def opened(self) -> frozenset[str]:
        """Those openings ("armhole-left")."""
        ...


def list_opened(options: Iterable[object]) -> frozenset[str]:
    """Return the openings from which steps of these options take off again what was sewn to them."""
    return frozenset(name for each in options if isinstance(each, OpensAgain) for name in each.opened)


@runtime_checkable
class BandsArmholes(Protocol):
    """Options of a step that sews a band to armholes: what comes before is drafted as much smaller."""

    @property
    def banded(self) -> Mapping[Side, float]:
        """The sides whose armholes get one, and how wide it is (mm)."""
        ...


def list_banded(options: Iterable[object]) -> tuple[tuple[Side, float], ...]:
    """Return the sides whose armholes steps of these options sew a band to, and how wide it is (mm)."""
    return tuple(each for told in options if isinstance(told, BandsArmholes) for each in told.banded.items())


@runtime_checkable
class PartsToHem(Protocol):
    """Options of a step that parts halves by a seam down to the hem: fullness let in before is shared by it."""

    @property
    def panelled(self) -> tuple[tuple[Face, Side], ...]:
        """Those halves."""
        ...


def list_panelled(options: Iterable[object]) -> tuple[tuple[Face, Side], ...]:
    """Return the halves that steps of these options part by a seam down to the hem, one as often as it is parted."""
    return tuple(half for told in options if isinstance(told, PartsToHem) for half in told.panelled)


def change(
    name: str,
    sentence: str,
    stage: Stage,
    *,
    needs: tuple[str, ...] = (),
    kinds: tuple[Kind, ...] = (),
    mends: tuple[Mend, ...] = (),
    moves: tuple[str | Figure, ...] = (),
    turns: bool = False,
) -> Callable[[Work[Options]], Change[Options]]:
    """Return what makes a change of the function that draws it; its options are of the class the function takes."""
    seams, gaps = _sort_kinds(kinds)
    return lambda work: Change(
        name, sentence, _options_type(work), stage, work, needs, seams, mends, moves=moves, turns=turns, openings=gaps
    )


def _sort_kinds(kinds: tuple[Kind, ...]) -> tuple[tuple[SeamKind, ...], tuple[OpeningKind, ...]]:
    """The kinds of seams, and those of openings."""
    seams = tuple(kind for kind in kinds if isinstance(kind, SeamKind))
    return seams, tuple(kind for kind in kinds if isinstance(kind, OpeningKind))


def _options_type(work: Work[Options]) -> type[Options]:
    """The class of a step's options, as its function says; TypeError where it says none."""
    hints = {name: hint for name, hint in get_type_hints(work).items() if name != "return"}
    options = list(hints.values())[2:]
    if len(options) != 1 or not dataclasses.is_dataclass(options[0]):
        told = f"{work.__module__}.{work.__qualname__} takes {', '.join(hints) or 'nothing that says its type'}"
        raise TypeError(f"{told}; a step takes a garment, a brief, and a dataclass of its options")
    return cast("type[Options]", options[0])
