"""Cut pieces made by hand for the tests of paper and output: an alto's concert top, invented figures (mm)."""

from __future__ import annotations

from collections.abc import Sequence

from drafting.finishing.cutpiece import CutEdge, CutPiece, Mark, Notch
from drafting.geometry import Path, Point

MARK = "K7QD"


def _line(*points: tuple[float, float]) -> Path:
    return Path.polyline([Point(*p) for p in points])


def _curve(*points: tuple[float, float]) -> Path:
    a, b, c, d = (Point(*p) for p in points)
    return Path.cubic(a, b, c, d)


def _piece(
    name: str,
    title: str,
    code: str,
    edges: Sequence[tuple[str, Path]],
    *,
    marks: Sequence[Mark] = (),
    notches: Sequence[Notch] = (),
    drills: Sequence[tuple[str, Point]] = (),
    quantity: int = 1,
    mirrored: int = 0,
    on_fold: bool = False,
    how: str = "cut 1, single layer, right side up",
    labels: Sequence[str] = (),
) -> CutPiece:
    outline = tuple(CutEdge(edge, path, edge, 10.0) for edge, path in edges)
    return CutPiece(
        name,
        title,
        code,
        outline,
        tuple(marks),
        tuple(notches),
        tuple(drills),
        quantity,
        mirrored,
        on_fold,
        how,
        (*labels, f"draft mark {MARK}"),
        "main",
        Point(0.0, 1.0),
        (name,),
    )


def _notch(x: float, y: float, ix: float, iy: float, count: int, seam: str) -> Notch:
    inward = Point(ix, iy).unit
    return Notch(Point(x, y), inward, count, Point(x, y) + inward * 10.0, seam)


def body(name: str, title: str, code: str, neck: float, back: bool) -> CutPiece:
    """Half a front or back, its centre on the fold at x = 0."""
    centre = 690.0 - neck
    edges = [
        ("hem", _line((0, 0), (285, 0))),
        ("side", _curve((285, 0), (278, 180), (278, 320), (285, 470))),
        ("armhole", _curve((285, 470), (225, 490), (205, 560), (210, 650))),
        ("shoulder", _line((210, 650), (80, 692))),
        ("neckline", _curve((80, 692), (78, centre + 25), (48, centre), (0, centre))),
        ("centre", _line((0, centre), (0, 0))),
    ]
    stitch = [
        Mark("stitch", "side", _curve((275, 10), (268, 180), (268, 320), (275, 463))),
        Mark("stitch", "armhole", _curve((275, 463), (215, 483), (195, 560), (200, 643))),
        Mark("stitch", "shoulder", _line((200, 643), (88, 679))),
        Mark("stitch", "neckline", _curve((88, 679), (84, centre + 15), (50, centre - 10), (0, centre - 10))),
        Mark("stitch", "hem", _line((0, 10), (275, 10))),
    ]
    marks = [
        *stitch,
        Mark("on-fold", "centre", edges[-1][1]),
        Mark("grain", "grain", _line((60, 60), (60, centre - 40))),
        Mark("stretch", "greatest stretch", _line((90, 210), (230, 210))),
        Mark("level", "bust", _line((0, 440), (276, 440))),
        Mark("level", "waist", _line((0, 250), (268, 250))),
        Mark("adjust", "lengthen or shorten here", _line((0, 330), (268, 330))),
        Mark("zone", "stay", _line((200, 643), (88, 679), (84, 667), (196, 631), (200, 643))),
    ]
    count = 2 if back else 1
    notches = [_notch(279.6, 250, -1, 0, count, "side"), _notch(215, 555, -1, 0.2, count, "armhole")]
    drills = [("bust point", Point(95, 430))] if not back else []
    return _piece(
        name, title, code, edges, marks=marks, notches=notches, drills=drills, on_fold=True,
        how="cut 1 on the fold, right side up", labels=("seam allowance 10 mm included",),
    )  # fmt: skip


def sleeve() -> CutPiece:
    """A sleeve, cut twice, once turned over."""
    edges = [
        ("wrist", _line((95, 0), (305, 0))),
        ("underarm-front", _line((305, 0), (400, 500))),
        ("cap-front", _curve((400, 500), (330, 500), (290, 650), (200, 650))),
        ("cap-back", _curve((200, 650), (110, 650), (70, 500), (0, 500))),
        ("underarm-back", _line((0, 500), (95, 0))),
    ]
    marks = [
        Mark("stitch", "underarm-front", _line((295, 10), (388, 492))),
        Mark("stitch", "cap-front", _curve((388, 492), (325, 492), (285, 640), (200, 640))),
        Mark("stitch", "cap-back", _curve((200, 640), (115, 640), (75, 492), (12, 492))),
        Mark("stitch", "underarm-back", _line((12, 492), (105, 10))),
        Mark("stitch", "wrist", _line((105, 10), (295, 10))),
        Mark("grain", "grain", _line((200, 40), (200, 600))),
        Mark("stretch", "greatest stretch", _line((120, 180), (280, 180))),
        Mark("level", "upper arm", _line((12, 492), (388, 492))),
        Mark("adjust", "lengthen or shorten here", _line((52, 290), (350, 290))),
    ]
    notches = [
        _notch(200, 650, 0, -1, 1, "sleeve"),
        _notch(300, 574, -0.8, -0.6, 1, "sleeve"),
        _notch(100, 574, 0.8, -0.6, 2, "sleeve"),
    ]
    return _piece(
        "sleeve", "Sleeve", "C", edges, marks=marks, notches=notches, quantity=2, mirrored=1,
        how="cut 2, one mirrored", labels=("seam allowance 10 mm included",),
    )  # fmt: skip


def band(name: str, title: str, code: str, width: float, height: float, quantity: int = 1) -> CutPiece:
    """A straight band; its stretch runs along it."""
    edges = [
        ("edge", _line((0, 0), (width, 0))),
        ("end-right", _line((width, 0), (width, height))),
        ("seam", _line((width, height), (0, height))),
        ("end-left", _line((0, height), (0, 0))),
    ]
    right, top = width - 10, height - 10
    marks = [
        Mark("stitch", "stitch", _line((10, 10), (right, 10), (right, top), (10, top), (10, 10))),
        Mark("fold", "fold", _line((0, height / 2), (width, height / 2))),
        Mark("stretch", "greatest stretch", _line((width * 0.7, height * 0.3), (width * 0.9, height * 0.3))),
        Mark("grain", "grain", _line((width * 0.6, 12), (width * 0.6, height - 12))),
    ]
    notches = [_notch(width / 4, height, 0, -1, 1, "seam"), _notch(width * 3 / 4, height, 0, -1, 2, "seam")]
    return _piece(name, title, code, edges, marks=marks, notches=notches, quantity=quantity, how=f"cut {quantity}")


def top() -> tuple[CutPiece, ...]:
    """The whole top: seven pieces, eight prints' worth of labels."""
    return (
        body("front", "Front", "A", 90.0, back=False),
        body("back", "Back", "B", 20.0, back=True),
        sleeve(),
        band("cuff-left", "Cuff, left", "D", 120.0, 230.0),
        band("cuff-right", "Cuff, right", "E", 120.0, 230.0),
        band("neck-band", "Neck band", "F", 450.0, 50.0),
        band("hem-band", "Hem band", "G", 900.0, 140.0),
    )
