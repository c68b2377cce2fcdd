"""The kinds of seam that many blocks and changes share; what only one of them makes, it brings itself.

Allowances on the paper are those of the ticket; labels are what they are called on a piece.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from drafting.garment import LOCKSTITCH, Seam, SeamKind, Section, Use
from drafting.garment.darts import Dart
from drafting.saying import Words
from drafting.work.banding import tell_band
from drafting.work.seam_words import tell_armhole, tell_darts, tell_plain, tell_shoulder, tell_side, tell_style
from drafting.work.telling import TO_THE_BACK

DART: Final = SeamKind(
    "dart", "darts", tell_darts, label="darts", stitch=LOCKSTITCH, turn=0, notched=False, together=True
)  # fmt: skip
"""The two legs of a dart, sewn by lockstitch (common practice)."""

STYLE: Final = SeamKind(
    "style",
    "seams that the design draws across the garment or down its centre",
    tell_style,
    label="style lines",
    turn=1,
    stripes=2,
)
"""A seam that the design draws."""

CENTRE: Final = replace(STYLE, label="centre seam")
"""One down the centre of the front or the back: a seam of the design's, with its allowance."""

SHOULDER: Final = SeamKind(
    "shoulder", "shoulder seams", tell_shoulder, label="shoulders", press=TO_THE_BACK, turn=4, long=True
)  # fmt: skip
"""Front to back over the shoulder."""

SIDE: Final = SeamKind(
    "side", "side and underarm seams", tell_side, label="side seams", press=TO_THE_BACK, long=True, stripes=0
)
"""Front to back down the side, and along a sleeve's underarm."""

ARMHOLE: Final = SeamKind(
    "armhole", "seams of sleeves to armholes", tell_armhole, label="armholes",
    turn=7, long=True, stripes=3, at_notch=True, takes_up="armhole",
)  # fmt: skip
"""A sleeve's cap to its armhole."""

BAND: Final = SeamKind("band", "seams of other bands", tell_band, label="bands", turn=8, by_edge=True)
"""A folded band on an edge, where it has no kind of its own."""

ENDS: Final = SeamKind(
    "end", "the short seams that join the ends of bands and cuffs into a ring", tell_plain,
    label="short ends", notched=False, readies=True,
)  # fmt: skip
"""The ends of a band, cuff or facing, joined to a ring."""

MITRE: Final = SeamKind(
    "mitre", "the mitres at the corners of a band", tell_plain,
    label="mitres", notched=False, readies=True, mitred=True,
)  # fmt: skip
"""Two strips of a band, joined where its edge turns a corner."""

SHARED: Final = (DART, STYLE, SHOULDER, SIDE, ARMHOLE, BAND, ENDS, MITRE)
"""The kinds above: a ticket may name them whether or not its blocks make any."""


def sew_dart(dart: Dart, title: Words = "") -> Seam:
    """Return the seam that closes a dart: leg on leg, each from the mouth (or the upper point) on."""
    sections = tuple(
        Section(
            (tuple(Use(dart.piece, ln.name) for ln in one), tuple(Use(dart.piece, ln.name, True) for ln in two[::-1])),
            (0.0, 0.0),
        )
        for one, two in dart.pairs
    )
    return Seam(dart.seam, DART, title or dart.title, sections)
