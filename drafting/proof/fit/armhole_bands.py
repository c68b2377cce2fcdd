"""The bands on armholes beside their edges: as long as is usual, so that their folded edges lie on the body.

figure                        usual                                          source
band, share of its armhole    0.80 to 0.88 in a rib; what lies flat on its   facts of the cloth, by its
                              curve, longer where its cloth gives less       stretch; from memory
"""

from __future__ import annotations

from collections.abc import Iterator

from drafting.cloth import usual_shares
from drafting.garment import Brief, Garment
from drafting.proof.checks.bands import SewnBand, rule_of, sewn_bands
from drafting.proof.finding import Severity
from drafting.proof.fit.row import FitRow
from drafting.saying import Words, say
from drafting.trade import TradeValue

SHORTER_YET = TradeValue(0.05, "share", "from memory", "rib 0.75 to 0.80 at a neck, an armhole's 0.05 more")
"""Of its armhole by which a band may be shorter than usual, untold: what puckers its edge is told elsewhere."""


def armhole_band_rows(garment: Garment, brief: Brief) -> Iterator[FitRow]:
    """How long each armhole's band is beside its armhole."""
    for seam in garment.seams:
        if not seam.binds and len(seam.sections) == 1 and rule_of(garment, seam) == "armhole":
            for sewn in sewn_bands(garment, brief, seam):
                yield _judge_share(sewn, seam.name, seam.title or seam.name)


def _judge_share(sewn: SewnBand, place: str, title: Words) -> FitRow:
    least, most = usual_shares("armhole", sewn.edge, sewn.turning, sewn.width, sewn.cloth.working_stretch)
    share = sewn.band / sewn.edge
    usual = min(max(share, least), most)
    return FitRow(
        "armhole_band",
        place,
        say("{title}, share of its armhole", title=title),
        usual,
        share,
        least=least - SHORTER_YET - usual,
        most=most - usual,
        measure="share",
        severity=Severity.WARNING,
        remedy="lower the underarm or cut the armhole farther in, or give the band a share of its own"
        if share > most
        else "give the band another share of its armhole",
        of_body=False,
    )
