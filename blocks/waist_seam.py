"""The waist seam: a bodice's lower edge sewn to a skirt's waist, which makes a dress.

A bodice that runs on below the waist is cut off there, level but for its ends at the side seams. Each half is matched
at the centre and at the side; what the skirt's half is longer is eased in. Sewn flat, front and back each have their
waist seam and the side seams then run through in one go (common practice for knits); sewn round, bodice and skirt have
their sides closed first (common practice for wovens).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Final

from blocks.waistline import HALVES, Half, half_across, lower_edge, to_waist, trunk_of
from drafting.cloth import Kind
from drafting.errors import CannotDraft
from drafting.garment import (
    Brief,
    Deed,
    Face,
    Fact,
    Fate,
    Garment,
    Group,
    Line,
    Piece,
    Role,
    Run,
    Seam,
    SeamKind,
    Section,
    Side,
    Stage,
    Telling,
    Told,
    Use,
    block,
    does,
    option,
    stitch_for,
    tell_step,
)
from drafting.garment.deeds import Handling
from drafting.garment.lines import part_name
from drafting.mending import Mend
from drafting.record import dataclass
from drafting.redraw.fit_inner import follow_waist
from drafting.redraw.heights import keep_aims
from drafting.saying import mm, render, say, tape
from drafting.tolerance import TOLERANCE
from drafting.work.fastening import find_opening_beyond, part_at_openings
from drafting.work.kinds import DART
from drafting.work.telling import and_, is_knit, neaten_as_one, tell_ease, title_of


def _tell(told: Telling, group: Group) -> Told:
    """Tell the waist seam: what is matched, what is eased in (common practice)."""
    seam = group.seams[0]
    ease = tell_ease(told, seam, "skirt" if seam.ease[1] > 0.0 else "bodice")
    darted = any(each.kind == DART for each in told.garment.seams)
    match = ("centres", "sides", "darts") if darted else ("centres", "sides")
    title = title_of(told, group, {"waist": "waist seam", "{face} waist": "{face} waist seam"})
    knit = is_knit(told.garment)
    return tell_step(
        f"{title}, bodice to skirt",
        *_lay_skirt(told, seam),
        f"Pin the skirt to the bodice, right sides together, {and_(match)} matched.",
        *(_catch_elastic(told, seam, ease) if knit else (f"Sew the seam{ease}.",)),
        neaten_as_one(told),
        "Press it up.",
        "" if knit else f"{_cut_stay(told, seam, 'tape')}{_each_to_fold(told, seam) or _from_fold(told, seam)}.",
        "" if knit else "Sew it to the allowances alone, beside the seam: the waist can't grow.",
    )


def _lay_skirt(told: Telling, seam: Seam) -> tuple[str | Deed, ...]:
    """How the skirt is laid on the bodice: flat, or as one tube over the other once their sides are sewn."""
    if not _is_tube(told, seam):
        apart = ", each half on that of its own side" * (len(part_at_openings(told.garment, seam)) > 1)
        return (f"Lay the skirt upside down on the bodice, right side on right side{apart}.",)
    return (
        "Turn the bodice right side out, and the skirt wrong side out and upside down, its hem towards the neck.",
        does(
            "Slip the skirt over the bodice, so that their waist edges lie level and the skirt's right side is on the "
            "bodice's.",
            Handling.SLIPPED_OVER,
        ),
    )


def _is_tube(told: Telling, seam: Seam) -> bool:
    """Whether bodice and skirt go round, but for an opening: front and back are in one seam."""
    return len({told.garment.line(use).face for use in seam.plies[0]}) > 1


def _catch_elastic(told: Telling, seam: Seam, ease: str) -> tuple[str | Deed, ...]:
    """On which layer a knit's elastic lies: on the upper one, where it is seen while it is caught."""
    turned = "Turn both inside out together" if _is_tube(told, seam) else "Turn both over together"
    apart = len(part_at_openings(told.garment, seam)) > 1
    by_itself = ", each half by itself, from raw edge to raw edge" if apart else ""
    reach = _each_to_fold(told, seam) or ", from the stitching line of the one side seam to that of the other"
    if _is_tube(told, seam):
        reach = _from_fold(told, seam) or ", all round, its ends meeting at a side seam"
    return (
        f"{turned}, so that the bodice lies on top, its wrong side up.",
        does(
            f"{_cut_stay(told, seam, 'clear elastic')}, and lay {'them' if apart else 'it'} unstretched on the "
            f"bodice's wrong side, over the stitching line{reach}.",
            Handling.ELASTIC_CAUGHT,
        ),
        f"Sew with the bodice on top, through the elastic too{by_itself}{ease}.",
    )


def _cut_stay(told: Telling, seam: Seam, what: str) -> str:
    """How much elastic or tape is cut for a seam, up to the folds of an opening: two pieces where that parts it."""
    lengths = [
        render(say("{length} long", length=tape(each)), told.unit) for each in _measure_stays(told.garment, seam)
    ]
    if len(lengths) == 1:
        return f"Cut {what} {lengths[0]}"
    return f"Cut two pieces of {what}, {f'each {lengths[0]}' if len(set(lengths)) == 1 else and_(lengths)}"


def _each_to_fold(told: Telling, seam: Seam) -> str:
    """From where to where each piece of a tape goes whose seam an opening parts; empty if none does."""
    if len(part_at_openings(told.garment, seam)) == 1:
        return ""
    fold = _name_fold(told, seam)
    return f", each from its side seam's stitching line to the {fold} of the opening, where its edge is folded"


def _from_fold(told: Telling, seam: Seam) -> str:
    """From where to where a tape goes whose seam is parted by an opening: the edges of that are folded under later."""
    if not _find_folds(told.garment, seam):
        return ""
    return f", from the one {_name_fold(told, seam)} of the opening to the other, where its edges are folded"


def _name_fold(told: Telling, seam: Seam) -> str:
    """What the line is called on which the edges of an opening are folded: beside a zip they are sewn there too."""
    return "fold line" if any(_find_folds(told.garment, seam)) else "stitching line"


def _find_folds(garment: Garment, seam: Seam) -> list[float]:
    """At each edge of an opening that a seam meets, how far (mm) beyond its line the cloth is folded there."""
    ends = ((use, at_end) for use in seam.plies[0] for at_end in (False, True))
    found = (find_opening_beyond(garment, *each) for each in ends)
    return [edge.fold for edge in found if edge is not None]


def _measure_stays(garment: Garment, seam: Seam) -> list[float]:
    parts = part_at_openings(garment, seam)
    return [garment.run_length(part.plies[0]) + math.fsum(_find_folds(garment, part)) for part in parts]


def _stay_to_buy(told: Telling, seam: Seam) -> tuple[str, ...]:
    """What keeps a skirt's weight from drawing a waist out (common practice): once. A knit's stretches still."""
    waists = [each for each in told.garment.seams if each.kind == WAIST]
    if seam.name != waists[0].name:
        return ()
    length = tape(sum(long for each in waists for long in _measure_stays(told.garment, each)))
    what = "narrow clear elastic" if is_knit(told.garment) else "narrow tape"
    return (render(say("{length} of {what} for the waist seam", length=length, what=what), told.unit),)


WAIST: Final = SeamKind("waist", "a waist seam", _tell, turn=9, stripes=4, takes_up="waist", needs=_stay_to_buy)
"""A bodice to a skirt."""


@dataclass(frozen=True, slots=True)
class WaistSeamOptions:
    """Options of the waist seam."""

    sewn: str = option(
        "Flat, the side seams run through after it, or round, after the sides; by cloth: knits flat, wovens round.",
        "choice",
        "by-cloth",
        choices=("by-cloth", "flat", "round"),
    )
    most_ease: float = option(
        "How much longer a half of the skirt's waist may be than the bodice's, to be eased in.",
        "length",
        15.0,
        low=0.0,
        high=400.0,
    )


@block(
    "waist-seam",
    "Joins the bodice to the skirt by a seam at the waist.",
    Stage.BODY,
    needs=("back_neck_point_to_waist",),
    kinds=(WAIST,),
    mends=(Mend("skirt-apart", "sew it on at the waist: [blocks.{change}]"),),
    makes="waist seam",
    redraws=(Role.HEM,),
)
def draft_waist_seam(garment: Garment, brief: Brief, o: WaistSeamOptions) -> Garment:
    """Join the bodice that is there to the skirt that is there."""
    trunk = trunk_of(garment)
    skirts = tuple(piece for piece in garment.pieces if piece.lines("waist", role=Role.WAIST))
    if not trunk or not skirts:
        missing = "skirt" if trunk else "bodice"
        raise CannotDraft(
            missing,
            say("there is no {missing} to join", missing=missing),
            help=say("let the design have a {missing}", missing=missing),
        )
    waist = -brief.body["back_neck_point_to_waist"]
    bodices = tuple(to_waist(piece, waist, half_across(trunk)) for piece in trunk)
    halves = {half: _section(half, bodices, skirts, o) for half in HALVES}
    pieces = [follow_waist(_sew_waist(piece, lower_edge(piece))) for piece in bodices]
    pieces += [_sew_waist(piece, piece.lines("waist")) for piece in skirts]
    flat = o.sewn == "flat" or (o.sewn == "by-cloth" and brief.cloth.kind is Kind.KNIT)
    halves = {half: _rename_lines(section, bodices) for half, section in halves.items()}
    openings = list(garment.openings)
    for name in ("waist", "hem"):
        openings.remove(name)
    joined = garment.with_(
        pieces=pieces,
        seams=_stitch_seams(_seams_flat(halves) if flat else (_seam_round(halves),), brief),
        facts=_facts(halves),
        openings=tuple(openings),
    )
    joined = keep_aims(garment.with_(pieces=bodices), joined)
    return _sides_run_through(joined, skirts) if flat else joined


def _stitch_seams(seams: Iterable[Seam], brief: Brief) -> tuple[Seam, ...]:
    """The seams, by the stitch that is usual in the cloth."""
    return tuple(replace(seam, stitch=stitch_for(brief.cloth)) for seam in seams)


def _facts(halves: Mapping[Half, Section]) -> tuple[Fact, ...]:
    ease = sum(section.ease[1] for section in halves.values())
    return (Fact("waist_seam_ease", ease, "mm", "solve", "what the skirt's waist is longer than the bodice's"),)


def _section(half: Half, bodices: Iterable[Piece], skirts: Iterable[Piece], o: WaistSeamOptions) -> Section:
    """One half of the seam, from the centre to the side: the bodice's lines and the skirt's, with the ease."""
    face, side = half
    upper = _sort_outwards((p, ln) for p in bodices if p.face is face for ln in lower_edge(p) if ln.side is side)
    lower = _sort_outwards((p, ln) for p in skirts if p.face is face for ln in p.lines("waist", side=side))
    if not upper or not lower:
        raise CannotDraft(f"{face}, {side}", "a half of the bodice or of the skirt has no waist")
    lengths = [sum(line.path.length for _, line in lines) for lines in (upper, lower)]
    ease = lengths[1] - lengths[0]
    if not -TOLERANCE.sewn_length <= ease <= o.most_ease + TOLERANCE.sewn_length:
        longer = "longer" if ease > 0.0 else "shorter"
        raise CannotDraft(
            f"{face}, {side}",
            say("a half waist of the skirt is {ease} {longer} than the bodice's", ease=mm(abs(ease)), longer=longer),
            short_by=ease - o.most_ease if ease > 0.0 else -ease,
            help="draft the skirt after the bodice",
        )
    return Section((_run_outwards(upper), _run_outwards(lower)), (0.0, ease))


def _sort_outwards(found: Iterable[tuple[Piece, Line]]) -> list[tuple[Piece, Line]]:
    return sorted(found, key=lambda pair: abs(pair[1].path.start.x + pair[1].path.end.x))


def _run_outwards(lines: Iterable[tuple[Piece, Line]]) -> Run:
    """The lines as a run from the centre to the side."""
    return tuple(Use(p.name, ln.name, abs(ln.path.start.x) > abs(ln.path.end.x)) for p, ln in lines)


def _waist_name(piece: Piece, line: Line) -> str:
    """What a line of a bodice's lower edge is called once it is its waist; one that was its waist keeps its name."""
    if line.role is not Role.HEM:
        return line.name
    parts = [other.name for other in lower_edge(piece) if other.role is Role.HEM and other.side is line.side]
    whole = f"waist-{line.side}"
    name = part_name(whole, parts.index(line.name)) if len(parts) > 1 else whole
    return line.name if any(other.name == name for other in piece.ring) else name


def _sew_waist(piece: Piece, lines: tuple[Line, ...]) -> Piece:
    """Return a piece whose waist is sewn; a bodice's lower edge is its waist now."""
    edge = {line.name for line in lines}

    def sewn(line: Line) -> Line:
        if line.name not in edge:
            return line
        return replace(line, name=_waist_name(piece, line), role=Role.WAIST, fate=Fate.SEWN, opening="")

    return replace(piece, ring=tuple(sewn(line) for line in piece.ring))


def _rename_lines(section: Section, bodices: Iterable[Piece]) -> Section:
    pieces = {piece.name: piece for piece in bodices}
    upper = tuple(
        replace(use, line=_waist_name(pieces[use.piece], pieces[use.piece].line(use.line))) for use in section.plies[0]
    )
    return Section((upper, section.plies[1]), section.ease)


def _turn_inwards(section: Section) -> Section:
    """A half from the side to the centre."""
    return Section(tuple(tuple(use.reversed for use in reversed(run)) for run in section.plies), section.ease)


def _seam_round(halves: Mapping[Half, Section]) -> Seam:
    """The whole seam, from centre back over the wearer's left side round to centre back."""
    left, right = Side.LEFT, Side.RIGHT
    sections = (
        halves[Face.BACK, left],
        _turn_inwards(halves[Face.FRONT, left]),
        halves[Face.FRONT, right],
        _turn_inwards(halves[Face.BACK, right]),
    )
    return Seam("waist", WAIST, "waist", sections)


def _seams_flat(halves: Mapping[Half, Section]) -> tuple[Seam, ...]:
    """A seam for the front and one for the back, each from the wearer's right side to the left."""
    return tuple(
        Seam(
            f"waist-{face}",
            WAIST,
            say("{face} waist", face=face),
            (_turn_inwards(halves[face, Side.RIGHT]), halves[face, Side.LEFT]),
        )
        for face in (Face.FRONT, Face.BACK)
    )


def _sides_run_through(garment: Garment, skirts: tuple[Piece, ...]) -> Garment:
    """Let each side seam of the bodice begin at the skirt's hem."""
    names = {piece.name for piece in skirts}
    gone, grown = [], []
    for side in (Side.LEFT, Side.RIGHT):
        found = [seam for seam in garment.seams if _is_side(garment, seam, side)]
        lower = [seam for seam in found if seam.plies[0][0].piece in names]
        upper = [seam for seam in found if seam.plies[0][0].piece not in names]
        if len(lower) == len(upper) == 1:
            gone.append(lower[0].name)
            grown.append(_on_top(garment, lower[0], upper[0]))
    return garment.without(seams=gone).with_(seams=grown)


def _is_side(garment: Garment, seam: Seam, side: Side) -> bool:
    lines = [garment.line(run[0]) for run in seam.plies if run]
    return len(lines) == 2 and all(line.role is Role.SIDE and line.side is side for line in lines)


def _on_top(garment: Garment, lower: Seam, upper: Seam) -> Seam:
    """The bodice's side seam with the skirt's before it, front to front."""
    faces = [garment.line(seam.plies[0][0]).face for seam in (lower, upper)]
    sections = lower.sections
    if faces[0] is not faces[1]:
        sections = tuple(Section((s.plies[1], s.plies[0]), s.ease) for s in sections)
    return replace(upper, sections=(*sections, *upper.sections))
