"""A neck that is opened or scooped: of a woven how near it comes to the back's shoulder dart, and whether it gapes.

figure                                             usual            source
neck edge to the dart in the back's shoulder       at least 3 cm    from memory
front neck below the neck base, nothing taken out  up to 5 cm       from memory, deeper it gapes by 0.5 to 1 cm
a knit's neck below it, front and back together    up to 20 cm      from memory, of front and back one holds it on
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import Kind
from drafting.garment import Brief, Face, Garment, Piece, Role, hanging_pieces
from drafting.garment.darts import Dart, darts_of, mouth_edges
from drafting.garment.ruled import NECKLINE_DROP, list_ruled
from drafting.mending import situation
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import say
from drafting.trade import TradeValue, trade_row

CLEAR_OF_NECK = TradeValue(30.0, "mm", "from memory")
"""Along the shoulder at least from the neck edge to the back's dart, for both to lie flat and be faced."""

DEEP_UNSHAPED = TradeValue(50.0, "mm", "from memory", "0.5 to 1 cm is taken out of a deeper one")
"""Below the neck base that a woven's front neck may lie, nothing taken out against gaping."""

DEEP_BOTH, SLIPS = trade_row((200.0, 220.0), "mm", "from memory", "of a deep front and a deep back one is kept higher")
"""Below the neck base that a knit's neck may lie in front and behind together, to stay on the shoulders, and before it
is warned of."""


def scooped_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How near a back's shoulder darts lie to the neck edge, how deep a front neck is that may gape, or slip off."""
    if brief.cloth.kind is not Kind.WOVEN:
        yield from _tell_slipping(garment)
        return
    hanging = hanging_pieces(garment)
    for piece in garment.pieces:
        if piece.face is Face.BACK and piece.name not in hanging:
            for dart in darts_of(piece):
                if not dart.inside and mouth_edges(piece, dart)[0].role is Role.SHOULDER:
                    yield from _clear(piece, dart)
    drop = max((fact.value for fact in list_ruled(garment, NECKLINE_DROP, Face.FRONT.value)), default=None)
    if drop is not None:
        yield FitRow(
            "neck_gapes",
            "neck",
            "front neck below the neck base, nothing taken out against gaping",
            0.0,
            drop,
            most=DEEP_UNSHAPED,
            severity=Severity.NOTE,
            remedy="hold its edge with tape when you sew it, and pin out on the toile what gapes, 0.5 to 1 cm is usual",
            of_body=False,
        )


def _tell_slipping(garment: Garment) -> Iterator[FitRow]:
    """How deep a neck is in front and behind together: no shoulder holds what is open far down on both."""
    lowest = {
        face: min((line.path.bounds[1] for piece in garment.pieces if piece.face is face
                   for line in piece.lines(role=Role.NECKLINE)), default=None)
        for face in (Face.FRONT, Face.BACK)
    }  # fmt: skip
    front, back = lowest[Face.FRONT], lowest[Face.BACK]
    if garment.neck_base is None or front is None or back is None:
        return
    deep = garment.neck_base.front - front - back
    yield FitRow(
        "neck_slips",
        "neck",
        "neck below the neck base, front and back together",
        0.0,
        deep,
        most=DEEP_BOTH,
        severity=Severity.WARNING if deep > SLIPS else Severity.NOTE,
        remedy="it may slip off a shoulder: keep the front or the back higher, or sew a narrow tape across the back, "
        "from shoulder to shoulder",
        of_body=False,
    )


def _clear(piece: Piece, dart: Dart) -> Iterator[FitRow]:
    """How far a shoulder's dart lies from the neck edge."""
    necks = [line.path for line in piece.lines(role=Role.NECKLINE) if dart.side in ("", line.side)]
    ends = [end for path in necks for end in (path.start, path.end)]
    if not ends:
        return
    yield FitRow(
        "neck_to_dart",
        f"{piece.name}.{dart.name}",
        say("{side} back shoulder dart, from the neck edge", side=dart.side),
        0.0,
        min(mouth.distance(end) for mouth in (dart.mouth_a, dart.mouth_b) for end in ends),
        least=CLEAR_OF_NECK,
        severity=Severity.NOTE,
        remedy="open the neck less",
        wanted=situation("neck-near-dart"),
        of_body=False,
    )
