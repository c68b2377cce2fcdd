"""From a ticket's file to a job: everything read, everything found, all that is wrong told at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from drafting.cloth import Cloth, Fit, Kind
from drafting.errors import InputError, Problem
from drafting.finishing import FinishPlan, hem_shortage, usual_hem
from drafting.finishing.plan import KNIT_ALLOWANCE, set_to_tape
from drafting.garment import Role, SeamKind
from drafting.garment.model import MAIN_CLOTH
from drafting.garment.step import Brief, OptionInfo, Step, options_of
from drafting.paper import Join, Orientation, PaperPlan, WidePaper, paper_named, wide_paper_named
from drafting.saying import render
from drafting.text import show_read
from drafting.ticket.catalogue import Catalogue
from drafting.ticket.cloths import read_cloth, read_cloths
from drafting.ticket.grain import read_grain
from drafting.ticket.inherit import Inherited, inherit
from drafting.ticket.job import Job, Planned
from drafting.ticket.keys import FIT, PAPER_KEYS, SEAM_KEYS, seam_keys
from drafting.ticket.layers import read_layers
from drafting.ticket.mark import mark_job
from drafting.ticket.parts import tell_doubles
from drafting.ticket.printer import read_corrections
from drafting.ticket.tree import Layer, TicketValue, Tree, find_table, find_value, said_in
from drafting.ticket.values import read_value, read_values
from drafting.ticket.wearer import body_sources, read_wearer
from drafting.trade import TradeValue
from drafting.units import Unit
from drafting.work.kinds import SHARED

MOST_STEPS = 60
"""How many blocks and changes a ticket may ask for: each takes some 20 to 40 ms to draft, and a full ticket has 15."""


def read_job(
    path: Path, catalogue: Catalogue, *, paper: Mapping[str, str] = MappingProxyType({}), folders: Iterable[Path] = ()
) -> Job:
    """Read a ticket whole; ``paper`` stands over what it says under [paper], by the key.

    It builds on files in its own folder, or below it, or in ``folders``.

    InputError carries every problem found, each with the file and key where it stands.
    """
    layers = read_layers(path, catalogue, folders)
    top = layers[-1]
    problems: list[Problem] = []
    inherited = inherit(layers, catalogue.fits_body, problems)
    tree = inherited.tree
    if paper:
        said = {key: TicketValue(text, _OPTIONS[key], top.unit) for key, text in paper.items()}
        tree = {**tree, "paper": {**find_table(tree, "paper"), **said}}
    steps = list(_plan_steps(inherited, catalogue, top, problems))
    problems += tell_doubles(steps)
    cloth = read_cloth(find_table(tree, "cloth"), ("cloth",), top, problems)
    cloths, cut_from = read_cloths(tree, top, problems)
    grain = read_grain(tree, top, problems)
    fit = _read_one(FIT, find_value(tree, "fit"), problems)
    body = read_wearer(inherited, top, problems)
    finish = _read_finish(tree, top, _find_kinds(tree, steps, catalogue), problems)
    plan = _read_paper(tree, top, problems)
    shop = _read_copy_shop(find_value(find_table(tree, "paper"), "copy_shop"), top, problems)
    if problems or body is None or cloth is None or plan is None:
        raise InputError(problems)
    job = Job(
        title=_words(tree, "title") or "Untitled",
        wearer=_words(find_table(tree, "wearer"), "name"),
        unit=top.unit,
        brief=Brief(body, cloth, Fit(str(fit)), cloths, lengthened=_find_lengthened(steps)),
        steps=tuple(sorted(steps, key=lambda each: each.step.stage)),
        finish=replace(
            finish,
            hem_depth=finish.hem_depth if find_value(find_table(tree, "seams"), "hem_depth") else usual_hem(cloth.kind),
            hem_shortage=hem_shortage(cloth.stretch_round),
            still=tuple(name for name, each in {MAIN_CLOTH: cloth, **cloths}.items() if _is_still(each)),
        ),
        paper=plan,
        copy_shop=shop,
        projector=_words(find_table(tree, "paper"), "projector") or "none",
        mark="",
        checks=catalogue.all_checks(),
        advisor=catalogue.find_mends,
        sources=body_sources(inherited),
        cut_from=cut_from,
        grain=grain,
        known_blocks=(*catalogue.blocks, *_labels(layers)),
        said=said_in({key: value for key, value in tree.items() if key != "blocks"}),
    )
    return mark_job(job)


def _find_lengthened(steps: Iterable[Planned]) -> Mapping[Role, float]:
    """By how much (mm) edges of a role are lengthened by what steps sew to them."""
    told = ((info, planned.options) for planned in steps for info in planned.step.told().values() if info.lengthens)
    return {info.lengthens: getattr(options, info.name) for info, options in told if info.lengthens}


def _labels(layers: Iterable[Layer]) -> Iterator[str]:
    """What any of the files calls a block, whether or not a later one leaves it out."""
    for layer in layers:
        yield from find_table(layer.tree(), "blocks")


_OPTIONS = {"size": "--paper", "copy_shop": "--copy-shop", "projector": "--projector"}
"""What the keys of [paper] are called on the command line."""


def plan_design(layers: Iterable[Layer], catalogue: Catalogue) -> tuple[Planned, ...]:
    """Return the blocks and changes that a design asks for, in their order; InputError if one isn't known."""
    layers = tuple(layers)
    problems: list[Problem] = []
    found = inherit(layers, catalogue.fits_body, problems)
    planned = tuple(_plan_steps(found, catalogue, layers[-1], problems))
    if problems:
        raise InputError(problems)
    return planned


def _plan_steps(found: Inherited, catalogue: Catalogue, top: Layer, problems: list[Problem]) -> Iterator[Planned]:
    """Find every block and change the ticket asks for, in its order."""
    blocks, below = (find_table(tree, "blocks") for tree in (found.tree, found.below.tree))
    if len(blocks) + len(found.changes) > MOST_STEPS:
        problems.append(_too_many(len(blocks), len(found.changes), top))
        return
    for label, asked in blocks.items():
        assert not isinstance(asked, TicketValue)
        name = f"blocks.{label}" if label in below else ""
        yield from _step(label, asked, "block", top.where("blocks", label), catalogue, problems, name)
    if not blocks:
        named = ", ".join(catalogue.designs)
        mend = f"build on a design ({named}), or name blocks" if named else "name blocks"
        problems.append(Problem(top.where("blocks"), "there is nothing to draft", "", mend))
    names = dict(found.leaving())
    for place, asked in found.changes:
        yield from _step("", asked, "change", place, catalogue, problems, names.get(place, ""))


def _too_many(blocks: int, changes: int, top: Layer) -> Problem:
    return Problem(
        top.where("changes" if changes > blocks else "blocks"),
        f"{blocks} blocks and {changes} changes, with those of what it builds on",
        f"{MOST_STEPS} at most",
        "take out what isn't needed; several changes of one kind are often one with a larger figure",
    )


def _step(
    label: str, asked: Tree, kind: str, place: str, catalogue: Catalogue, problems: list[Problem], left_out_as: str
) -> Iterator[Planned]:
    """Find one block or change and read its options; whatever is wrong is added to ``problems``."""
    named = find_value(asked, kind)
    name = label if named is None else named.value
    where = place if named is None else named.where
    if not isinstance(name, str) or not name:
        problems.append(
            Problem(where, f"no {kind} is named", f'{kind} = "…"', f"blockwright list {kind}s tells their names")
        )
        return
    try:
        step = catalogue.block(name, where) if kind == "block" else catalogue.change(name, where)
        before = len(problems)
        owner = f"the {kind} {show_read(name)}"
        values = read_values(asked, options_of(step.options), problems, beside=(kind,), owner=owner)
        said = tuple((path[-1], at) for path, at in said_in(asked))
        if len(problems) == before:
            yield Planned(label or name, step, _options(step, values, where), where, left_out_as, said)
    except InputError as error:
        problems.extend(error.problems)


def _options(step: Step[Any], values: dict[str, Any], where: str) -> object:
    try:
        return step.options(**values)
    except InputError:
        raise
    except ValueError as error:
        raise InputError([Problem(where, f"these options don't go together: {error}")]) from None


STILL_WOVEN = TradeValue(0.10, "share", "from memory")
"""Of stretch of a woven from which its greatest stretch is worth a sign on the paper."""


def _is_still(cloth: Cloth) -> bool:
    if cloth.kind is Kind.KNIT:
        return cloth.stretch_along > cloth.stretch_across
    return cloth.stretch_round < STILL_WOVEN


def _find_kinds(tree: Tree, steps: Iterable[Planned], catalogue: Catalogue) -> tuple[SeamKind, ...]:
    """The kinds of seam that ``[seams]`` may name; not all blocks are loaded where the design's own are enough."""
    own = (*SHARED, *(kind for each in steps for kind in each.step.kinds))
    known = {*(kind.name for kind in own), *(key.name for key in SEAM_KEYS)}
    return own if known.issuperset(find_table(tree, "seams")) else catalogue.kinds()


def _set_to_tape(tree: Tree, values: Mapping[str, Any], unit: Unit) -> dict[str, Any]:
    """Those of a catalogue's design, rounded to what the tape has; what the maker's own files say stays as it is."""
    out = dict(values)
    for name, value in values.items():
        found = find_value(tree, name)
        if isinstance(value, float) and (found is None or found.is_design):
            out[name] = set_to_tape(value, unit)
    return out


def _read_finish(tree: Tree, top: Layer, kinds: Iterable[SeamKind], problems: list[Problem]) -> FinishPlan:
    asked = find_table(tree, "seams")
    values = _set_to_tape(asked, read_values(asked, seam_keys(kinds), problems), top.unit)
    plain: dict[str, Any] = {name: values.pop(name) for name in ("hem_depth", "on_fold") if name in values}
    plain["allowance"] = values.pop("all", set_to_tape(KNIT_ALLOWANCE, top.unit))
    return FinishPlan(allowances=values, unit=top.unit, **plain)


def _read_paper(tree: Tree, top: Layer, problems: list[Problem]) -> PaperPlan | None:
    asked = find_table(tree, "paper")
    values: dict[str, Any] = dict(read_values(asked, PAPER_KEYS, problems))
    size = find_value(asked, "size")
    plan: dict[str, Any] = {name: values[name] for name in ("margin", "overlap", "gap") if name in values}
    try:
        if size is not None and "size" in values:
            plan["paper"] = paper_named(values["size"], size.unit, where=size.where)
        if "orientation" in values:
            plan["orientation"] = Orientation(values["orientation"])
        if "join" in values:
            plan["join"] = Join(values["join"])
        plan |= read_corrections(asked, values, problems)
        return PaperPlan(**plan)
    except InputError as error:
        problems.extend(_place_problem(each, top) for each in error.problems)
        return None


def _read_copy_shop(found: TicketValue | None, top: Layer, problems: list[Problem]) -> WidePaper | None:
    """Return the wide paper that sheet.pdf is laid out for, None where none is named."""
    if found is None or not isinstance(found.value, str) or not found.value:
        return None
    try:
        return wide_paper_named(found.value, found.unit, where=found.where)
    except InputError as error:
        problems.extend(_place_problem(each, top) for each in error.problems)
        return None


def _place_problem(problem: Problem, top: Layer) -> Problem:
    """A problem of the paper with its place in the ticket, in the ticket's unit."""
    where = top.where(problem.where) if problem.where.startswith("paper") else problem.where
    return replace(problem, where=where, read=render(problem.read, top.unit), allowed=render(problem.allowed, top.unit))


def _read_one(info: OptionInfo, found: TicketValue | None, problems: list[Problem]) -> object:
    try:
        return info.default if found is None or found.value == "" else read_value(info, found)
    except InputError as error:
        problems.extend(error.problems)
        return info.default


def _words(tree: Tree, key: str) -> str:
    found = find_value(tree, key)
    return found.value.strip() if found is not None and isinstance(found.value, str) else ""
