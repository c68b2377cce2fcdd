"""Cloth laid at an angle to its grain: how far it stretches round the body and along it."""

from __future__ import annotations

import math
from dataclasses import replace

from drafting.cloth.cloth import Cloth, Kind
from drafting.cloth.serve import LEAST_KNIT_STRETCH
from drafting.trade import TradeValue

WOVEN_BIAS = TradeValue(0.12, "share", "from memory", "plain weaves give by shear where they hardly stretch straight")
"""Of stretch on the true bias of a woven that wasn't measured so."""


def bias_stretch(cloth: Cloth) -> float:
    """Return the stretch on the true bias (a share), as measured, or else estimated.

    A knit's is about the mean of both ways; a woven gives at least ``WOVEN_BIAS`` by shear (from memory).
    """
    if cloth.stretch_bias is not None:
        return cloth.stretch_bias
    mean = (cloth.stretch_across + cloth.stretch_along) / 2.0
    return max(mean, WOVEN_BIAS) if cloth.kind is Kind.WOVEN else mean


def stretch_at(cloth: Cloth, angle: float) -> float:
    """Return the stretch (a share) at ``angle`` (rad) from the way across, selvedge to selvedge.

    Stretch at one pull is a compliance, and turns as that of an orthotropic sheet does: S(a) = S1 cos^4 a +
    (2 S12 + S66) sin^2 a cos^2 a + S2 sin^4 a (textbook elasticity of laminae); the middle term is what the bias has.

    >>> round(stretch_at(Cloth(stretch_across=0.5, stretch_along=0.1), math.pi / 4.0), 9)
    0.3
    """
    c, s = math.cos(angle) ** 2, math.sin(angle) ** 2
    between = 4.0 * bias_stretch(cloth) - cloth.stretch_across - cloth.stretch_along
    return max(0.0, cloth.stretch_across * c * c + between * s * c + cloth.stretch_along * s * s)


def lies_crosswise(cloth: Cloth) -> bool:
    """Tell whether pieces lie crosswise on a knit unless a ticket says otherwise, so that it stretches round the body.

    One that stretches too little across for a knit design, and enough along (common practice: the greater stretch goes
    round the body).
    """
    return cloth.kind is Kind.KNIT and cloth.stretch_across < LEAST_KNIT_STRETCH <= cloth.stretch_along


def turn_cloth(cloth: Cloth, *angles: float) -> Cloth:
    """Return the cloth as a wearer meets it round the body in pieces whose grain stands at these angles (rad).

    Pieces beside each other round the body take the same pull and add what each gives: their mean counts. Without an
    angle it is the same cloth.
    """
    if not any(angles):
        return cloth
    across = math.fsum(stretch_at(cloth, angle) for angle in angles) / len(angles)
    along = math.fsum(stretch_at(cloth, angle + math.pi / 2.0) for angle in angles) / len(angles)
    return replace(cloth, stretch_across=across, stretch_along=along, stretch_bias=None)
