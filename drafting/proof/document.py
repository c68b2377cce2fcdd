"""The proof as a document of plain values, for ``proof.json``: deterministic, lengths rounded to 0.001 mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from typing import Any, Final

from drafting.finishing import Drawn, Printed
from drafting.garment import Fact, Surface
from drafting.proof.finding import Finding
from drafting.proof.fit import FitRow
from drafting.proof.proof import Proof
from drafting.proof.rows import EaseRow, JoinRow, OpeningRow, SeamRow
from drafting.record import dataclass
from drafting.saying import Unit, render
from drafting.seal import SEAL_ROOM
from drafting.tolerance import TOLERANCE

FORMAT: Final = "blockwright-proof-3"


@dataclass(frozen=True, slots=True)
class AsPrinted:
    """What of a draft is on paper: its pieces, on what pages, and its flat's outline, face by face (x and y, mm)."""

    pieces: tuple[Printed, ...] = ()
    paper: str = ""
    flat: Mapping[str, Sequence[Sequence[float]]] = field(default_factory=dict)


def proof_document(
    proof: Proof,
    *,
    title: str,
    mark: str,
    unit: Unit,
    printed: AsPrinted | None = None,
    measured: Iterable[tuple[str, tuple[str, ...]]] = (),
    left_behind: Iterable[tuple[str, tuple[str, ...]]] = (),
) -> dict[str, Any]:
    """Return the proof as JSON-able values; ``proof_schema`` documents them.

    Lengths are mm, angles degrees, shares 0 to 1, whatever ``unit`` the maker reads; ``mark`` is the draft's mark.
    ``printed`` is what of it is on paper, by which a later draft knows which pieces it may use again.
    ``measured`` gives each file's measurements, where one person's stand in more than one, and ``left_behind`` its
    fit changes, where they stayed with another body. What made the file is told first, with room for its seal.
    """
    on_paper = printed or AsPrinted()
    return {
        "made": SEAL_ROOM,
        "format": FORMAT,
        "title": title,
        "mark": mark,
        "unit": unit,
        "passed": proof.passed,
        "findings": [_finding(finding, unit) for finding in proof.findings],
        "seams": [_seam(row) for row in proof.seams],
        "joins": [_join(row) for row in proof.joins],
        "ease": [_ease(row) for row in proof.eases],
        "lengths": [{"measure": row.title, "finished": _plain_number(row.garment)} for row in proof.lengths],
        "fit": [_fit(row, unit) for row in proof.fit],
        "openings": [_opening(row) for row in proof.openings],
        "surface": None if proof.surface is None else _surface(proof.surface),
        "order": [{"seam": task.seam, "after": list(task.before)} for task in proof.order],
        "facts": [_fact(fact, unit) for fact in proof.facts],
        "solves": [
            {
                "name": s.name,
                "target": _plain_number(s.target),
                "reached": _plain_number(s.reached),
                "left": _plain_number(s.residual),
            }
            for s in proof.solves
        ],
        "paper": on_paper.paper,
        "pieces": [_print(each) for each in on_paper.pieces],
        "flat": [
            {"face": face, "edges": [" ".join(f"{figure:g}" for figure in edge) for edge in edges]}
            for face, edges in on_paper.flat.items()
        ],
        "measured": [{"file": file, "measurements": list(names)} for file, names in measured],
        "left_behind": [{"file": file, "changes": list(names)} for file, names in left_behind],
        "estimated": [{"measurement": name, "rule": str(rule)} for name, rule in proof.estimated],
    }


def _print(printed: Printed) -> dict[str, Any]:
    drawn = [{"what": each.what, "at": " ".join(map(_hundredths, each.at))} for each in printed.drawn]
    words = {"code": printed.code, "name": printed.name, "title": printed.title, "said": printed.said}
    words["cloth"] = printed.cloth
    return {
        **words,
        "asked": printed.asked,
        "numbers": list(printed.numbers),
        "told": list(printed.told),
        "drawn": drawn,
    }


def _hundredths(figure: float) -> str:
    """A figure to 0.01 mm: the error is far below what prints are compared by."""
    return str(round(figure + TOLERANCE.off_edge, 2) + 0.0)


def read_prints(document: dict[str, Any]) -> tuple[Printed, ...]:
    """Return the pieces of a proof as they were printed; KeyError, TypeError or ValueError where it is none."""
    return tuple(
        Printed(
            str(each["code"]),
            str(each["name"]),
            str(each["title"]),
            str(each["said"]),
            tuple(Drawn(str(one["what"]), tuple(map(float, str(one["at"]).split()))) for one in each["drawn"]),
            bool(each["asked"]),
            tuple(int(number) for number in each["numbers"]),
            tuple(int(number) for number in each.get("told", ())),
            str(each.get("cloth", "")),
        )
        for each in document["pieces"]
    )


def _fact(fact: Fact, unit: Unit) -> dict[str, Any]:
    return {
        "name": fact.name,
        "value": _plain_number(fact.value),
        "unit": fact.unit,
        "source": fact.source,
        "sentence": render(fact.sentence, unit),
    }


def _plain_number(value: float | None) -> float | None:
    """A number rounded to 0.001, without a negative zero; None for what isn't a number."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value) + TOLERANCE.off_edge, 3) + 0.0


def _plain_figure(value: float | None, measure: str) -> float | None:
    """A number in what it is told in: an angle in degrees, a share to 0.00001."""
    if value is None or not math.isfinite(value):
        return None
    figure = math.degrees(value) if measure == "rad" else float(value)
    return round(figure + TOLERANCE.off_edge, 5 if measure == "share" else 3) + 0.0


def _name_measure(measure: str) -> str:
    return "deg" if measure == "rad" else measure


def read_flat(document: dict[str, Any]) -> Mapping[str, Sequence[Sequence[float]]]:
    """Return the outline of a draft's flat, face by face; empty where it has none, as of drafts before it was kept."""
    return {
        str(each["face"]): [[float(figure) for figure in str(edge).split()] for edge in each["edges"]]
        for each in document.get("flat", ())
    }


def _finding(finding: Finding, unit: Unit) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "place": finding.place,
        "value": _plain_figure(finding.value, finding.measure),
        "limit": _plain_figure(finding.limit, finding.measure),
        "measure": _name_measure(finding.measure),
        "sentence": render(finding.sentence, unit),
        "remedy": render(finding.remedy, unit),
        "since": finding.since,
    }


def _seam(row: SeamRow) -> dict[str, Any]:
    return {
        "seam": row.seam,
        "title": str(row.title),
        "section": row.section,
        "lengths": [_plain_number(length) for length in row.lengths],
        "ease": [_plain_number(ease) for ease in row.ease],
        "ease_asked": [_plain_number(ease) for ease in row.asked],
        "off": _plain_number(row.off),
    }


def _join(row: JoinRow) -> dict[str, Any]:
    return {
        "before": row.before,
        "after": row.after,
        "across": list(row.across),
        "angle": _plain_number(math.degrees(row.angle)),
    }


def _ease(row: EaseRow) -> dict[str, Any]:
    return {
        "measure": row.measure,
        "title": str(row.title),
        "body": _plain_number(row.body),
        "ease_asked": _plain_number(row.asked),
        "finished": _plain_number(row.finished),
        "ease": _plain_number(row.got),
    }


def _fit(row: FitRow, unit: Unit) -> dict[str, Any]:
    least, most = row.bounds
    figures = {"body": row.body, "garment": row.garment, "meant": row.meant, "least": least, "most": most}
    return {
        "figure": row.name,
        "about": row.about,
        "place": row.place,
        "title": render(row.title, unit),
        "measure": _name_measure(row.measure),
        **{name: _plain_figure(figure, row.measure) for name, figure in figures.items()},
    }


def _opening(row: OpeningRow) -> dict[str, Any]:
    return {
        "opening": row.opening,
        "edge": row.edge,
        "length": _plain_number(row.length),
        "stretch": round(row.stretch, 5) + 0.0,
        "reach": _plain_number(row.reach),
        "passing": row.passing,
        "must_pass": _plain_number(row.must_pass) if row.passing else None,
        "spare": _plain_number(row.spare) if row.passing else None,
    }


def _surface(surface: Surface) -> dict[str, Any]:
    return {
        "corners": surface.corners,
        "edges": surface.edges,
        "pieces": surface.faces,
        "components": surface.components,
        "euler": surface.euler,
        "oriented": surface.oriented,
        "openings": [
            {"name": o.name, "hangs": o.hangs, "lines": [f"{u.piece}.{u.line}" for u in o.run]}
            for o in surface.openings
        ],
    }
