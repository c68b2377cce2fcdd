"""Stride: whether one can walk in a skirt or a dress whose hem lies below the middle of the thigh.

What goes round both legs at a step is the body's (``drafting.body.stride``). A vent or slit frees the hem up to its
top, so that the skirt needs to go round the stride only there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from drafting.body import Body
from drafting.body.stride import PAST_KNEE, middle_of_thigh, stride_girth, walking_height
from drafting.garment import Brief, Fate, Garment, Line, Piece, Role, hanging_pieces, openings
from drafting.mending import situation
from drafting.proof.checks.closures import stretch_of
from drafting.proof.finding import Finding, Severity
from drafting.record import dataclass
from drafting.saying import about, say, tape
from drafting.tolerance import TOLERANCE
from drafting.trade import TradeValue

STRAIGHT = TradeValue(1.15, "times", "from memory")
"""The hip girth, that the hem of a skirt goes round at least which isn't a straight one."""


def _find_hemmed(garment: Garment) -> Iterator[Piece]:
    return (piece for piece in garment.pieces if piece.lines(role=Role.HEM))


@dataclass(frozen=True, slots=True)
class StepAtHem:
    """What goes round a stride: ``girth`` of the hem or its band, stretched, and the stride that it ``needs`` to.

    ``height`` is its own above the floor, ``free`` that up to which vents free it.
    """

    girth: float
    height: float
    free: float
    what: str
    needs: float


def measure_stride(garment: Garment, brief: Brief) -> StepAtHem | None:
    """Return what has least to spare for a stride at a hem below the middle of the thigh, None where there is none."""
    body = brief.body
    hems = list(_lines(garment, Role.HEM))
    if not hems:
        return None
    y = sum(line.path.start.y + line.path.end.y for line in hems) / (2.0 * len(hems))
    height = body["waist_height"] + body["back_neck_point_to_waist"] + y
    vent = max((line.path.length for line in _vents(garment)), default=0.0)
    girth = math.fsum(line.path.length for line in hems) * (1.0 + stretch_of(brief.cloth, *_find_hemmed(garment)))
    rings = [(girth, height, "hem"), *((reach, height - deep, "hem band") for reach, deep in _bands(garment, brief))]
    held = [ring for ring in rings if ring[1] <= middle_of_thigh(body)]
    if not held:
        return None
    girth, height, what = min(held, key=lambda ring: ring[0] - stride_girth(body, ring[1] + vent))
    return StepAtHem(girth, height, height + vent, what, stride_girth(body, height + vent))


def check_stride(garment: Garment, brief: Brief) -> tuple[Finding, ...]:
    """Warn of a hem below the middle of the thigh that is narrower than the wearer's stride there, or at its vents."""
    step = measure_stride(garment, brief)
    if step is None:
        return ()
    girth, height, need = step.girth, step.height, step.needs
    if girth >= need - TOLERANCE.sewn_length:
        return () if step.free > height else _judge_straight(brief.body, girth, height)
    top = walking_height(brief.body, girth, height)
    words = "at the top of its vents" if step.free > height else "there"
    return (
        Finding(
            "stride.hem",
            Severity.WARNING,
            "hem",
            girth,
            need,
            say(
                "the {what} goes round {girth}, and a stride {words} {need}: it will hobble the wearer (a "
                "step of 0.41 of the stature, common practice)",
                what=step.what,
                girth=tape(girth),
                words=words,
                need=tape(need),
            ),
            say("make the {what} about {need} wider", what=step.what, need=about(need - girth)),
            wanted=situation("hem-hobbles", height=about(top - height)),
        ),
    )


def _judge_straight(body: Body, girth: float, height: float) -> tuple[Finding, ...]:
    """Tell of a straight skirt past the knee without a vent: it takes the wearer's longest steps (common practice)."""
    need, past = STRAIGHT * body["hip_girth"], body["knee_height"] - height
    if past <= PAST_KNEE or girth >= need:
        return ()
    sentence = say(
        "the hem goes round {girth} and hangs {past} below the knee, without a vent: a straight skirt past the knee "
        "wants a vent, or more width, to climb stairs and stride in",
        girth=tape(girth),
        past=tape(past),
    )
    remedy = say("make the hem about {wider} wider", wider=about(need - girth))
    wanted = situation("hem-hobbles", height=about(past))
    return (Finding("stride.straight", Severity.WARNING, "hem", girth, need, sentence, remedy, wanted=wanted),)


def _bands(garment: Garment, brief: Brief) -> Iterator[tuple[float, float]]:
    """How far a band at the hem goes round, stretched, and how far below the seam above it it ends (mm)."""
    for opening in openings(garment):
        uses = [use for use in opening.run if garment.line(use).role is Role.EDGE]
        if opening.name != "hem" or opening.hangs or len(uses) < len(opening.run):
            continue
        pieces = [garment.piece(use.piece) for use in uses]
        seams = [line.path for piece in pieces for line in piece.lines(role=Role.BAND)]
        if seams:
            parts = zip((garment.line(use).path.length for use in uses), pieces, strict=True)
            reach = math.fsum(part * (1.0 + stretch_of(brief.cloth_named(piece.cloth), piece)) for part, piece in parts)
            yield reach, min(path.nearest(garment.path(uses[0]).start)[1] for path in seams)


def _lines(garment: Garment, role: Role) -> Iterator[Line]:
    """The lines of a role at the lower edge of the surface: no facing's, and of no layer that hangs."""
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        if piece.face and piece.name not in hanging:
            yield from (line for line in piece.lines(role=role) if line.answers_to(f"hem-{line.side}") or line.opening)


def _vents(garment: Garment) -> Iterator[Line]:
    for role in (Role.SIDE, Role.CENTRE):
        yield from (line for line in _lines(garment, role) if line.fate is Fate.HEMMED and line.opening == "hem")
