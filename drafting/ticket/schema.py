"""The ticket's JSON Schema (draft 2020-12), so that an editor completes keys and shows what each one means."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from drafting.body import measurements
from drafting.garment.step import OptionInfo, Step, options_of
from drafting.paper import PAPERS
from drafting.ticket.catalogue import Catalogue
from drafting.ticket.cloths import CLOTHS, CUT, CUT_AGAIN
from drafting.ticket.flaws import FLAWS
from drafting.ticket.grain import GRAIN, TURNS
from drafting.ticket.keys import CLOTH_KEYS, FIT, FLAW_KEYS, PAPER_KEYS, STRIPE_KEYS, seam_keys
from drafting.ticket.shape import LONGEST_NAME
from drafting.ticket.tree import LEAVE_OUT
from drafting.ticket.values import figure_words, range_words
from drafting.ticket.wearer import NAME, RULES, SAME, unit_of

Schema = dict[str, Any]

_AMOUNT = r"[-+]?\s*(\d+(\.\d*)?|\.\d+|\d+\s*/\s*\d+|\d+[ -]+\d+\s*/\s*\d+|\d*\s*[¼½¾⅛⅜⅝⅞])"
_LENGTH = {
    "anyOf": [
        {"type": "number"},
        {"type": "string", "pattern": rf"^\s*{_AMOUNT}.*$", "maxLength": 60},
    ]
}
_KINDS: dict[str, Schema] = {
    "length": _LENGTH,
    "angle": _LENGTH,
    "mass": _LENGTH,
    "ratio": {"anyOf": [{"type": "number"}, {"type": "string", "pattern": rf"^\s*{_AMOUNT}\s*(%|percent)?\s*$"}]},
    "count": {"type": "integer"},
    "choice": {"type": "string"},
    "flag": {"type": "boolean"},
    "text": {"type": "string", "maxLength": LONGEST_NAME},
}


def ticket_schema(catalogue: Catalogue) -> Schema:
    """Return the schema of a ticket that may use everything in the catalogue.

    It describes one file as it is written. What a file leaves to the design it builds on, and whether figures can
    be true together, is checked when the ticket is read.
    """
    blocks = [catalogue.block(name, "schema") for name in catalogue.blocks]
    changes = [catalogue.change(name, "schema") for name in catalogue.changes]
    cloth = _table("The cloth the garment is cut from.", CLOTH_KEYS)
    cloth["properties"]["stripe"] = _table("Its stripe, if it has one.", STRIPE_KEYS)
    cloth["properties"][FLAWS] = {
        "type": "object",
        "description": "Places of it that no piece may lie on, each by a name of your own.",
        "additionalProperties": _table("Where it lies, and how large it is.", FLAW_KEYS),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Blockwright ticket",
        "description": "One sewing job: the wearer, the cloth, the design, the changes, the paper.",
        "type": "object",
        "additionalProperties": False,
        "properties": {
            "title": _add_sentence({"type": "string", "maxLength": LONGEST_NAME}, "What the garment is called."),
            "builds_on": _builds_on(catalogue),
            LEAVE_OUT: _leave_out(),
            "unit": _add_sentence(
                {"enum": ["cm", "mm", "in"], "default": "cm"}, "The unit of plain numbers in this file."
            ),
            "fit": _value(FIT),
            "wearer": _wearer(),
            "cloth": {"$ref": "#/$defs/cloth"},
            CLOTHS: {
                "type": "object",
                "description": "Cloths beside the main one, each by a name of your own, with what is cut from it.",
                "additionalProperties": {"$ref": "#/$defs/other"},
            },
            GRAIN: _grain(),
            "blocks": _blocks(blocks, catalogue),
            "changes": _changes(changes),
            "seams": _table(
                "Allowances by the kind of seam; what is not named keeps its default.", seam_keys(catalogue.kinds())
            ),
            "paper": _paper_schema(),
        },
        "$defs": {
            "cloth": cloth,
            "other": {**cloth, "properties": {**cloth["properties"], CUT: _cut(), CUT_AGAIN: _cut_again()}},
        },
    }


def _grain() -> Schema:
    turn = {"anyOf": [{"type": "number"}, {"type": "string", "maxLength": LONGEST_NAME, "examples": list(TURNS)}]}
    return {
        "type": "object",
        "description": "How pieces are turned on the cloth: a block or piece, and upright, crosswise, bias or an "
        "angle, then, if wanted, to which side the grain leans: out, in, left, right.",
        "additionalProperties": turn,
    }


def _add_sentence(schema: Schema, sentence: str) -> Schema:
    return {**schema, "description": sentence}


def _value(info: OptionInfo) -> Schema:
    schema = {"enum": list(info.choices)} if info.choices else dict(_KINDS[info.unit])
    told = [str(info.sentence)]
    if info.unit in ("length", "ratio", "angle", "count") and (info.low is not None or info.high is not None):
        told.append(f"Allowed: {_in_both(info)}.")
    if info.default is not None and info.default != "":
        told.append(f"If not given: {figure_words(info, info.default, 'cm')}.")
    if info.unit == "count":
        schema |= {key: bound for key, bound in (("minimum", info.low), ("maximum", info.high)) if bound is not None}
    return _add_sentence(schema, " ".join(told))


def _in_both(info: OptionInfo) -> str:
    metric = range_words(info, "cm")
    return f"{metric} ({range_words(info, 'in')})" if info.unit == "length" else metric


def _table(sentence: str, infos: Iterable[OptionInfo]) -> Schema:
    return {
        "type": "object",
        "description": sentence,
        "additionalProperties": False,
        "properties": {info.name: _value(info) for info in infos},
    }


def _builds_on(catalogue: Catalogue) -> Schema:
    sentence = (
        "The design, or the other ticket (a file ending in .toml, or its name beside this one), this one builds on."
    )
    return _add_sentence(
        {"anyOf": [{"enum": sorted(catalogue.designs)}, {"type": "string", "maxLength": LONGEST_NAME}]}, sentence
    )


def _leave_out() -> Schema:
    sentence = (
        "What isn't wanted of what this one builds on: a change by its name, with a number or a side behind it where "
        'there are several, a block, table or key by its path ("blocks.cuffs", "cloth.stripe", "seams.side"). '
        "To see the names: blockwright list inherited."
    )
    names = {"type": "array", "items": {"type": "string", "maxLength": LONGEST_NAME}}
    return _add_sentence(names, sentence)


def _cut() -> Schema:
    return _add_sentence(_NAMES, 'What is cut from it: blocks and pieces by name, such as ["cuffs", "sleeve"].')


def _cut_again() -> Schema:
    sentence = "What is cut from it once more, by the same pattern, as from a lining: blocks and pieces by name."
    return _add_sentence(_NAMES, sentence)


_NAMES: Schema = {"type": "array", "items": {"type": "string", "maxLength": LONGEST_NAME}}
"""Of blocks and pieces."""


def _wearer() -> Schema:
    wearer = _table("Who the garment is for.", [NAME, RULES, SAME])
    body = {
        each.name: _add_sentence(
            dict(_KINDS[unit_of(each)]),
            f"{each.sentence} Allowed: {each.show_range()}.",
        )
        for each in measurements().values()
    }
    wearer["properties"]["body"] = {
        "type": "object",
        "description": "The wearer's measurements; those left out are estimated by stated rules.",
        "additionalProperties": False,
        "properties": body,
    }
    return wearer


def _blocks(steps: list[Step[object]], catalogue: Catalogue) -> Schema:
    """Describe blocks by label: with ``block`` the options are that block's, without it those of a design's block."""
    exact = [_step("block", step) for step in steps]
    loose = {info.name: _value(info) for step in steps for info in options_of(step.options)}
    inherited: Schema = {
        "type": "object",
        "title": "a block of the design this builds on",
        "additionalProperties": False,
        "properties": loose,
    }
    return {
        "type": "object",
        "description": "Blocks by a label of your own. A label of the design alters its block.",
        "additionalProperties": {"anyOf": [*exact, inherited]},
    }


def _changes(steps: list[Step[object]]) -> Schema:
    items: Schema = {"anyOf": [_step("change", step) for step in steps]} if steps else {"type": "object"}
    return {"type": "array", "description": "Changes, taken in order.", "items": items}


def _step(kind: str, step: Step[object]) -> Schema:
    table = _table(step.sentence, options_of(step.options))
    named = _add_sentence({"const": step.name}, f"Which {kind}.")
    return {
        **table,
        "title": step.name,
        "properties": {kind: named, **table["properties"]},
        "required": [kind],
    }


def _paper_schema() -> Schema:
    table = _table("The paper and the printer.", PAPER_KEYS)
    names = [paper.name for paper in PAPERS]
    table["properties"]["size"] = _add_sentence(
        {"anyOf": [{"enum": names}, {"type": "string", "maxLength": 60}]},
        f'The paper in the printer: {", ".join(names)}, or a size such as "60 x 90 cm".',
    )
    return table
