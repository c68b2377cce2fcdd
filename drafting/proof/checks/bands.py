"""Bands: each band, cuff and binding against what its curve needs and its cloth can give.

The rule is that of ``drafting.cloth.band_length``: the length whose free edge lies flat on the curve, the least that
still stretches to the opening, and the usual shares. Where a band is mitred, edge and strips must fill the round.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from drafting.cloth import BandRule, Cloth, band_length
from drafting.cloth.band import BandKind
from drafting.errors import DraftingError
from drafting.garment import Brief, Garment, Piece, Role, Run, Seam, Use
from drafting.garment.laying import cloth_as_laid
from drafting.garment.places import gathered_length
from drafting.geometry import turn
from drafting.proof.finding import Finding, Severity
from drafting.record import dataclass
from drafting.saying import Words, say
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class SewnBand:
    """A band as it is sewn on: lengths of edge and band, the edge's turning towards the band, the band's width."""

    edge: float
    band: float
    turning: float
    width: float
    cloth: Cloth


def check_bands(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge every seam that joins a band to an edge."""
    mitred = {use.piece for seam in garment.seams if seam.kind.mitred for use in seam.uses()}
    return tuple(
        finding
        for seam in garment.seams
        for finding in (*_seam(garment, brief, seam), *(_corners(garment, seam) if mitred else ()))
    )


def _seam(garment: Garment, brief: Brief, seam: Seam) -> Iterator[Finding]:
    """Judge each section on its own: a band on an edge with corners lies flat from corner to corner."""
    for sewn in sewn_bands(garment, brief, seam):
        yield from _band(seam, rule_of(garment, seam), sewn)


def sewn_bands(garment: Garment, brief: Brief, seam: Seam) -> Iterator[SewnBand]:
    """Yield each length of band that a seam joins to an edge, as it is sewn on."""
    for section in seam.sections:
        bands = [run for run in section.plies if run and all(garment.line(use).role is Role.BAND for use in run)]
        edges = [run for run in section.plies if run and run not in bands]
        for run in bands if edges else []:
            yield _measure_sewn(garment, brief, edges[0], run)


def _measure_sewn(garment: Garment, brief: Brief, edge: Run, band: Run) -> SewnBand:
    piece = garment.piece(band[0].piece)
    length = garment.run_length(band)
    width = _height(piece, band) or piece.outline.area / length
    cloth = cloth_as_laid(brief.cloth_named(piece.cloth), (piece,))
    return SewnBand(
        garment.run_length(edge) - gathered_length(garment, edge), length, _turning(garment, edge), width, cloth
    )


def _height(piece: Piece, band: Run) -> float:
    """How far a band's end reaches square to its sewn line (mm), whether it is mitred or not; 0 if it has no end."""
    sewn = piece.line(band[0].line).path
    along = (sewn.end - sewn.start).unit
    return max((abs(along.cross(end.path.end - end.path.start)) for end in piece.lines(role=Role.END)), default=0.0)


def _turning(garment: Garment, run: Run) -> float:
    """How far an edge turns towards what is sewn to it (radians); joins across a seam run smooth and turn nothing.

    A piece lies to the left of its edges, so that a turn to the right, in ring direction, is one towards the band.
    """
    total = -sum(garment.line(use).path.turning() for use in run)
    for one, two in zip(run, (*run[1:], run[0]), strict=True):
        first, then = (two, one) if one.against else (one, two)
        piece = garment.piece(first.piece)
        if first.piece == then.piece and piece.after(first.line).name == then.line:
            path = piece.line(first.line).path
            total -= turn(path.tangent(path.length), piece.line(then.line).path.tangent(0.0))
    return total


_RULES: Mapping[Role, BandKind] = {
    Role.NECKLINE: "neck", Role.ARMHOLE: "armhole", Role.WRIST: "cuff", Role.HEM: "hem", Role.WAIST: "hem",
}  # fmt: skip
"""The rule for a band by the edge it is sewn to; a band on any other edge lies straight."""


def rule_of(garment: Garment, seam: Seam) -> BandKind:
    """Return by which rule a seam's band is as long as it is."""
    return _RULES.get(garment.line(seam.plies[0][0]).role, "straight")


def _band(seam: Seam, kind: BandKind, sewn: SewnBand) -> Iterator[Finding]:
    try:
        rule = band_length(
            sewn.edge,
            sewn.turning,
            sewn.width,
            sewn.cloth.working_stretch,
            recovery=sewn.cloth.recovery,
            kind=kind,
            given=sewn.band / sewn.edge,
        )
    except DraftingError as error:
        yield Finding(
            "bands.rule",
            Severity.ERROR,
            seam.name,
            sewn.band,
            sewn.edge,
            say("{title}: {error}", title=seam.title or seam.name, error=error.words),
            "draft the band again",
        )
        return
    yield from (_finding(seam, rule, *words) for words in rule.findings)


def _finding(seam: Seam, rule: BandRule, sentence: Words, remedy: Words) -> Finding:
    fails = rule.length < rule.least_by_stretch - TOLERANCE.sewn_length
    return Finding(
        "bands.rule",
        Severity.ERROR if fails else Severity.WARNING,
        seam.name,
        rule.length,
        rule.least_by_stretch if fails else rule.least if rule.length < rule.least else rule.lying_flat,
        say("{title}: {sentence}", title=seam.title or seam.name, sentence=sentence),
        remedy,
    )


def _corners(garment: Garment, seam: Seam) -> Iterator[Finding]:
    """Judge a band's mitres: laid together at a corner, edge and strips make one full turn, so that all lies flat."""
    if not all(garment.line(use).role is Role.BAND for use in seam.plies[-1]):
        return
    mitres = [{(use.piece, use.line) for use in other.uses()} for other in garment.seams if other.kind.mitred]
    for one, two in zip(seam.sections, (*seam.sections[1:], *seam.sections[:1]), strict=True):
        edge, band, next_edge, next_band = one.plies[0], one.plies[-1], two.plies[0], two.plies[-1]
        if {_line_beside(garment, band[-1], True), _line_beside(garment, next_band[0], False)} not in mitres:
            continue
        strips = _angle_inside(garment, band[-1], True) + _angle_inside(garment, next_band[0], False)
        whole = strips + _angle_round(garment, edge[-1], next_edge[0])
        off = 2.0 * math.pi - whole
        if abs(off) > TOLERANCE.smooth_join:
            yield Finding(
                "bands.corner",
                Severity.ERROR,
                f"{seam.name}, {band[-1].piece}.{band[-1].line}",
                off,
                TOLERANCE.smooth_join,
                f"{seam.title or seam.name}: mitred, the band turns by {abs(math.degrees(off)):.0f} degrees "
                f"{'too little' if off < 0.0 else 'too much'} for the corner of its edge, and won't lie flat",
                "draft the band again on the edge that is there",
                "rad",
            )


def _neighbours(garment: Garment, use: Use, at_end: bool) -> tuple[str, str]:
    """The lines before and after the corner at a use's end (or start), in ring order."""
    piece = garment.piece(use.piece)
    if at_end != use.against:
        return use.line, piece.after(use.line).name
    return piece.before(use.line).name, use.line


def _line_beside(garment: Garment, use: Use, at_end: bool) -> tuple[str, str]:
    """The piece, and its other line, at the corner at a use's end (or start)."""
    return use.piece, next(name for name in _neighbours(garment, use, at_end) if name != use.line)


def _angle_inside(garment: Garment, use: Use, at_end: bool) -> float:
    """The angle (rad) of the piece at the corner at a use's end (or start)."""
    before, after = (garment.line(Use(use.piece, name)).path for name in _neighbours(garment, use, at_end))
    return math.pi - turn(before.tangent(before.length), after.tangent(0.0))


def _angle_round(garment: Garment, use: Use, after: Use) -> float:
    """The angle (rad) of the edge's own pieces where it passes from one use to the next: one piece, or two sewn on."""
    whole = _angle_inside(garment, use, True)
    return (
        whole
        if _line_beside(garment, use, True) == (after.piece, after.line)
        else whole + _angle_inside(garment, after, False)
    )
