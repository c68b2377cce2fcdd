"""What a change does to the aims: a measure that the maker has chosen to alter is proved against what was chosen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from drafting.garment.model import Garment


def shift_aim(garment: Garment, measure: str, by: float) -> Garment:
    """Return the garment with the ease of the aims for ``measure`` larger by ``by`` mm (unchanged if there is none)."""
    return replace(
        garment,
        aims=tuple(replace(aim, ease=aim.ease + by) if aim.measure == measure else aim for aim in garment.aims),
    )


def drop_aims(garment: Garment, measures: Iterable[str]) -> Garment:
    """Return the garment without the aims for these measures, as when the piece that shows one is gone."""
    gone = set(measures)
    return replace(garment, aims=tuple(aim for aim in garment.aims if aim.measure not in gone))
