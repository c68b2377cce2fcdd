"""What fullness that was let into a piece does to the rest of the garment: the ease of its seams, and the aims.

Where an edge is gathered its seam is matched at both ends of the gathers, and the piece says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drafting.errors import CannotDraft
from drafting.garment import Garment, Piece, Role, Run, Seam, Section, Use, shift_aim
from drafting.redraw.opening import SeamStretch, cut_at, thirds
from drafting.saying import Name, Words, mm, say
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE

WAIST_EASED = TradeValue(0.03, "share", "common practice", "a skirt's upper edge is eased on by one to three per cent")
"""Of a waist seam that a fit change may leave to be eased in along it."""

SIDE_EASED = TradeValue(5.0, "mm", "from memory", "a knit takes 10 in all")
"""By which what is eased in along a side may change as a body is drawn out."""


AT_SIDES, SWUNG_OUT = "flare_at_sides", "flare_swing"
"""Of which facts tell: the share of a flare that a darted body's side seams hold, and how far (rad) they swing out."""


def ease_waists(before: Garment, after: Garment) -> Garment:
    """Return the garment, its waist edges changed by a fit change, with what its waist seams now ease in stated.

    The skirt stays as it was drafted. CannotDraft where too much would have to be eased in.
    """
    lines = [(p.name, ln.name) for p in before.pieces for ln in p.ring if ln.role is Role.WAIST]
    uses = [Use(*names) for names in lines]
    grown = {use: after.line(use).path.length - before.line(use).path.length for use in uses}
    grown = {use: by for use, by in grown.items() if abs(by) > TOLERANCE.same_point}
    seams = [_ease_seam(s, grown) for s in after.seams if any(Use(u.piece, u.line) in grown for u in s.uses())]
    for seam in seams:
        for section, old in zip(seam.sections, before.seam(seam.name).sections, strict=True):
            more = max(abs(e - was) for e, was in zip(section.ease, old.ease, strict=True))
            over = more - WAIST_EASED * before.run_length(old.plies[0])
            if over > 0.0:
                raise CannotDraft(
                    "by",
                    say("{more} would have to be eased in at the {at:placed} seam", more=mm(more), at=Name(seam.name)),
                    short_by=over, help="change it by less, or give the bodice waist darts to take it in",
                )  # fmt: skip
    return after.with_(seams=seams)


def ease_sides(after: Garment) -> Garment:
    """Return the garment, drawn out between two heights, with what sides that end at a waist seam now ease in stated.

    There is no hem below them at which they could be trued; a side that is eased on grows with what is drawn out.
    CannotDraft where that changes the ease by more than is taken on the way.
    """
    ends = {p.name for p in after.pieces if p.lines(role=Role.WAIST) and not p.lines(role=Role.HEM)}
    seams = []
    for seam in after.seams:
        if seam.kind != SIDE or not any(use.piece in ends for use in seam.uses()):
            continue
        sections = []
        for section in seam.sections:
            lengths = [after.run_length(run) for run in section.plies]
            ease = tuple(x - lengths[0] if run else 0.0 for x, run in zip(lengths, section.plies, strict=True))
            more = max(abs(e - was) for e, was in zip(ease, section.ease, strict=True))
            if more > SIDE_EASED:
                raise CannotDraft(
                    "side", say("the sides of front and back would differ by {more} more than they do", more=mm(more)),
                    short_by=more - SIDE_EASED, help="change the length by less, or before a side is let out",
                )  # fmt: skip
            sections.append(replace(section, ease=ease) if more > TOLERANCE.sewn_length / 2.0 else section)
        seams.append(replace(seam, sections=tuple(sections)))
    return after.with_(seams=seams)


def let_into(garment: Garment, old: Piece, new: Piece) -> Garment:
    """Return the garment with a piece spread: its seams state the ease that was let in, its aims what levels gained."""
    from drafting.redraw.spreading import level_growth  # loaded only for what slashes

    grown = {
        Use(old.name, one.name): two.path.length - one.path.length for one, two in zip(old.ring, new.ring, strict=True)
    }
    changed = {use: by for use, by in grown.items() if abs(by) > TOLERANCE.same_point}
    seams = [
        _ease_seam(seam, changed) for seam in garment.seams if any(Use(u.piece, u.line) in changed for u in seam.uses())
    ]
    garment = garment.with_(pieces=[new], seams=seams)
    for measure, by in level_growth(old, new).items():
        garment = shift_aim(garment, measure, by)
    return garment


def _ease_seam(seam: Seam, grown: dict[Use, float]) -> Seam:
    def section(old: Section) -> Section:
        gains = [_gain(run, grown) for run in old.plies]
        return replace(old, ease=tuple(e + g - gains[0] for e, g in zip(old.ease, gains, strict=True)))

    return replace(seam, sections=tuple(section(one) for one in seam.sections))


def _gain(run: Run, grown: dict[Use, float]) -> float:
    return sum(grown.get(Use(use.piece, use.line), 0.0) for use in run)


def with_note(piece: Piece, note: Words) -> Piece:
    """Return the piece with a further note, unless it says so already."""
    return piece if note in piece.notes else replace(piece, notes=(*piece.notes, note))


def match_ends(garment: Garment, use: Use, grown: float, ends: tuple[float, float]) -> Garment | None:
    """Return the garment with the seam of a gathered line matched where its gathers start and end.

    ``grown`` is by how much (mm) the line has grown between ``ends``, shares of its length before, in ring direction.
    The section is parted in up to three, so that notches stand there on every ply. None where the line isn't a ply's
    whole run in a section, or another ply doesn't run along all of it.
    """
    for seam in garment.seams:
        for index, section in enumerate(seam.sections):
            for ply, run in enumerate(section.plies):
                if len(run) == 1 and (run[0].piece, run[0].line) == (use.piece, use.line):
                    along = (1.0 - ends[1], 1.0 - ends[0]) if run[0].against else ends
                    length = garment.run_length(run)
                    plain = length - grown
                    own = along[0] * plain / length, 1.0 - (1.0 - along[1]) * plain / length
                    shares = [own if i == ply else along for i in range(len(section.plies))]
                    return _part_section(garment, SeamStretch(seam.name, index, 0.0, 0.0), shares)
    return None


def _part_section(garment: Garment, at: SeamStretch, shares: Sequence[tuple[float, float]]) -> Garment | None:
    """Part a section at two shares of each ply; what a ply is longer in each part is its ease there."""
    for ply, pair in enumerate(shares):
        for share in pair:
            garment = cut_at(garment, at, ply, share)
    seam = garment.seam(at.seam)
    parts = [thirds(garment, run, *pair) for run, pair in zip(seam.sections[at.section].plies, shares, strict=True)]
    made = []
    for plies in zip(*parts, strict=True):
        if any(plies) != all(plies):  # a ply takes no part there, or ends within a hair of it
            return None
        if all(plies):
            lengths = [garment.run_length(run) for run in plies]
            made.append(Section(tuple(plies), tuple(length - lengths[0] for length in lengths)))
    sections = (*seam.sections[: at.section], *made, *seam.sections[at.section + 1 :])
    return garment.with_(seams=[replace(seam, sections=sections)])
