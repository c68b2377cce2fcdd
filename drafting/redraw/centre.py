"""A seam down the centre of a piece: where it lies, what its halves are called, and how the piece is parted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import Face, Fact, Garment, Piece, Role, Run, Section, Side
from drafting.garment.places import Place
from drafting.geometry import Path, Point
from drafting.redraw.parting import Cut, part_piece
from drafting.saying import Words, say, without_faces
from drafting.tolerance import TOLERANCE
from drafting.work.kinds import CENTRE


def with_centre_back(garment: Garment) -> Garment:
    """Return the garment with a seam at the centre back: only pieces that lie across it are parted."""
    found = [piece for piece in garment.pieces if piece.face is Face.BACK and lies_across(piece)]
    for piece in found:
        garment = with_centre_seam(garment, piece)
    garment = _match_at_centre(garment) if found else garment
    return garment.with_(facts=[centre_fact(Face.BACK, "seam")]) if found else garment


def _match_at_centre(garment: Garment) -> Garment:
    """Return the garment whose seams across the centre are matched there, where ease would carry them past it.

    Else the halves of two pieces that are both parted would be sewn across the centre, and nothing could open it.
    """
    seams = (
        replace(seam, sections=tuple(part for each in seam.sections for part in _part_section(garment, each)))
        for seam in garment.seams
    )
    return garment.with_(seams=[seam for seam in seams if seam != garment.seam(seam.name)])


def _part_section(garment: Garment, section: Section) -> Iterator[Section]:
    """Yield a section, or its two parts where each of its plies passes from one half to the other at the centre."""
    runs = [run for run in section.plies if run]
    at = [_joint_at_centre(garment, run) for run in runs]
    shares = [garment.run_length(run[: i or 0]) / garment.run_length(run) for run, i in zip(runs, at, strict=True)]
    near = (max(shares) - min(shares)) * max(map(garment.run_length, runs)) < TOLERANCE.joint
    if None in at or near or len(runs) < len(section.plies):
        yield section
        return
    first = tuple(run[:i] for run, i in zip(runs, at, strict=True))
    lengths = [garment.run_length(run) for run in first]
    eased = tuple(length - lengths[0] for length in lengths)
    yield Section(first, eased)
    rest = tuple(whole - part for whole, part in zip(section.ease, eased, strict=True))
    yield Section(tuple(run[i:] for run, i in zip(runs, at, strict=True)), rest)


def _joint_at_centre(garment: Garment, run: Run) -> int | None:
    """Where in a run it passes from one piece to another at the centre; None where it doesn't."""
    for i, (one, two) in enumerate(pairwise(run), 1):
        if one.piece != two.piece and abs(garment.path(one).end.x) < TOLERANCE.joint:
            return i
    return None


def part_at_centre(garment: Garment, piece: Piece) -> Garment:
    """Return the garment with a seam down the centre of one piece."""
    return with_centre_seam(garment, piece).with_(facts=[centre_fact(piece.face, "seam")])


def _ends(piece: Piece) -> tuple[Place, Place]:
    """Where the centre line meets a piece's lower and upper edge; at a joint, the line that starts there."""
    x0, y0, x1, y1 = piece.outline.bounds
    reach = max(x1 - x0, y1 - y0)
    upright = Path.straight(Point(0.0, y0 - reach), Point(0.0, y1 + reach))
    found = sorted(
        (crossing.point.y, line.name, crossing.t) for line in piece.ring for crossing in upright.crossings(line.path)
    )
    heights: list[tuple[float, Place]] = []
    for y, line, s in found:
        at_end = s > piece.line(line).path.length - TOLERANCE.joint
        place = Place(piece.after(line).name, 0.0) if at_end else Place(line, 0.0 if s < TOLERANCE.joint else s)
        if not heights or y - heights[-1][0] > TOLERANCE.sewn_length:
            heights.append((y, place))
    if len(heights) != 2:
        raise CannotDraft(
            piece.name,
            say(
                "the centre line meets the edges of the {title:lower} {count} times, not twice",
                title=piece.title,
                count=len(heights),
            ),
            help="part the piece elsewhere",
        )
    return heights[0][1], heights[1][1]


def _seam_title(piece: Piece) -> Words:
    """What the seam is called: centre back, centre back of the skirt, and so of any piece that has a further name."""
    title = without_faces(piece.title)
    if not title:
        return say("centre {face}", face=piece.face)
    return say("centre {face} of the {title:lower}", face=piece.face, title=title)


def with_centre_seam(garment: Garment, piece: Piece) -> Garment:
    """Part a piece at the centre, from its lower edge up."""
    low, high = _ends(piece)
    path = Path.straight(*(piece.line(place.line).path.at(place.s) for place in (low, high)))
    name = piece.name
    # Seen from the right side, what lies left of an upward line is the wearer's right on a front.
    on_left = Side.RIGHT if piece.face is Face.FRONT else Side.LEFT
    left, right = (
        (f"{name}-{side}", say("{side:capital} {title:lower}", side=side, title=piece.title))
        for side in (on_left, on_left.other)
    )
    cut = Cut(low, high, path, "centre", left, right, Role.CENTRE, CENTRE)
    try:
        return part_piece(garment, name, cut, _seam_title(piece))
    except DraftingError as error:
        raise CannotDraft(name, error.words, help="leave the seam out") from None


def lies_across(piece: Piece) -> bool:
    """Tell whether a piece lies on both sides of the centre."""
    x0, _, x1, _ = piece.outline.bounds
    return x0 < -TOLERANCE.sewn_length and x1 > TOLERANCE.sewn_length


def centre_fact(face: Face, kind: str) -> Fact:
    """Return the fact that tells of a seam or a fold at the centre of a face."""
    told = say("a {kind} at the centre {face}", kind=kind, face=face)
    return Fact(f"centre_{face}_{kind}", 1.0, "flag", "choice", told)
