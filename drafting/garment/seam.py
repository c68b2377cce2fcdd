"""Seams: what is sewn to what, ply by ply, of which kind a seam is, and what its step is told from.

A kind is an open record: the block or the change that makes a new kind of seam brings it along as a value, and the
engine asks the record, never its name.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from typing import TYPE_CHECKING

from drafting.cloth import Cloth, Kind
from drafting.garment.deeds import OPENED, Deed, Effect, Handling, PlyLay
from drafting.record import dataclass
from drafting.saying import Words, without_sides
from drafting.units import Unit

if TYPE_CHECKING:
    from drafting.garment.lines import Role
    from drafting.garment.model import Garment

LOCKSTITCH = "301"
"""ISO 4915: the lockstitch, usual in wovens."""

OVERLOCK = "514"
"""ISO 4915: the four-thread overedge stitch, usual in knits."""

_CLASSES = "123456"
"""ISO 4915: the classes of stitches, the first digit of each stitch's number."""

MIDDLE_TURN = 6
"""When a seam of no usual turn is sewn: with the sides."""


@dataclass(frozen=True, slots=True)
class Use:
    """One line of one piece as it is used in a run; ``against`` if the run goes against the ring's direction."""

    piece: str
    line: str
    against: bool = False

    @property
    def reversed(self) -> Use:
        """The same line used in the other direction."""
        return Use(self.piece, self.line, not self.against)


Run = tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of a seam that is matched at both ends: one run per ply, and each ply's ease.

    A ply that takes no part in this stretch has an empty run; ply 0 is always there.
    ``ease[i]`` is what ply i is longer (mm, negative if it is stretched on) than ply 0 over this section;
    ``ease[0]`` is 0.
    """

    plies: tuple[Run, ...]
    ease: tuple[float, ...]


@dataclass(frozen=True, slots=True, eq=False)
class SeamKind:
    """What seams of one kind have in common. Two kinds of one name are one kind, told in two ways.

    ``name`` is the key of its allowance under ``[seams]``, ``words`` what that key is the allowance of, ``tell`` how
    its step is told, ``label`` what it is called in the list of allowances on a piece (the name, if empty).
    ``allowance`` is its own in mm, where it isn't that of every seam; ``stitch`` its ISO 4915 number, where it isn't
    the cloth's; ``press`` which way its allowances are turned.
    ``turn`` says when it is usually sewn (darts 0, style lines 1, closures 3, shoulders 4, sides 6, armholes 7,
    the waist 9, cuffs 11, the hem 12: common practice); ``by_edge`` that its turn is that of the edge it finishes.
    ``long`` marks the seams that a garment is put together by, whose stitch is its usual one; ``notched`` those with
    balance marks; ``stripes`` when stripes are matched in it (0 first; None: never), ``at_notch`` that they are
    matched at its front notch.
    ``closes`` marks an edge that opens and closes, ``lapped`` one whose edges lie over each other, ``beside`` what is
    finished after such a closure, its ends turned in there. ``topstitched`` are the roles of the lines that are
    stitched down where it shows, and how far from the edge (mm). ``together`` marks seams told in one step where
    they follow each other. ``readies`` marks those that make a band ready, told with it, and of these ``mitred`` those
    that turn a corner. ``within`` marks one that sews on a second layer, inside: its last ply's pieces are no part of
    the surface, and a closure of the centre waits for it. ``lay`` says how the plies are laid, and how they lie once
    they are sewn. ``needs`` tells what to buy for one seam of the kind; ``stiffened`` names what is interfaced in a
    woven, ``always_stiffened`` in a
    knit as well. ``takes_up`` names the opening that it sews another piece to ("hem"), so that what was drafted before
    has no hem of its own there.
    """

    name: str
    words: str
    tell: Callable[[Telling, Group], Told]
    label: str = ""
    allowance: float | None = None
    stitch: str = ""
    press: str = "to one side"
    turn: int = MIDDLE_TURN
    by_edge: bool = False
    long: bool = False
    notched: bool = True
    stripes: int | None = None
    at_notch: bool = False
    closes: bool = False
    lapped: bool = False
    beside: bool = False
    topstitched: tuple[tuple[Role, float], ...] = ()
    together: bool = False
    readies: bool = False
    mitred: bool = False
    within: bool = False
    lay: PlyLay = OPENED
    needs: Callable[[Telling, Seam], tuple[str, ...]] | None = None
    stiffened: str = ""
    always_stiffened: bool = False
    takes_up: str = ""

    def __eq__(self, other: object) -> bool:
        return self.name == other.name if isinstance(other, SeamKind) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.name)


@dataclass(frozen=True, slots=True)
class Seam:
    """Two or more plies sewn together, in sections that follow each other from the seam's start to its end.

    ``stitch`` is an ISO 4915 number, ValueError if it is none; where it isn't given, its kind's, or the four-thread
    overlock. ``hangs`` lists the plies that hang from the surface (an overlay); the others make the surface itself.
    ``binds`` marks a seam whose last ply wraps the edge. ``allowance`` is its own in mm, where it isn't its kind's;
    ``fold`` how far (mm) from its line that allowance is folded back, as a button stand is; 0 where it isn't.
    ``pair`` is what it and its like on the other side are called together; if empty, its title without the side.
    """

    name: str
    kind: SeamKind
    title: Words
    sections: tuple[Section, ...]
    stitch: str = ""
    hangs: tuple[int, ...] = ()
    binds: bool = False
    allowance: float | None = None
    fold: float = 0.0
    pair: Words = ""

    def __post_init__(self) -> None:
        if not self.stitch:
            object.__setattr__(self, "stitch", self.kind.stitch or OVERLOCK)
        if len(self.stitch) != 3 or not self.stitch.isdigit() or self.stitch[0] not in _CLASSES:
            raise ValueError(f'the stitch of the seam "{self.name}" is "{self.stitch}": ISO 4915 has 101 to 699')

    @property
    def plies(self) -> tuple[Run, ...]:
        """Each ply's whole run, over all sections."""
        count = len(self.sections[0].plies)
        return tuple(tuple(use for section in self.sections for use in section.plies[i]) for i in range(count))

    @property
    def ease(self) -> tuple[float, ...]:
        """Each ply's stated ease over the whole seam."""
        return tuple(sum(s.ease[i] for s in self.sections) for i in range(len(self.sections[0].ease)))

    @property
    def of_both(self) -> Words:
        """What seams that are like each other on both sides have alike; "" where the title says nothing but a side."""
        return self.pair or without_sides(self.title)

    def uses(self) -> Iterator[Use]:
        """Every use in every ply."""
        for section in self.sections:
            for run in section.plies:
                yield from run


@dataclass(frozen=True, slots=True)
class Group:
    """Seams that are told in one step, under one title, and the seams that make the first of them ready.

    ``turned`` are those of what is turned in, once they are sewn.
    """

    seams: tuple[Seam, ...]
    said: Words
    ready: tuple[Seam, ...] = ()
    turned: tuple[Seam, ...] = ()

    @property
    def title(self) -> str:
        """The title in words: no length stands in it."""
        return str(self.said)


@dataclass(frozen=True, slots=True)
class Telling:
    """A garment being sewn, told in the maker's ``unit``; ``before`` gives the seams that each seam comes after.

    ``full`` gives, for each form that was told in full, the title it was told under; ``numbers`` the number of the
    step in which each seam is sewn, where those are known; ``letters`` the letter of each net piece on the paper.
    """

    garment: Garment
    unit: Unit
    before: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    full: Mapping[str, Words] = field(default_factory=dict)
    numbers: Mapping[str, int] = field(default_factory=dict)
    letters: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Instruction:
    """One step of the work: what it makes, what is done, one operation a sentence, and what that does to its edges.

    ``handled`` is what of it a picture of its own shows.
    """

    title: str
    sentences: tuple[str, ...]
    effects: tuple[Effect, ...] = ()
    handled: tuple[Handling, ...] = ()

    def __str__(self) -> str:
        """Return it as one paragraph."""
        return f"{self.title}: {' '.join(self.sentences)}"


@dataclass(frozen=True, slots=True)
class Told:
    """The step or steps of a group; ``form`` names what it is, so that the next of its form is told by the first.

    ``after`` are the steps that follow once it is sewn, as where a facing is turned in.
    """

    steps: tuple[Instruction, ...]
    form: str = ""
    after: tuple[Instruction, ...] = ()


def instruct(title: str, *sentences: str | Deed) -> Instruction:
    """Return a step with what it does to its edges; sentences that are empty are left out."""
    deeds = [each for each in sentences if isinstance(each, Deed)]
    words = (each.words if isinstance(each, Deed) else each for each in sentences)
    effects = tuple(effect for deed in deeds for effect in deed.effects)
    handled = tuple(each for deed in deeds for each in deed.handled)
    return Instruction(title, tuple(filter(None, words)), effects, handled)


def tell_step(title: str, *sentences: str | Deed, form: str = "") -> Told:
    """Return what is told in one step; sentences that are empty are left out."""
    return Told((instruct(title, *sentences),), form)


def overedges(stitch: str) -> bool:
    """Whether a stitch neatens the edges it joins: the overedge stitches, class 500 of ISO 4915."""
    return stitch.startswith("5")


def stitch_for(cloth: Cloth) -> str:
    """Return the ISO 4915 number of the stitch that joins two edges of a cloth (common practice)."""
    return LOCKSTITCH if cloth.kind is Kind.WOVEN else OVERLOCK


def usual_stitch(garment: Garment) -> str:
    """Return the ISO 4915 number of the stitch that most of the garment's long seams have; 514 where there are none."""
    plain = Counter(seam.stitch for seam in garment.seams if seam.kind.long)
    counts = plain or Counter(seam.stitch for seam in garment.seams)
    return counts.most_common(1)[0][0] if counts else OVERLOCK
