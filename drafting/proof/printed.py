"""The proof and the order of work in the words that are printed with the pattern."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

from drafting.garment import Garment, Seam, Task, turned_edges
from drafting.proof.finding import Severity
from drafting.proof.proof import Proof
from drafting.proof.rows import OpeningRow
from drafting.tolerance import TOLERANCE
from drafting.units import Unit, show_length

Section = tuple[str, tuple[str, ...]]
"""A heading and the lines below it."""

_SIDE = re.compile(r"\b(left|right)\b,?", re.IGNORECASE)
_PUT_IN = frozenset({"closure", "button-closure"})


def printed_proof(proof: Proof, garment: Garment, unit: Unit = "cm") -> tuple[Section, ...]:
    """Return what of the proof a maker wants on paper: the verdict, the fit, the openings, and the order of work."""
    return tuple(
        section
        for section in (
            ("Proof", tuple(_verdict(proof, unit))),
            ("Fit: body, ease, finished", tuple(_fit(proof, unit))),
            (
                f"Order of work (ISO 4915 stitch {usual_stitch(garment)} unless said)",
                tuple(_order(proof, garment, unit)),
            ),
        )
        if section[1]
    )


def _verdict(proof: Proof, unit: Unit) -> Iterator[str]:
    errors, warnings = proof.of(Severity.ERROR), proof.of(Severity.WARNING)
    yield "The pieces go together as meant." if not errors else "NOT PROVEN. Don't cut before this is mended:"
    for finding in (*errors, *warnings):
        yield f"{finding.place}: {finding.sentence}. {finding.remedy}".rstrip(". ") + "."
    if proof.seams:
        worst = max(abs(row.off) for row in proof.seams)
        # A seam of several sections has a row for each and one for the whole.
        count = len({row.seam for row in proof.seams})
        yield f"{count} seams walked: layers agree with their stated ease to {max(worst, 0.01):.2f} mm."
    for row in tightest(proof.openings):
        yield (
            f"The {row.opening.replace('-', ' ')} opens to {show_length(row.reach, unit)}; "
            f"{row.passing}, {show_length(row.must_pass, unit)}, must pass."
        )


def tightest(rows: tuple[OpeningRow, ...]) -> list[OpeningRow]:
    """Return of each opening that something must pass the edge or seam with the least to spare."""
    least: dict[str, OpeningRow] = {}
    for row in rows:
        known = least.get(row.opening)
        if row.passing and (known is None or row.reach - row.must_pass < known.reach - known.must_pass):
            least[row.opening] = row
    return list(least.values())


def _fit(proof: Proof, unit: Unit) -> Iterator[str]:
    for row in proof.eases:
        figures = (show_length(figure, unit) for figure in (row.body, row.got, row.finished))
        yield f"{row.title or row.measure}: {', '.join(figures)}"


def _order(proof: Proof, garment: Garment, unit: Unit) -> Iterator[str]:
    """Number the steps; what is stayed comes first, what is turned up last."""
    seams = [garment.seam(task.seam) for task in _paired(proof.order, garment)]
    steps = [*_stays(garment), *_steps(seams, unit, usual_stitch(garment))]
    turned = turned_edges(garment)
    if turned:
        names = dict.fromkeys(garment.line(use).opening.replace("-", " ") or "edge" for use in turned)
        steps.append(f"Turn up and stitch: {', '.join(names)} (stitch 406 or a twin needle).")
    for number, words in enumerate(steps, 1):
        yield f"{number}. {words}"


def usual_stitch(garment: Garment) -> str:
    """Return the stitch that most seams have: four-thread overedge (514) in a knit, lockstitch (301) in a woven."""
    counts = Counter(seam.stitch for seam in garment.seams)
    return counts.most_common(1)[0][0] if counts else "514"


def _paired(order: tuple[Task, ...], garment: Garment) -> list[Task]:
    """Bring the other side's like seam up beside each seam where nothing it crosses is still unsewn."""
    left, done, out = list(order), set[str](), list[Task]()
    while left:
        task = left.pop(0)
        title = _sideless(garment.seam(task.seam).title)
        mate = next((t for t in left if _sideless(garment.seam(t.seam).title) == title), None)
        out.append(task)
        done.add(task.seam)
        if mate is not None and set(mate.before) <= done:
            left.remove(mate)
            out.append(mate)
            done.add(mate.seam)
    return out


def _sideless(title: str) -> str:
    return " ".join(_SIDE.sub(" ", title).split()).lower()


def _steps(seams: list[Seam], unit: Unit, usual: str) -> Iterator[str]:
    """Yield the words for each seam; a pair is told as one, and so are a band's ends and the band."""
    names = {seam.name for seam in seams}
    waiting = [seam for seam in seams if not (seam.kind == "end" and seam.name.removesuffix("-end") in names)]
    while waiting:
        seam = waiting.pop(0)
        ends = f"{seam.name}-end" in names
        words = _sewn(seam, seam.title, unit, ends, usual)
        both = f"{' '.join(_SIDE.sub(' ', seam.title).split())}, left and right"
        if waiting and _SIDE.search(seam.title) and _sideless(waiting[0].title) == _sideless(seam.title):
            together = _sewn(seam, both, unit, ends, usual)
            if _sewn(waiting[0], both, unit, ends, usual) == together:
                waiting.pop(0)
                words = together
        yield words


def _stays(garment: Garment) -> Iterator[str]:
    stayed = [
        f"{piece.title.lower()} ({', '.join(dict.fromkeys(piece.line(z.line).role.value for z in piece.zones))})"
        for piece in garment.pieces
        if piece.zones
    ]
    if stayed:
        yield f"Stay the hatched strips, tape cut to the paper's length: {'; '.join(stayed)}."


def _sewn(seam: Seam, title: str, unit: Unit, ends: bool, usual: str) -> str:
    if seam.kind in _PUT_IN:
        return f"Close the opening: {title}."
    eases = [ease for ease in seam.ease[1:] if abs(ease) > TOLERANCE.sewn_length]
    ease = max(eases, key=abs) if eases else 0.0
    how = "stretching it on by" if ease < 0.0 else "easing in"
    more = f", {how} {show_length(abs(ease), unit)}" if eases else ""
    join = ": join the ends, then sew it on" if ends else ""
    stitch = "" if seam.stitch == usual else f" (stitch {seam.stitch})"
    return f"{title[:1].upper()}{title[1:]}{join}{more}{stitch}."
