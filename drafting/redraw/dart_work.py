"""What all dart work shares: which dart is meant, the place it goes to, its turn to there, the seams that follow."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from drafting.errors import CannotDraft, DraftingError, close_matches
from drafting.garment import Garment, Line, Piece, Role, Run, Seam, Side, Use, shift_aim, substitute
from drafting.garment.carry import hand_on, join_features
from drafting.garment.darts import Dart, angle, darts_of, mouth_edges
from drafting.garment.features import Heir
from drafting.garment.lines import part_name
from drafting.garment.places import Place, lines_along, spots
from drafting.geometry import Path, turn
from drafting.redraw.centre import part_at_centre
from drafting.redraw.dart_points import grade_set_back
from drafting.redraw.heights import level_total
from drafting.redraw.parting import with_split
from drafting.redraw.swing import open_at, undo_truing
from drafting.redraw.told_place import DART_LINES, read_place
from drafting.saying import mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

MOST_BENT = TradeValue(4.0, "mm", "from memory")
"""By which truing the mouths of a dart may change a girth, on both sides of a side seam."""


class LevelBent(CannotDraft):
    """A dart whose mouth would bend an edge so much at a level that the girth there is another."""


def find_darts(garment: Garment, name: str, side: str) -> tuple[Dart, ...]:
    """Return the darts of a name, on the sides asked for; CannotDraft, with close names, where there is none."""
    wanted = "-".join(name.lower().split())
    darts = [dart for piece in garment.pieces for dart in darts_of(piece)]
    found = [dart for dart in darts if wanted in (dart.name, dart.stem)]
    chosen = tuple(one for one in found if side == "both" or one.side in (side, Side.NONE))
    if not chosen:
        names = {dart.stem for dart in darts}
        close = close_matches(wanted, names) or tuple(sorted(names))
        whose = "" if side == "both" else f"{side} "
        raise CannotDraft(
            "dart",
            say("there is no {whose}dart called “{name}”", whose=whose, name=name),
            help=f"there are: {', '.join(close)}"
            if close
            else "this design has no darts; build on one that has, such as fitted-bodice",
        )
    return chosen


def change_each_dart(
    garment: Garment, name: str, side: str, made: Callable[[Garment, Dart], Garment], because: str = "dart"
) -> Garment:
    """Return the garment with something done to every dart of a name on the sides asked for, one after the other.

    CannotDraft, naming the option ``because``, for what the drawing refuses.
    """
    for was in find_darts(garment, name, side):
        one = _by_now(garment, was)
        if was.inside:
            raise CannotDraft(
                "dart",
                say("the {title} is a fish-eye dart, closed at both ends: it doesn't reach an edge", title=was.title),
                help="a panel seam over it takes it up; a bodice that ends at the waist has it open there",
            )
        try:
            garment = made(garment, one) if one is not None else garment
        except CannotDraft:
            raise
        except DraftingError as error:
            raise CannotDraft(
                because,
                say("the {title} can't be worked so: {error}", title=was.title, error=error.words),
            ) from None
    return garment


def _by_now(garment: Garment, was: Dart) -> Dart | None:
    """A dart as it is after others were worked; None where it went with them."""
    for piece in garment.pieces:
        for dart in darts_of(piece):
            if dart.name == was.name and (piece.name == was.piece or not garment.has_piece(was.piece)):
                return dart
    return None


def place_for(garment: Garment, one: Dart, told: str) -> Place:
    """Return the place on the dart's own piece that is meant; CannotDraft where the line isn't there.

    The share is one of the line's length on that piece: a bodice's side ends at its waist, whatever hangs below.
    """
    word, share = read_place(told, "to", DART_LINES)
    piece = garment.piece(one.piece)
    face = piece.face or one.lines[0].face
    run = lines_along(garment, Role(word), one.side, face)
    own = tuple(use for use in run if use.piece == piece.name)
    for spot in spots(garment, own, share):
        return spot.place
    if run:
        raise CannotDraft(
            "to",
            say("the {word} lies on another piece than the {title}", word=word, title=one.title),
            help=_lines_of(piece, one.side),
        )
    raise CannotDraft(
        "to",
        say("the {side} {face} has no {word} to turn a dart to", side=one.side, face=face, word=word),
        help=_lines_of(piece, one.side),
    )


def _lines_of(piece: Piece, side: Side) -> str:
    roles = {line.role.value for line in piece.ring if (line.side or piece.side) is side}
    names = [word for word in DART_LINES if word in roles]
    return f'write one of {", ".join(names)} and a share, as "{names[0]} 0.3"' if names else ""


def corner_place(garment: Garment, piece: str, place: Place) -> tuple[Garment, Place]:
    """Return the garment with a line split at a place, seams and all, and the place as the start of a line."""
    at = garment.piece(piece).line(place.line).path.at(place.s)
    garment = with_split(garment, piece, place.line, place.s)
    line = min(garment.piece(piece).ring, key=lambda ln: ln.path.start.distance(at))
    return garment, Place(line.name, 0.0)


# turning


def keep_levels(before: Garment, after: Garment, one: Dart, key: str = "to") -> Garment:
    """Let the aims follow where truing a dart's mouth bent an edge at a level by a little; refuse where by more.

    The refusal names the option ``key``, which tells where the dart is turned to.
    """
    for measure in dict.fromkeys(aim.measure for aim in after.aims):
        by = level_total(after, measure) - level_total(before, measure)
        if abs(by) > MOST_BENT:
            level = measure.name.replace("-", " ")
            raise LevelBent(
                key,
                say(
                    "the {title} would open so near the {level} line that the {level} becomes {by} {more} as its "
                    "edge is drawn smooth again",
                    title=one.title,
                    level=level,
                    by=mm(abs(by), 1),
                    more="more" if by > 0.0 else "less",
                ),
                help="turn it to a place farther from there",
            )
        if abs(by) > TOLERANCE.same_point:
            after = shift_aim(after, measure, by)
    return after


def with_centre(garment: Garment, one: Dart, told: str) -> tuple[Garment, Dart]:
    """Return the garment with a seam at the centre of a dart's piece where a place on the centre is told."""
    piece = garment.piece(one.piece)
    if read_place(told, "to", DART_LINES)[0] != Role.CENTRE or not piece.face or piece.lines(role=Role.CENTRE):
        return garment, one
    garment = part_at_centre(garment, piece)
    return garment, find_darts(garment, one.name, "both")[0]


def turn_dart(garment: Garment, one: Dart, place: Place, set_back: float | None = None) -> Garment:
    """Return the garment with a dart turned to a place of its piece; the line it leaves is whole again.

    Its point stops ``set_back`` mm short of the apex, by default as far as before, and at a bust point by what it takes
    in there.
    """
    flat, place = undo_truing(garment.piece(one.piece), one, place)
    garment, corner = corner_place(put_piece(garment, flat), flat.name, place)
    old = garment.piece(flat.name)
    before, after = mouth_edges(old, one)
    if set_back is None:
        reach = one.apex.distance(old.line(corner.line).path.at(corner.s))
        set_back = grade_set_back(old, one, 2.0 * reach * math.sin(angle(one) / 2.0))
    garment = put_piece(garment, open_at(old, one.name, corner, set_back))
    return heal_line(garment, old.name, before.name, after.name)


# seams


def put_piece(garment: Garment, piece: Piece, *, seams: tuple[Seam, ...] = (), gone: tuple[str, ...] = ()) -> Garment:
    """Return the garment with a piece in place of the one of its name, seams added, and seams left out.

    Every seam states the ease that it then has: truing a mouth changes its edges' lengths a little, and a dart closed
    into its edge by what it took in.
    """
    new = garment.without(seams=gone).with_(pieces=[piece])
    kept = tuple(_ease_sections(garment, new, seam) for seam in new.seams)
    return replace(new, seams=kept).with_(seams=seams)


def _ease_sections(old: Garment, new: Garment, seam: Seam) -> Seam:
    sections = []
    for section in seam.sections:
        gains = [new.run_length(run) - old.run_length(run) for run in section.plies]
        ease = tuple(e + gain - gains[0] for e, gain in zip(section.ease, gains, strict=True))
        changed = max(abs(gain - gains[0]) for gain in gains) > TOLERANCE.same_point
        sections.append(replace(section, ease=ease) if changed else section)
    same = all(a is b for a, b in zip(sections, seam.sections, strict=True))
    return seam if same else replace(seam, sections=tuple(sections))


def heal_line(garment: Garment, piece: str, first: str, then: str) -> Garment:
    """Return the garment with the two parts of a line made one again where a dart between them was closed.

    They stay two where something else parts them: a corner, another dart, or a seam that takes only one of them.
    """
    old = garment.piece(piece)
    one, two = old.line(first), old.line(then)
    if old.after(first).name != then or not _parts_of_one(old, one, two) or not _sewn_on(garment, piece, one, two):
        return garment
    parent = one.ancestry[-1]
    whole = replace(one, name=parent, path=Path.join(one.path, two.path), ancestry=one.ancestry[:-1])
    ring = tuple(whole if line is one else line for line in old.ring if line is not two)
    share = one.path.length / (one.path.length + two.path.length)
    heirs = {first: (Heir(parent, start=0.0, end=share),), then: (Heir(parent, start=share, end=1.0),)}
    new = join_features(hand_on(replace(old, ring=ring), heirs), lambda a, b: None)
    seams = substitute(garment.seams, {(piece, first): (Use(piece, parent),), (piece, then): ()})
    return replace(garment.with_(pieces=[new]), seams=seams)


def _parts_of_one(piece: Piece, one: Line, two: Line) -> bool:
    """Whether two lines are the two parts of a line, which meet smoothly."""
    if not one.ancestry or one.ancestry != two.ancestry or any(ln.name == one.ancestry[-1] for ln in piece.all_lines):
        return False
    if (one.name, two.name) != tuple(part_name(one.ancestry[-1], which) for which in (0, 1)):
        return False
    return abs(turn(one.path.tangent(one.path.length), two.path.tangent(0.0))) <= TOLERANCE.tangent


def _sewn_on(garment: Garment, piece: str, one: Line, two: Line) -> bool:
    """Whether every seam that takes one of two lines takes the other right after it."""
    pair = (Use(piece, one.name), Use(piece, two.name))
    for seam in garment.seams:
        for section in seam.sections:
            if not all(_runs_together(run, pair) for run in section.plies):
                return False
    return True


def _runs_together(run: Run, pair: tuple[Use, Use]) -> bool:
    one, two = pair
    follows = {one: two, two.reversed: one.reversed}
    for i, use in enumerate(run):
        if use in follows and run[i + 1 : i + 2] != (follows[use],):
            return False
    count = sum(use in (one, one.reversed) for use in run)
    return count == sum(use in (two, two.reversed) for use in run)
