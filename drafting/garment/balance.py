"""Balance marks, derived from the seams: placed once on the seam, at the same share of every ply.

A mark stands where the plies must meet: where a seam or a centre of one ply lies on a plain stretch of another,
and part of the way along every long plain stretch, so that the plies can't be swapped end for end; a side seam is
marked at waist and hip level instead, and where a front that is longer is eased in.
One notch for front edges, two for back edges (handbooks on apparel production; common practice).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise, product
from typing import Final

from drafting.garment.easing import find_eased
from drafting.garment.model import Garment, Line, Piece, Role
from drafting.garment.seam import Run, Seam, Section, Use
from drafting.garment.surface import all_joints, joints, same_corner
from drafting.geometry import Path, turn
from drafting.record import dataclass
from drafting.sides import Face, Side, sideless, speak_stem
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

LONG_STRETCH = TradeValue(150.0, "mm", "common practice")
"""Of plain seam from which a stretch gets a mark of its own."""

SIDE_LEVELS = ("waist", "hip")
"""Levels of the body at which side seams are marked (common practice)."""

CLEAR_OF_JOINT = TradeValue(20.0, "mm", "from memory")
"""Of seam between a level's mark and the next joint, at least: nearer, the joint tells the place."""

MARK_ALONG = TradeValue(0.45, "share", "from memory")
"""Of a long stretch at which its mark stands: off the middle, so that it can't be sewn reversed."""


MITRE: Final = "mitre"
"""What lies between two uses of a run where a band has a corner."""


@dataclass(frozen=True, slots=True)
class Balance:
    """A mark on every ply of a seam: ``at`` gives (use, arc length along the line in its ring direction) per ply.

    A ply in which a dart or a seam already marks the place is left out, and told in ``meets``: its piece, "" where two
    pieces meet, and what is there, "shoulder seam". ``count`` is 1, or 2 on back edges. ``number`` is what it is called
    on the paper and in the order of work.
    """

    seam: str
    section: int
    count: int
    at: tuple[tuple[Use, float], ...]
    number: int = 0
    meets: tuple[tuple[str, str], ...] = ()


def place_on_run(garment: Garment, run: Run, share: float) -> tuple[Use, float]:
    """Return the use, and the arc length along its line in ring direction, at a share of a run's length."""
    (place,) = places_on_run(garment, run, (share,))
    return place


def places_on_run(garment: Garment, run: Run, shares: Iterable[float]) -> Iterator[tuple[Use, float]]:
    """Yield the places at some shares of a run's length, each as ``place_on_run`` tells it."""
    ends = joints(garment, run)
    for share in shares:
        i = next((k for k in range(len(run)) if share <= ends[k + 1]), len(run) - 1)
        length = garment.line(run[i]).path.length
        s = length * (share - ends[i]) / (ends[i + 1] - ends[i])
        yield run[i], length - s if run[i].against else s


def share_on_run(garment: Garment, run: Run, use: Use, s: float) -> float:
    """Return the share of a run's length at an arc length (mm) along the line of a use, in ring direction."""
    i = next(k for k, each in enumerate(run) if (each.piece, each.line) == (use.piece, use.line))
    first, last = joints(garment, run)[i : i + 2]
    along = s / garment.line(use).path.length
    return first + (last - first) * (1.0 - along if run[i].against else along)


def _find_seam_at(garment: Garment, run: Run, share: float, near: float) -> tuple[str, str] | None:
    """What marks the place where the run passes to another piece, or over a dart, at this share; None where nothing."""
    ends = joints(garment, run)
    for i, end in enumerate(ends[1:-1]):
        if abs(end - share) <= near and _leaves_ring(garment, run[i], run[i + 1]):
            return _name_seam_at(garment, run[i], run[i + 1])
    return None


def _name_seam_at(garment: Garment, use: Use, on: Use) -> tuple[str, str]:
    """What lies between two uses of a run: a dart of one piece, or the seam of two."""
    beyond = _line_beyond(garment, use)
    if use.piece == on.piece:
        called = speak_stem(beyond.dart.stem) if beyond.dart else ""
        return use.piece, f"{called} dart".lstrip() if beyond.role is Role.DART else MITRE
    return "", f"{beyond.role.value} seam"


def _leaves_ring(garment: Garment, use: Use, on: Use) -> bool:
    """Whether a run that passes from one use to the next leaves the ring: to another piece, or over a dart."""
    if use.piece != on.piece:
        return True
    return _line_beyond(garment, use).name != on.line


def _line_beyond(garment: Garment, use: Use) -> Line:
    """The line of a piece that follows a use of another of its lines."""
    piece = garment.piece(use.piece)
    return (piece.before if use.against else piece.after)(use.line)


def _mark_balance(garment: Garment, seam: Seam, number: int, section: Section, share: float) -> Balance | None:
    near = 1.0 / max(garment.run_length(section.plies[0]), 1.0)
    eased = find_eased(garment, seam, number)
    shares = [eased.find_share(i, share) if eased else share for i in range(len(section.plies))]
    runs = [
        (run, each, _find_seam_at(garment, run, each, near))
        for run, each in zip(section.plies, shares, strict=True)
        if run
    ]
    at = tuple(place_on_run(garment, run, each) for run, each, seam_at in runs if seam_at is None)
    if not at:
        return None
    count = _count([garment.line(use).face for use, _ in at])
    return Balance(seam.name, number, count, at, meets=tuple(each for *_, each in runs if each))


def _mark_share(garment: Garment, section: Section, a: float, b: float) -> float:
    """The share of a section at which the mark of the stretch from share a to b stands, off its middle.

    It stands nearer to the upper end, or, on a level edge, to the end nearer to the centre, of a front; of a back, to
    the other end: so left and right are marked alike, whichever way their seams run. An edge that lies evenly about
    the centre is marked there.
    """
    use, _ = place_on_run(garment, section.plies[0], (a + b) / 2.0)
    path = garment.path(use)
    rise, out = path.end.y - path.start.y, abs(path.end.x) - abs(path.start.x)
    if max(abs(rise), abs(out)) <= TOLERANCE.sewn_length:
        return (a + b) / 2.0
    from_start = (rise < 0.0 if abs(rise) >= abs(out) else out > 0.0) != (garment.line(use).face is Face.BACK)
    return a + (b - a) * MARK_ALONG if from_start else b - (b - a) * MARK_ALONG


def _section_marks(garment: Garment, seam: Seam, number: int, section: Section, round_about: bool) -> list[Balance]:
    cuts = all_joints(garment, section, range(len(section.plies)))
    shares = list(cuts[1:-1])
    length = garment.run_length(section.plies[0])
    if round_about:
        # Marks on a closed run quarter it: a mark off the middle would say left from right where there is none.
        shares.extend((a + b) / 2.0 for a, b in pairwise(cuts) if _is_long((b - a) * length, 2.0))
        shares.extend([0.5] if len(cuts) == 2 else [])
    elif _of_a_band(garment, seam):
        # From corner to corner a band is the same either way round, as are the two sides of what it is sewn to.
        shares.extend((a + b) / 2.0 for a, b in pairwise(cuts) if _is_long((b - a) * length))
    else:
        eased = find_eased(garment, seam, number)
        levels = _level_shares(garment, section if eased is None else Section((section.plies[eased.ply],), (0.0,)))
        shares.extend(levels)
        shares.extend(
            each
            for each in (eased.ends if eased else ())
            if all(abs(each - level) * length > TOLERANCE.sewn_length for level in levels)
        )
        shares.extend(
            _mark_share(garment, section, a, b)
            for a, b in pairwise(cuts)
            if _is_long((b - a) * length) and not any(a < share < b for share in levels)
        )
    found = (_mark_balance(garment, seam, number, section, share) for share in sorted(shares))
    return [mark for mark in found if mark is not None]


def _level_shares(garment: Garment, section: Section) -> list[float]:
    """The shares of a side seam at which waist and hip lie: its marks, wherever they are clear of its joints."""
    if any(garment.line(use).role is not Role.SIDE for run in section.plies for use in run):
        return []
    for run in section.plies:
        ends, clear = joints(garment, run), CLEAR_OF_JOINT / max(garment.run_length(run), CLEAR_OF_JOINT)
        found = [
            ends[i] + (ends[i + 1] - ends[i]) * at
            for i, use in enumerate(run)
            for level in garment.piece(use.piece).levels
            if level.name in SIDE_LEVELS
            if (at := _share_met(garment.path(use), level.path)) is not None
        ]
        found = [share for share in found if all(abs(share - end) > clear for end in ends)]
        if found:
            return sorted(set(found))
    return []


def _share_met(path: Path, level: Path) -> float | None:
    """The share of an edge at which a level ends on it."""
    for tip in (level.start, level.end):
        s, off = path.nearest(tip)
        if off <= TOLERANCE.flatten:
            return s / path.length
    return None


def _is_long(stretch: float, times: float = 1.0) -> bool:
    """Whether a stretch (mm) takes a mark between its ends; one that is longer by rounding alone doesn't."""
    return stretch > times * LONG_STRETCH + TOLERANCE.arc_length


def _of_a_band(garment: Garment, seam: Seam) -> bool:
    """Whether a seam sets a band on an edge in several sections."""
    return len(seam.sections) > 1 and all(garment.line(use).role is Role.BAND for use in seam.plies[-1])


def _meeting(garment: Garment, seam: Seam, number: int) -> Balance | None:
    """The mark where one section ends and the next begins, on the plies that run on within one piece.

    Where the last section ends, the first begins again if a ply runs right round within one piece.
    """
    last = number + 1 == len(seam.sections)
    one, two = seam.sections[number], seam.sections[0 if last else number + 1]
    at: list[tuple[Use, float]] = []
    meets: list[tuple[str, str]] = []
    for run, on in zip(one.plies, two.plies, strict=True):
        if run and on and run[-1].piece == on[0].piece and not (last and _leaves_ring(garment, run[-1], on[0])):
            at.append(place_on_run(garment, run, 1.0))
        elif run and on:
            meets.append(_name_seam_at(garment, run[-1], on[0]))
    faces = {garment.line(use).face for section in (one, two) for run in section.plies for use in run[:1]}
    return Balance(seam.name, number, _count(faces), tuple(at), meets=tuple(meets)) if at else None


def _count(faces: Iterable[Face]) -> int:
    """Two notches at the back; one at the front, and where front and back meet."""
    return 2 if Face.BACK in faces and Face.FRONT not in faces else 1


def balance_marks(garment: Garment) -> tuple[Balance, ...]:
    """Return the balance marks of every seam, in seam order. Darts and the short ends of bands have none."""
    out: list[Balance] = []
    meets = same_corner(garment)
    for seam in garment.seams:
        if not seam.kind.notched:
            continue
        run = seam.plies[0]
        round_about = len(seam.sections) == 1 and meets(run[-1], run[0])
        for number, section in enumerate(seam.sections):
            out.extend(_section_marks(garment, seam, number, section, round_about))
            if len(seam.sections) > 1:
                meeting = _meeting(garment, seam, number)
                out.extend([meeting] if meeting else [])
        if not round_about:
            out.extend(_end_marks(garment, seam))
    return tuple(_number_marks(garment, out))


def _number_marks(garment: Garment, marks: Sequence[Balance]) -> Iterator[Balance]:
    """Number marks from 1, seam by seam, in each from above down.

    Marks at places that one print may show as one have one number: at each other's mirrored place in a piece, and at
    the same place in pieces that differ by their side.
    """
    joined: dict[_Place, list[int]] = {}
    for i, mark in enumerate(marks):
        for place in _places(garment, mark):
            joined.setdefault(place, []).append(i)
    leads = list(range(len(marks)))
    for group in joined.values():
        lead, *others = sorted({_find_lead(leads, i) for i in group})
        for other in others:
            leads[other] = lead
    firsts: dict[int, int] = {}
    for i in sorted(range(len(marks)), key=lambda i: _turn_of_mark(garment, marks[i])):
        firsts.setdefault(_find_lead(leads, i), len(firsts) + 1)
    numbers = (firsts[_find_lead(leads, i)] for i in range(len(marks)))
    called = dict(garment.notch_numbers)
    return (replace(mark, number=called.get(number, number)) for mark, number in zip(marks, numbers, strict=True))


_Place = tuple[str, float, float, float, int]
"""A piece without its side, its outline's length, where a mark is from its middle, and how many snips it has."""


def _find_lead(leads: Sequence[int], i: int) -> int:
    """The first of the marks that share a number."""
    while leads[i] != i:
        i = leads[i]
    return i


def _turn_of_mark(garment: Garment, mark: Balance) -> tuple[int, float]:
    """When a mark is numbered: with its seam, and there from above down."""
    use, s = mark.at[0]
    turns = [seam.name for seam in garment.seams]
    return turns.index(mark.seam), -garment.line(use).path.at(s).y


def _places(garment: Garment, mark: Balance) -> Iterator[_Place]:
    """The places of a mark in its pieces, to a millimetre; places hardly apart have one in common, however rounded.

    Those of pieces of unlike length are never one, nor left and right of a piece that isn't its own image.
    """
    for use, s in mark.at:
        piece, at = garment.piece(use.piece), garment.line(use).path.at(s)
        x0, y0, x1, y1 = piece.outline.bounds
        across = (at.x - (x0 + x1) / 2.0) * (-1.0 if piece.side is Side.RIGHT else 1.0)
        across = abs(across) if use.piece in garment.find_once(find_even) else across
        along = abs(at.y - (y0 + y1) / 2.0) if garment.line(use).role is Role.BAND else at.y - y0
        name, long = sideless(use.piece) or use.piece, piece.outline.length / TOLERANCE.offset
        for dx, dy, dz in product((0.0, 0.5), repeat=3):
            yield name, round(long + dz) - dz, round(across + dx) - dx, round(along + dy) - dy, mark.count


def find_even(garment: Garment) -> frozenset[str]:
    """Return the names of the pieces that are alike left and right of their middle, by their lines."""
    return frozenset(piece.name for piece in garment.pieces if _is_even(piece))


def _is_even(piece: Piece) -> bool:
    x0, _, x1, _ = piece.outline.bounds
    starts = (line.path.start for line in piece.ring)
    ends = [(start.x - (x0 + x1) / 2.0, start.y) for start in starts]
    near = TOLERANCE.sewn_length
    return all(any(abs(x + a) <= near and abs(y - b) <= near for a, b in ends) for x, y in ends)


def _end_marks(garment: Garment, seam: Seam) -> Iterator[Balance]:
    """The marks where a seam ends on an edge that runs straight on unsewn: at a vent, an opening or an underlap."""
    for number, at_end in ((0, False), (len(seam.sections) - 1, True)):
        section = seam.sections[number]
        at = tuple(
            place_on_run(garment, run, float(at_end))
            for run in section.plies
            if run and _is_marked_end(garment, seam, run[-1] if at_end else run[0].reversed)
        )
        if at:
            yield Balance(seam.name, number, _count(garment.line(use).face for use, _ in at), at)


def _is_marked_end(garment: Garment, seam: Seam, use: Use) -> bool:
    """Whether no corner tells where a seam's ply ends: at a vent, or where a layer hangs on from it."""
    return runs_on(garment, use) or (bool(seam.hangs) and _goes_smoothly_on(garment, use))


def runs_on(garment: Garment, use: Use) -> bool:
    """Tell whether the edge beyond the end of a use runs straight on, and is sewn to nothing."""
    if not _goes_smoothly_on(garment, use):
        return False
    piece = garment.piece(use.piece)
    beyond = (piece.before if use.against else piece.after)(use.line)
    return not any(
        each.piece == piece.name and each.line == beyond.name
        for seam in garment.seams
        if len(seam.plies) > 1
        for each in seam.uses()
    )


def _goes_smoothly_on(garment: Garment, use: Use) -> bool:
    """Whether the edge beyond the end of a use goes on without a corner."""
    beyond = _line_beyond(garment, use)
    on = beyond.path.reversed() if use.against else beyond.path
    path = garment.path(use)
    return abs(turn(path.tangent(path.length), on.tangent(0.0))) <= TOLERANCE.smooth_join
