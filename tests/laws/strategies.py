"""Bodies, cloths, fits, and changes with any options that they say they take."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from hypothesis import strategies as st

from drafting.body import Body, make_body
from drafting.cloth import Cloth, Fit, Kind
from drafting.garment import Brief, OptionInfo, Step
from drafting.garment.step import options_of
from tests.body.people import GROUPS, people
from tests.garments import SINGERS, singer
from tests.laws.jobs import catalogue

Made = tuple[str, Mapping[str, Any]]
"""A change by name, and its options in inside units."""

STEPS = {name: catalogue().change(name, name) for name in sorted(catalogue().changes)}
WOVENS = ("fitted-bodice", "princess-top", "sheath-dress", "waist-seam-dress")
DESIGNS = tuple(sorted(set(catalogue().designs) - set(WOVENS)))
"""The designs in knits; those in wovens are drafted in woven cloths."""

KNIT = {"kind": Kind.KNIT, "recovery": 0.95, "elastane": True, "width": 1500.0}
CLOTHS = tuple(
    Cloth(name, stretch_across=across, stretch_along=along, **KNIT)
    for name, across, along in (("jersey", 0.30, 0.15), ("steady jersey", 0.20, 0.10), ("two-way", 0.60, 0.50))
)
TRIMS = tuple(
    Cloth(name, stretch_across=across, stretch_along=0.20, **KNIT)
    for name, across in (("rib", 0.80), ("firm rib", 0.40), ("soft rib", 1.00))
)
WOVEN_CLOTHS = (
    Cloth("cotton", Kind.WOVEN, stretch_across=0.0, width=1500.0),
    Cloth("stretch cotton", Kind.WOVEN, stretch_across=0.04, width=1400.0),
)


DARTED = tuple(name for name in STEPS if "dart" in name)
"""The changes that need a dart, which no knit has."""

ASKED = {
    "lengthen": ("by",),
    "neckline": ("front_depth",),
    "shoulder": ("narrow",),
    "sleeve-fullness": ("width",),
    "sleeve-length": ("by",),
    "underarm": ("by",),
}
"""What is always told, of changes that ask for nothing by themselves."""

PLACES = ("shoulder 0.5", "neckline 0.6", "armhole 0.3", "side 0.2", "side 0.5", "hem 0.5", "side waist", "sleeve 2")
TEXTS = {"start": PLACES, "end": PLACES, "name": ("panel",), "at": ("neckline", "panel", "side")}
"""What else may stand for options that are told in words, by their names; some of it is nonsense."""


@cache
def surveyed(group: str, row: int) -> Body:
    """A person of a survey, by group and row counted from 1."""
    return make_body(f"{group}, row {row}", people(group)[row - 1], rules=GROUPS[group])


def bodies() -> st.SearchStrategy[Body]:
    """The choir's singers, and people of the surveys."""
    rows = st.sampled_from(sorted(GROUPS)).flatmap(
        lambda group: st.integers(1, len(people(group))).map(lambda row: surveyed(group, row))
    )
    return st.one_of(st.sampled_from(sorted(SINGERS)).map(singer), rows)


def briefs() -> st.SearchStrategy[Brief]:
    """Any body in any knits and any fit."""
    return st.builds(
        lambda body, cloth, rib, fit: Brief(body, cloth, fit, {"rib": rib}),
        bodies(),
        st.sampled_from(CLOTHS),
        st.sampled_from(TRIMS),
        st.sampled_from(list(Fit)),
    )


def woven_briefs() -> st.SearchStrategy[Brief]:
    """Any body in any woven cloth, as fitted as a darted block is."""
    cloths, fits = st.sampled_from(WOVEN_CLOTHS), st.sampled_from((Fit.CLOSE, Fit.SEMI))
    return st.builds(lambda body, cloth, fit: Brief(body, cloth, fit, {"rib": cloth}), bodies(), cloths, fits)


def option_values(info: OptionInfo) -> st.SearchStrategy[Any]:
    """What may stand for an option: near its default, and anywhere in its range."""
    if info.unit == "choice":
        return st.sampled_from(info.choices)
    if info.unit == "flag":
        return st.booleans()
    if info.unit == "text":
        return st.sampled_from((info.default, *TEXTS.get(info.name, ())))
    low, high = info.low, info.high
    assert low is not None, f"{info.name} has no lower bound"
    assert high is not None, f"{info.name} has no upper bound"
    if info.unit == "count":
        return st.integers(int(low), int(high))
    start = float(info.default) if isinstance(info.default, int | float) else min(max(0.0, low), high)
    reach = 0.15 * (high - low)
    wide = st.floats(low, high, allow_nan=False)
    near = st.floats(max(low, start - reach), min(high, start + reach))
    return st.one_of(near, near, wide)


def changes(*names: str) -> st.SearchStrategy[Made]:
    """One of the changes named, or of all there are, with some of its options told."""
    return st.sampled_from(names or tuple(STEPS)).flatmap(_made)


def _made(name: str) -> st.SearchStrategy[Made]:
    step: Step[Any] = STEPS[name]
    told = {info.name: option_values(info) for info in options_of(step.options)}
    asked = {key: told.pop(key) for key in ASKED.get(name, ())}
    return st.fixed_dictionaries(asked, optional=told).map(lambda options: (name, options))


def stacks(most: int = 4, least: int = 0, among: tuple[str, ...] = ()) -> st.SearchStrategy[list[Made]]:
    """From ``least`` to so many changes, in any order; of those named, or of all there are."""
    return st.lists(changes(*among), min_size=least, max_size=most)
