"""Bands: each band, cuff and binding against what its curve needs and its cloth can give.

The rule is that of ``drafting.cloth.band_length``: the length whose free edge lies flat on the curve, the least that
still stretches to the opening, and the usual shares.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import BandRule, Cloth, band_length
from drafting.cloth.band import BandKind
from drafting.errors import DraftingError
from drafting.garment import Brief, Garment, Role, Run, Seam
from drafting.garment.gathered import gathered
from drafting.geometry import turn
from drafting.proof.finding import Finding, Severity
from drafting.record import dataclass
from drafting.tolerance import TOLERANCE


@dataclass(frozen=True, slots=True)
class _Sewn:
    """A band as it is sewn on: lengths of edge and band, the edge's turning towards the band, the band's width."""

    edge: float
    band: float
    turning: float
    width: float
    cloth: Cloth


def check_bands(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Judge every seam that joins a band to an edge."""
    return tuple(finding for seam in garment.seams for finding in _seam(garment, brief, seam))


def _seam(garment: Garment, brief: Brief, seam: Seam) -> Iterator[Finding]:
    plies = seam.plies
    bands = [run for run in plies if all(garment.line(use).role is Role.BAND for use in run)]
    edges = [run for run in plies if run not in bands]
    if not bands or not edges:
        return
    for run in bands:
        yield from _band(seam, _sewn(garment, brief, edges[0], run))


def _sewn(garment: Garment, brief: Brief, edge: Run, band: Run) -> _Sewn:
    piece = garment.piece(band[0].piece)
    ends = piece.lines(role=Role.END)
    length = garment.run_length(band)
    width = ends[0].path.length if ends else piece.outline.area / length
    cloth = brief.trim if piece.cloth == "trim" else brief.cloth
    return _Sewn(garment.run_length(edge) - gathered(garment, edge), length, _turning(garment, edge), width, cloth)


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


def _kind(seam: Seam) -> BandKind:
    words = f"{seam.kind} {seam.name}"
    kinds: tuple[BandKind, ...] = ("neck", "armhole", "hem", "cuff")
    return next((kind for kind in kinds if kind in words), "straight")


def _band(seam: Seam, sewn: _Sewn) -> Iterator[Finding]:
    try:
        rule = band_length(
            sewn.edge,
            sewn.turning,
            sewn.width,
            sewn.cloth.working_stretch,
            recovery=sewn.cloth.recovery,
            kind=_kind(seam),
            given=sewn.band / sewn.edge,
        )
    except DraftingError as error:
        yield Finding("bands.rule", Severity.ERROR, seam.name, sewn.band, sewn.edge, str(error), "draft the band again")
        return
    yield from (_finding(seam, rule, words) for words in rule.findings)


def _finding(seam: Seam, rule: BandRule, words: str) -> Finding:
    fails = rule.length < rule.least_by_stretch - TOLERANCE.sewn_length
    sentence, _, remedy = words.partition("; ")
    return Finding(
        "bands.rule",
        Severity.ERROR if fails else Severity.WARNING,
        seam.name,
        rule.length,
        rule.least_by_stretch if fails else rule.least if rule.length < rule.least else rule.lying_flat,
        f"{seam.title or seam.name}: {sentence}",
        remedy,
    )
