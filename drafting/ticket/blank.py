"""A ticket to fill in: every measurement a design needs with how it is taken, and the choices there are."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from drafting.body import Measurement, measurements
from drafting.cloth import home_method
from drafting.garment import Stage
from drafting.paper import PAPERS
from drafting.record import dataclass
from drafting.text import KEPT, keep_figures
from drafting.ticket.catalogue import Catalogue
from drafting.ticket.compose import plan_design
from drafting.ticket.inherit import inherit
from drafting.ticket.keys import FIT
from drafting.ticket.layers import read_layers
from drafting.ticket.tree import Layer, Tree, find_table, find_value
from drafting.units import Unit

WIDTH = 100
"""How long a remark's lines are."""
BESIDE_STEPS = ("stature", "head_girth", "hand_girth")
"""Measurements no block asks for, yet worth taking: estimates follow stature, and openings must pass head and hand."""


def blank_ticket(catalogue: Catalogue, design: str, *, unit: Unit = "cm", fit: str = "") -> str:
    """Return the text of a ticket that builds on a design, to be filled in; InputError if there is no such design.

    What the design says of fit and cloth stands there as it says it, so that filling the ticket in changes nothing
    of the design; ``fit``, if it isn't empty, stands over the design's.
    """
    layers = read_layers(catalogue.design(design, "--design"), catalogue)
    tree = inherit(layers, catalogue.fits_body, []).tree
    lines = [
        *_head_lines(catalogue, layers[-1], design, unit, fit or _told_text(tree, FIT.name) or str(FIT.default)),
        *_wearer(_find_needed(catalogue, layers), unit),
        *_cloth_lines(find_table(tree, "cloth"), unit, tuple(_find_edges(catalogue, layers))),
        *_rest(design, unit),
    ]
    return "\n".join(lines) + "\n"


def _find_edges(catalogue: Catalogue, layers: Iterable[Layer]) -> Iterator[str]:
    """The labels of the blocks that are sewn to edges: bands, bindings, cuffs."""
    for planned in plan_design(layers, catalogue):
        if planned.step.stage is Stage.EDGE:
            yield planned.label


def _told_text(tree: Tree, key: str) -> str:
    found = find_value(tree, key)
    return found.value if found is not None and isinstance(found.value, str) else ""


def _find_needed(catalogue: Catalogue, layers: Iterable[Layer]) -> tuple[Measurement, ...]:
    """Return what must be measured for anything, or is asked for by a step of the design, in the order of measuring."""
    asked = {*BESIDE_STEPS, *(name for each in plan_design(layers, catalogue) for name in each.step.needs)}
    return tuple(
        each
        for each in measurements().values()
        if each.needed or each.name in asked or (each.both and each.both in asked)
    )


def _head_lines(catalogue: Catalogue, layer: Layer, design: str, unit: Unit, fit: str) -> Iterator[str]:
    yield "# A ticket: one person, one cloth, one design. Fill in what stands empty, then:  blockwright make THIS-FILE"
    yield '# Text after a # is a remark. A measure may carry its own unit: "96 cm", "960 mm", "37 3/4 in".'
    yield ""
    yield f"title = {_quote_text(str(layer.tables.get('title', design)))}"
    yield f"builds_on = {_quote_text(design)}{_or(sorted(catalogue.designs), design)}"
    yield f"unit = {_quote_text(unit)}{_or(['cm', 'mm', 'in'], unit, 'plain numbers are in this unit; or')}"
    yield f"fit = {_quote_text(fit)}{_or(FIT.choices, fit)}"


def _wearer(needed: tuple[Measurement, ...], unit: Unit) -> Iterator[str]:
    yield ""
    yield "[wearer]"
    yield 'name = ""  # printed on the pattern'
    yield 'averages = "women"  # or "men": whose averages stand in for measurements that are not taken'
    yield ""
    yield "[wearer.body]"
    yield from _remarks(
        "Measure over the underwear that will be worn, the tape level and close but not tight. Someone else with the "
        "tape gets truer figures."
    )
    for each in needed:
        if each.needed:
            yield from _measurement(each, unit, "")
    yield ""
    yield from _remarks(
        "The rest is estimated where it isn't given, by rules that the proof states. Each one taken betters the fit: "
        "take away the # before it and fill it in."
    )
    for each in needed:
        if not each.needed:
            yield from _measurement(each, unit, "# ")


def _measurement(each: Measurement, unit: Unit, before: str) -> Iterator[str]:
    yield ""
    sentence = each.sentence
    yield from _remarks(f"{each.title}: {sentence} ({each.show_range(unit)})")
    yield f'{before}{each.name} = ""'


def _cloth_lines(design: Tree, unit: Unit, edges: Iterable[str]) -> Iterator[str]:
    """The cloth: of the design's own kind, and what the design says of it as remarks."""
    kind = _told_text(design, "kind") or "knit"
    yield ""
    yield "[cloth]"
    yield 'name = ""  # such as "blue cotton jersey"' if kind == "knit" else 'name = ""  # such as "white cotton lawn"'
    yield f"kind = {_quote_text(kind)}{_or(['knit', 'woven'], kind)}"
    yield from _remarks(home_method(unit))
    stretch = _told_text(design, "stretch_across")
    if stretch or kind == "woven":
        yield f"# stretch_across = {_quote_text(stretch or '0 %')}  # as the design has it, if you leave it so"
    else:
        yield 'stretch_across = ""  # such as "30 %"'
    if kind == "knit":
        yield '# stretch_along = "10 %"'
        yield '# recovery = "95 %"  # 100 % if it returns to its length, 95 % if it stays 5 % longer'
        yield "# elastane = true"
    yield f"width = {_quote_text(_USUAL[unit].width)}"
    yield "# All keys: blockwright list cloth"
    if kind == "knit" and edges:
        yield ""
        yield "# Another cloth for what is named in cut, such as a rib. Take away each # to use it."
        yield "# [cloths.rib]"
        yield f"# cut = [{', '.join(map(_quote_text, edges))}]"
        yield '# stretch_across = "70 %"'


def _rest(design: str, unit: Unit) -> Iterator[str]:
    usual = _USUAL[unit]
    yield ""
    yield from _remarks(
        "Another version is a ticket of its own that states what differs: builds_on names this file, leave_out what "
        "isn't wanted of it, and same_person = true under [wearer] stands beside what is measured again."
    )
    yield ""
    yield f"# The design's blocks and options:  blockwright list designs {design};  blockwright list blocks"
    yield ""
    yield "# [seams]"
    yield f"# side = {_quote_text(usual.seam)}  # an allowance; all kinds: blockwright list seams"
    yield f"# hem_depth = {_quote_text(usual.hem)}"
    yield ""
    yield "[paper]"
    others = _or([paper.name for paper in PAPERS], usual.paper)
    yield f"size = {_quote_text(usual.paper)}{others}, or a size such as {_quote_text(usual.size)}"


@dataclass(frozen=True, slots=True)
class _UsualFigures:
    """Round figures that are usual where a unit is: cloth's width, an allowance, a hem, the paper, a size of paper."""

    width: str
    seam: str
    hem: str
    paper: str
    size: str


_USUAL: Mapping[Unit, _UsualFigures] = MappingProxyType(
    {
        "cm": _UsualFigures("150 cm", "1 cm", "2.5 cm", "A4", "60 x 90 cm"),
        "mm": _UsualFigures("1500 mm", "10 mm", "25 mm", "A4", "600 x 900 mm"),
        "in": _UsualFigures("60 in", "1/2 in", "1 in", "US Letter", "24 x 36 in"),
    }
)


def _remarks(text: str) -> Iterator[str]:
    for line in textwrap.wrap(keep_figures(text), WIDTH):
        yield f"# {line.replace(KEPT, ' ')}"


def _or(all_of_them: Iterable[str], but: str, words: str = "or") -> str:
    others = ", ".join(_quote_text(each) for each in all_of_them if each != but)
    return f"  # {words} {others}" if others else ""


def _quote_text(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
