"""The garment model: lines with meaning, pieces as rings of lines, seams of several plies, and the garment.

Every value is frozen; every operation returns a new one (a private ``_kept`` holds what was found of one already). A
piece is drawn as seen from the right side of the cloth, its ring anticlockwise (the piece lies to the left of each
line's direction), x to the viewer's right and y up, so on a front +x is the wearer's left and on a back +x is the
wearer's right.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import field, replace
from typing import Any, TypeVar

from drafting.cloth import ClothNeeds
from drafting.errors import close_matches
from drafting.garment.aims import Aim
from drafting.garment.closure import Closure
from drafting.garment.features import Adjust, Drill, Feature, Level, Slit, Zone
from drafting.garment.lacking import UnknownFact, UnknownLine, UnknownPiece, UnknownSeam
from drafting.garment.laying import Laying
from drafting.garment.lines import Fate, Line, Role
from drafting.garment.opening_kinds import OpeningKind
from drafting.garment.seam import Run, Seam, Section, Use
from drafting.garment.told import Departure, Fact, Solve
from drafting.geometry import Path, Point
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import Face, Side

__all__ = [
    "Departure",
    "Fact",
    "Fate",
    "Garment",
    "Line",
    "Piece",
    "Role",
    "Run",
    "Seam",
    "Section",
    "Solve",
    "UnknownLine",
    "UnknownPiece",
    "Use",
    "substitute",
]

MAIN_CLOTH = "main"
"""The name of the cloth that all is cut from where nothing else is said."""

INTERFACING = "interfacing"
"""The name of the cloth that stiffened pieces are cut from once more."""

STAY = "stay"
"""The cloth that stays are cut from as strips, where the ticket has one; else they are tapes."""

T = TypeVar("T")
F = TypeVar("F", bound=Feature)


@dataclass(frozen=True, slots=True)
class Piece:
    """A closed, anticlockwise ring of lines, seen from the right side, with what lies within.

    ``grain`` is the direction (a unit vector) of the cloth's length; ``cloth`` is
    the name of the cloth that it is cut from.
    ``features`` is all that lies within, of whatever kind; the levels, lengthen/shorten lines, drill marks, stay zones
    and slits among them have names of their own. They are changed by ``drafting.garment.carry`` alone.
    ``again`` names the cloths that it is cut from once more, as interfacing and lining. ``laid`` is how the maker lays
    it on the cloth, None as is usual.
    """

    name: str
    title: Words
    ring: tuple[Line, ...]
    side: Side = Side.NONE
    face: Face = Face.NONE
    cloth: str = MAIN_CLOTH
    grain: Point = field(default_factory=lambda: Point(0.0, 1.0))
    features: tuple[Feature, ...] = ()
    notes: tuple[Words, ...] = ()
    again: tuple[str, ...] = ()
    laid: Laying | None = None
    _kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def interfaced(self) -> bool:
        """Whether it is cut in interfacing too."""
        return INTERFACING in self.again

    def of_kind(self, kind: type[F]) -> tuple[F, ...]:
        """Return the features of one kind, in order; what is found once is kept."""
        found: tuple[F, ...] | None = self._kept.get(kind)
        if found is None:
            found = self._kept[kind] = tuple(each for each in self.features if isinstance(each, kind))
        return found

    @property
    def levels(self) -> tuple[Level, ...]:
        """The lines across the piece at heights of the body."""
        return self.of_kind(Level)

    @property
    def adjusts(self) -> tuple[Adjust, ...]:
        """The lengthen/shorten lines."""
        return self.of_kind(Adjust)

    @property
    def drills(self) -> tuple[Drill, ...]:
        """The marked points."""
        return self.of_kind(Drill)

    @property
    def zones(self) -> tuple[Zone, ...]:
        """The strips along lines that are stabilised."""
        return self.of_kind(Zone)

    @property
    def slits(self) -> tuple[tuple[Line, ...], ...]:
        """The rings of the slits: openings within the piece that are sewn shut."""
        found: tuple[tuple[Line, ...], ...] | None = self._kept.get("slits")
        if found is None:
            found = self._kept["slits"] = tuple(slit.lines for slit in self.of_kind(Slit))
        return found

    @property
    def loops(self) -> tuple[tuple[Line, ...], ...]:
        """The ring, and then the slits."""
        return (self.ring, *self.slits)

    @property
    def all_lines(self) -> tuple[Line, ...]:
        """Every line of the piece: those of the ring, and then those of the slits."""
        return tuple(line for loop in self.loops for line in loop) if self.slits else self.ring

    def line(self, name: str) -> Line:
        """Return the line of exactly this name; UnknownLine, with close matches, if there is none."""
        loop, i = self._place(name)
        return loop[i]

    def _place(self, name: str) -> tuple[tuple[Line, ...], int]:
        """The ring or the slit that a line belongs to, and its place there: the first of that name."""
        places: dict[str, tuple[tuple[Line, ...], int]] | None = self._kept.get("places")
        if places is None:
            backwards = [(loop, i) for loop in self.loops for i in range(len(loop))][::-1]
            places = self._kept["places"] = {loop[i].name: (loop, i) for loop, i in backwards}
        if name not in places:
            raise UnknownLine(name, self.name, close_matches(name, [line.name for line in self.all_lines]))
        return places[name]

    def lines(
        self,
        name: str | None = None,
        *,
        role: Role | None = None,
        side: Side | None = None,
        face: Face | None = None,
    ) -> tuple[Line, ...]:
        """Return the lines that answer to a name and have a role, side and face, in ring order, slits last."""
        return tuple(
            line
            for line in self.all_lines
            if (name is None or line.answers_to(name))
            and (role is None or line.role is role)
            and (side is None or line.side is side)
            and (face is None or line.face is face)
        )

    def index(self, name: str) -> int:
        """Return the place of a line in its loop: in the ring, or in its slit."""
        return self._place(name)[1]

    def after(self, name: str) -> Line:
        """Return the line that follows a line in the ring, or in its slit."""
        loop, i = self._place(name)
        return loop[(i + 1) % len(loop)]

    def before(self, name: str) -> Line:
        """Return the line that comes before a line in the ring, or in its slit."""
        loop, i = self._place(name)
        return loop[i - 1]

    @property
    def outline(self) -> Path:
        """The whole ring as one closed path."""
        path: Path | None = self._kept.get("outline")
        if path is None:
            path = self._kept["outline"] = Path.join(*(line.path for line in self.ring))
        return path


@dataclass(frozen=True, slots=True)
class NeckBase:
    """Where the body's neck base lies on what was drafted, whatever neckline is drawn (mm).

    ``half_width`` is how far out the side neck points lie; ``front`` how high (y) the close round neck lies at the
    centre of the front; that of the back is 0.
    """

    half_width: float
    front: float

    def centre(self, face: Face) -> float:
        """The height (y) of the close round neck at the centre of a face."""
        return self.front if face is Face.FRONT else 0.0


@dataclass(frozen=True, slots=True)
class Garment:
    """Pieces, seams, and where each number came from.

    ``needs`` is what it needs of its main cloth; ``bared`` are the sides whose sleeve was taken off again;
    ``taken_up`` names the openings that a later step sews something to, which have no hem of their own. ``banded`` are
    the armholes that a later step sews a band to, with its width (mm); ``panelled`` the halves that a later step parts
    by a panel seam to the hem, with what its edges are to be wider there (mm). ``neck_base`` is where the bodice has
    the body's neck base, None without a bodice. ``notch_numbers`` are the numbers that its notches have by themselves,
    each with what prints of an earlier draft call it. ``opening_kinds`` are those that its steps bring.
    """

    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    openings: tuple[str, ...] = ()
    facts: tuple[Fact, ...] = ()
    solves: tuple[Solve, ...] = ()
    aims: tuple[Aim, ...] = ()
    notes: tuple[Words, ...] = field(default=())
    closures: tuple[Closure, ...] = ()
    needs: ClothNeeds = ClothNeeds()
    bared: frozenset[Side] = frozenset()
    taken_up: frozenset[str] = frozenset()
    banded: tuple[tuple[Side, float], ...] = ()
    panelled: tuple[tuple[Face, Side, float], ...] = ()
    departures: tuple[Departure, ...] = ()
    neck_base: NeckBase | None = None
    notch_numbers: tuple[tuple[int, int], ...] = ()
    opening_kinds: tuple[OpeningKind, ...] = ()
    _kept: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)

    def find_once(self, work: Callable[[Garment], T]) -> T:
        """Return what a module's function of a garment alone finds in this one, once: a garment never changes.

        TypeError for a lambda and a function within another: two of one name would share what the first found.
        """
        name = f"{work.__module__}.{work.__qualname__}"
        if name not in self._kept:
            if "<" in work.__qualname__:
                raise TypeError(f"{name} can't be looked up by its name: give a function of a module")
            self._kept[name] = work(self)
        out: T = self._kept[name]
        return out

    def piece(self, name: str) -> Piece:
        """Return the piece of that name; UnknownPiece, with close matches, if there is none."""
        pieces: dict[str, Piece] | None = self._kept.get("pieces")
        if pieces is None:
            pieces = self._kept["pieces"] = {piece.name: piece for piece in reversed(self.pieces)}
        if name not in pieces:
            raise UnknownPiece(name, close_matches(name, [piece.name for piece in self.pieces]))
        return pieces[name]

    def line(self, use: Use) -> Line:
        """Return the line a use speaks of."""
        return self.piece(use.piece).line(use.line)

    def path(self, use: Use) -> Path:
        """Return the path of a use, in the run's direction."""
        path = self.line(use).path
        return path.reversed() if use.against else path

    def run_length(self, run: Run) -> float:
        """Return the length of a run along its lines (mm)."""
        return sum(self.line(use).path.length for use in run)

    def seam(self, name: str) -> Seam:
        """Return the seam of that name; UnknownSeam, with close matches, if there is none."""
        for seam in self.seams:
            if seam.name == name:
                return seam
        raise UnknownSeam(name, close_matches(name, [seam.name for seam in self.seams]))

    def fact(self, name: str) -> float:
        """Return the value of the latest fact of that name; UnknownFact, with close matches, if there is none."""
        for fact in reversed(self.facts):
            if fact.name == name:
                return fact.value
        raise UnknownFact(name, close_matches(name, [fact.name for fact in self.facts]))

    def has_piece(self, name: str) -> bool:
        """Tell whether there is a piece of that name."""
        return any(piece.name == name for piece in self.pieces)

    def with_(
        self,
        *,
        pieces: Iterable[Piece] = (),
        seams: Iterable[Seam] = (),
        facts: Iterable[Fact] = (),
        solves: Iterable[Solve] = (),
        aims: Iterable[Aim] = (),
        notes: Iterable[Words] = (),
        closures: Iterable[Closure] = (),
        openings: tuple[str, ...] | None = None,
    ) -> Garment:
        """Return the garment with pieces and seams added (those of the same name replaced) and the rest appended."""
        new_pieces = {piece.name: piece for piece in self.pieces} | {piece.name: piece for piece in pieces}
        new_seams = {seam.name: seam for seam in self.seams} | {seam.name: seam for seam in seams}
        return replace(
            self,
            pieces=tuple(new_pieces.values()),
            seams=tuple(new_seams.values()),
            facts=(*self.facts, *facts),
            solves=(*self.solves, *solves),
            aims=(*self.aims, *aims),
            notes=(*self.notes, *notes),
            closures=(*self.closures, *closures),
            openings=self.openings if openings is None else openings,
        )

    def without(self, *, pieces: Iterable[str] = (), seams: Iterable[str] = ()) -> Garment:
        """Return the garment without the named pieces and seams."""
        gone_pieces, gone_seams = set(pieces), set(seams)
        return replace(
            self,
            pieces=tuple(p for p in self.pieces if p.name not in gone_pieces),
            seams=tuple(s for s in self.seams if s.name not in gone_seams),
            closures=tuple(c for c in self.closures if not gone_seams & {*c.seams}),
        )


def substitute(seams: Iterable[Seam], new: Mapping[tuple[str, str], tuple[Use, ...]]) -> tuple[Seam, ...]:
    """Return the seams with each use of an old (piece, line) replaced by its successors.

    The successors are given in the old line's own ring direction; where the use runs against the ring they are taken
    in the opposite order.
    """

    def follow(run: Run) -> Run:
        out: list[Use] = []
        for use in run:
            successors = new.get((use.piece, use.line))
            if successors is None:
                out.append(use)
            elif use.against:
                out.extend(s.reversed for s in reversed(successors))
            else:
                out.extend(successors)
        return tuple(out)

    return tuple(
        replace(
            seam,
            sections=tuple(
                Section(tuple(follow(run) for run in section.plies), section.ease) for section in seam.sections
            ),
        )
        for seam in seams
    )
