"""The JSON Schema (draft 2020-12) of ``proof.json``."""

from __future__ import annotations

from typing import Any

from drafting.proof.document import FORMAT

_Schema = dict[str, Any]

_TEXT: _Schema = {"type": "string"}
_NUMBER: _Schema = {"type": "number"}
_MAYBE: _Schema = {"type": ["number", "null"]}
_COUNT: _Schema = {"type": "integer"}
_FLAG: _Schema = {"type": "boolean"}


def _describe(schema: _Schema, words: str) -> _Schema:
    return {**schema, "description": words}


def _list(items: _Schema, words: str) -> _Schema:
    return {"type": "array", "items": items, "description": words}


def _object(words: str, **properties: _Schema) -> _Schema:
    return {
        "type": "object",
        "description": words,
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def proof_schema() -> _Schema:
    """Return the schema of what ``proof_document`` returns."""
    body = _object(
        "The proof of a drafted garment. Lengths are millimetres, angles degrees, shares 0 to 1.",
        made=_describe(_TEXT, "What made this file, for which draft, and how long it is."),
        format=_describe({"const": FORMAT}, "The form of this document."),
        title=_describe(_TEXT, "The garment's title."),
        mark=_describe(_TEXT, "The draft's mark, printed on every page."),
        unit=_describe({"enum": ["mm", "cm", "in"]}, "The unit in which sentences show lengths."),
        passed=_describe(_FLAG, "True if no finding is an error."),
        findings=_list(_finding(), "What the checks found: errors, then warnings, then notes."),
        seams=_list(_seam(), "Each section of each seam; section 0 is a seam as a whole."),
        joins=_list(_join(), "Each place where an edge runs on across a seam."),
        ease=_list(_ease(), "Each measure of the finished garment against the body."),
        lengths=_list(
            _object("A length of the finished garment.", measure=_TEXT, finished=_NUMBER),
            "How long the finished garment, its sleeves and what hangs over it are.",
        ),
        fit=_list(_fit(), "Figures of the garment against the body's."),
        openings=_list(_opening(), "Each edge round an opening, and what must pass it."),
        surface={"oneOf": [{"type": "null"}, _surface()]},
        order=_list(_task(), "The make-up order."),
        facts=_list(_fact(), "Numbers the garment is drafted from, and where each came from."),
        solves=_list(_solve(), "What each solve was asked and what it reached."),
        paper=_describe(_TEXT, "What the pages are of and how they are joined; empty where the proof stands alone."),
        pieces=_list(_piece(), "The cut pieces; none where the proof stands alone."),
        flat=_list(_flat(), "The outline of the flat, to be dotted in a later draft's where that differs."),
        measured=_list(
            _object(
                "What a ticket says of the wearer's body.",
                file=_describe(_TEXT, "The ticket's file."),
                measurements=_list(_TEXT, "The measurements taken from it."),
            ),
            "Which file each measurement is from, where a ticket says that its wearer is the person of the one it "
            "builds on; empty where all are from one.",
        ),
        left_behind=_list(
            _object(
                "What a ticket changes for the fit of its own wearer.",
                file=_describe(_TEXT, "The ticket's file."),
                changes=_list(_TEXT, "The fit changes that weren't taken from it."),
            ),
            "Fit changes of the ticket it builds on that were left behind with a body that is someone else's.",
        ),
        estimated=_list(
            _object("A measurement that wasn't taken.", measurement=_TEXT, rule=_TEXT),
            "What was estimated, and how.",
        ),
    )
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "Proof of a garment", **body}


def _task() -> _Schema:
    return _object(
        "A seam in its turn.",
        seam=_TEXT,
        after=_list(_TEXT, "Seams sewn before it, which it crosses."),
    )


def _piece() -> _Schema:
    return _object(
        "A cut piece as it was printed.",
        code=_describe(_TEXT, "Its letter on the page map."),
        name=_TEXT,
        title=_TEXT,
        said=_describe(_TEXT, "How many are cut, and how; and the printer's correction, if there is one."),
        asked=_describe(_FLAG, "Whether changed.pdf asks for it."),
        numbers=_list(_COUNT, "The numbers of its notches."),
        cloth=_describe(_TEXT, "The cloth that it is cut from, and the printer's correction."),
        told=_list(_COUNT, "The numbers of other pieces' notches that its label names."),
        drawn=_list(
            _object(
                "One thing drawn on it.",
                what=_TEXT,
                at=_describe(_TEXT, "x and y of each point in turn, to 0.01 mm; of a curve with its handles."),
            ),
            "All that is cut and sewn by, by which a later draft finds whether this print may be used again.",
        ),
    )


def _flat() -> _Schema:
    return _object(
        "The garment as it is seen from one side.",
        face=_TEXT,
        edges=_list(_TEXT, "Each edge: x and y of each point in turn, mm."),
    )


def _finding() -> _Schema:
    return _object(
        "One thing that a check found.",
        code=_describe({"type": "string", "pattern": r"^[a-z]+\.[a-z_]+$"}, "The check, and what it found."),
        severity={"enum": ["error", "warning", "note"]},
        place=_describe(_TEXT, "The seam, piece, line, opening or measurement."),
        value=_describe(_MAYBE, "What was found, in measure."),
        limit=_describe(_MAYBE, "What it is judged by, in measure."),
        measure=_describe(
            {"enum": ["mm", "mm2", "deg", "share", "kg", ""]},
            "What value and limit are in; empty for counts.",
        ),
        sentence=_describe(_TEXT, "What is wrong, in plain words."),
        remedy=_describe(_TEXT, "What would put it right."),
        since=_describe(_TEXT, "The change that an error came in with; empty where it would be there without any."),
    )


def _seam() -> _Schema:
    return _object(
        "A section of a seam.",
        seam=_TEXT,
        title=_TEXT,
        section={"type": "integer", "minimum": 0},
        lengths=_list(_NUMBER, "Each ply's length along its run."),
        ease=_list(_NUMBER, "What each ply is longer than the first."),
        ease_asked=_list(_NUMBER, "What each ply is to be longer than the first."),
        off=_describe(_NUMBER, "The largest difference between the two."),
    )


def _join() -> _Schema:
    return _object(
        "Where an edge runs on across a seam.",
        before=_describe(_TEXT, "The line that arrives, as piece.line."),
        after=_describe(_TEXT, "The line that goes on."),
        across=_list(_TEXT, "The seams between."),
        angle=_describe(_NUMBER, "How far the edge turns, sewn; 0 is smooth."),
    )


def _ease() -> _Schema:
    return _object(
        "A measure of the finished garment.",
        measure=_TEXT,
        title=_TEXT,
        body=_NUMBER,
        ease_asked=_NUMBER,
        finished=_describe(_MAYBE, "Taken on the pieces; null where no piece shows it."),
        ease=_MAYBE,
    )


def _fit() -> _Schema:
    return _object(
        "A figure of the garment against the body.",
        figure=_describe(_TEXT, "What is measured; where it passes a bound, the finding is fit. and this."),
        about=_describe(_TEXT, "The heading under which it is told."),
        place=_TEXT,
        title=_TEXT,
        measure=_describe({"enum": ["mm", "deg", "share", ""]}, "What the figures are in; empty for counts."),
        body=_describe(_NUMBER, "What the body asks for."),
        garment=_describe(_NUMBER, "Taken on the pieces."),
        meant=_describe(_NUMBER, "What changes mean it to differ by."),
        least=_describe(_MAYBE, "The least that the garment's may be; null where there is no bound."),
        most=_describe(_MAYBE, "The most."),
    )


def _opening() -> _Schema:
    return _object(
        "An edge round an opening.",
        opening=_TEXT,
        edge=_TEXT,
        length=_describe(_NUMBER, "Relaxed."),
        stretch=_describe(_NUMBER, "The share by which it can grow."),
        reach=_describe(_NUMBER, "Stretched."),
        passing=_describe(_TEXT, "What must pass; empty where nothing has to."),
        must_pass=_describe(_MAYBE, "The girth of what must pass; null where nothing has to."),
        spare=_describe(_MAYBE, "What it has beyond that; null where nothing has to pass."),
    )


def _surface() -> _Schema:
    opening = _object(
        "A loop of unsewn lines.",
        name=_TEXT,
        hangs=_describe(_FLAG, "Whether it bounds a layer that hangs."),
        lines=_list(_TEXT, "Its lines, as piece.line, in walking order."),
    )
    return _object(
        "The pieces glued along their seams.",
        corners=_COUNT,
        edges=_COUNT,
        pieces=_COUNT,
        components=_describe(_COUNT, "1 if all is joined."),
        euler=_describe(_COUNT, "corners - edges + pieces; 2 - openings for a garment without a handle."),
        oriented=_describe(_FLAG, "Whether every seam joins right side to right side."),
        openings=_list(opening, "What is left open."),
    )


def _fact() -> _Schema:
    source = _describe(_TEXT, "body, ease, cloth, choice, rule or solve.")
    return _object("A number.", name=_TEXT, value=_MAYBE, unit=_TEXT, source=source, sentence=_TEXT)


def _solve() -> _Schema:
    return _object("A solve.", name=_TEXT, target=_MAYBE, reached=_MAYBE, left=_MAYBE)
