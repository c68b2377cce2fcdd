"""What a cutter judges, over the surveys: ``python -m tests.bench.figures [every]``, each ``every``-th body (25).

Every body is drafted in every design, close, semi-fitted and relaxed; printed is a table: of each figure the 5th
percentile, the median, the 95th, the trade's limits and the share outside them. The figures are taken by a tape of
their own (``tape.py``), the openings by the proof. Nothing is judged here: the tests do that. Limits without another
source are common practice or from memory.
"""

from __future__ import annotations

import math
import sys
import time
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import cache

from blocks.caps import CAP_KINDS
from drafting.body import Body, make_body
from drafting.cloth import Fit, Kind
from drafting.errors import DraftingError
from drafting.garment import Brief, Face, Garment, Role, Side
from drafting.garment.armholes import BELOW_ARMPIT
from drafting.job import draft_job
from drafting.proof import Proof, prove
from drafting.proof.fit.closures import ZIP_OFF
from drafting.proof.fit.layers import LEAST_OUTSIDE, MOST_OUTSIDE
from drafting.proof.fit.neck import NECK_SEAM
from drafting.proof.fit.sleeves import CAP_LONGER, DART_LONG, SHIRT_CAP_LONGER
from drafting.redraw.dart_points import (
    FRONT_OF_SKIRT_DARTS,
    MOST_IN_BUST_DART,
    MOUTH_BELOW_UNDERARM,
    SET_BACKS,
    flat_at_waist,
)
from drafting.redraw.neckline_lines import NECK_DEPTHS
from drafting.redraw.sleeves import ELBOW_DART_WIDE
from tests.bench.tape import Tape, bends, by_name, length_of, outside, panel_seams, points_of, wide_at
from tests.blocks_woven.people import POPLIN
from tests.body.people import GROUPS, people
from tests.garments import JERSEY, RIB
from tests.laws.jobs import WEARER, catalogue, job_from, job_of, with_changes
from tests.laws.strategies import WOVENS

Figure = tuple[str, float]
Limits = tuple[float, float]
INF = math.inf


def _limits(row: Sequence[float]) -> Limits:
    """The trade's limits as the proof has them."""
    least, most = row
    return float(least), float(most)


LIMITS: dict[str, Limits] = {
    "shoulder slope, front, deg": (15.0, 27.0),
    "shoulder slope, back, deg": (15.0, 27.0),
    "shoulder slope, front less back, deg": (0.0, INF),
    "high neck's seam beyond neck base": _limits(NECK_SEAM),
    "high neck's depth beyond its half width": _limits(NECK_DEPTHS),
    "V neck below the neck base": (90.0, 120.0),
    "underarm below the nape, sleeved": (180.0, 250.0),
    "underarm below the body's armpit, sleeved": (10.0, 40.0),
    "relaxed underarm below close, woven": (10.0, 25.0),
    "underarm of a sleeveless woven above the sleeved": (10.0, 15.0),
    "armhole / body's, woven, times": (1.05, 1.25),
    "armhole / body's, woven, as deep as it may be, times": (1.0, 1.25),
    "armhole / body's, knit, close and semi-fitted, times": (0.95, 1.25),
    "armhole / body's, knit, relaxed, times": (1.05, 1.25),
    "armhole / bust, women of a usual armscye, woven, times": (0.43, 0.51),
    "armhole width beyond arm/4 + 4 cm, sleeved": (0.0, INF),
    "armhole width beyond the arm's thickness, knit": (0.0, INF),
    "armhole width beyond the arm's thickness, woven": (15.0, INF),
    "armhole width beyond the arm's thickness, sleeveless woven": (0.0, INF),
    "armhole width less bust/8": (-15.0, 15.0),
    "back armhole beyond front": (0.0, INF),
    "across back beyond the body's, sleeved": (0.0, 25.0),
    "across front beyond the body's, sleeved": (0.0, 25.0),
    "cap / armhole, fitted, times": (0.30, 0.36),
    "cap / armhole, shirt, times": _limits(CAP_KINDS["shirt"]),
    "cap / armhole, tee, times": _limits(CAP_KINDS["tee"]),
    "cap ease, woven": _limits(CAP_LONGER[Kind.WOVEN]),
    "cap ease, woven shirt": _limits(SHIRT_CAP_LONGER),
    "cap ease, knit": _limits(CAP_LONGER[Kind.KNIT]),
    "bust dart's mouth below the underarm": _limits(MOUTH_BELOW_UNDERARM),
    "bust dart's point from the bust point": _limits(SET_BACKS),
    "intake of one bust dart": (0.0, float(MOST_IN_BUST_DART)),
    "panel seam's least radius": (60.0, INF),
    "panel seam's turns": (0.0, 2.0),
    "straight skirt, back intake / front, times": _limits([1.0 / share - 1.0 for share in FRONT_OF_SKIRT_DARTS[::-1]]),
    "straight skirt over a belly, back intake / front, times": (1.5, INF),
    "elbow dart's length": _limits(DART_LONG),
    "elbow dart's intake": _limits(ELBOW_DART_WIDE),
    "elbow dart's length / sleeve there, times": (0.0, 0.25),
    "opening to spare, neck": (10.0, INF),
    "zip's end above hip level, dress without waist seam": _limits(ZIP_OFF),
    "hem of a woven sleeve": (30.0, 40.0),
    "overlay outside the shoulder point": (float(LEAST_OUTSIDE), float(MOST_OUTSIDE)),
    "waist off the body's": (-10.0, 10.0),
    "hip off the body's": (-10.0, 10.0),
    "neck over bust to waist, woven": (-10.0, 10.0),
    "neck over bust to waist, knit": (-10.0, INF),
    "ease at the hip over a turned hem, knit": (20.0, 50.0),
}
"""The figures in the order of the table (mm unless said), and the trade's limits."""

USUAL_SCYE, NEAR_SCYE = 0.409, 0.02
"""Of women's bust, the armscye girth (ANSUR 1988, means) that the limits of armhole to bust are derived from; how near
to it a body's own is that they hold for."""

HIGH_NECKS = frozenset({"fitted-bodice", "sheath-dress", "waist-seam-dress", "princess-top"})
"""Designs whose neck is drawn at the neck base."""


def figures_of(design: str, garment: Garment, brief: Brief, proof: Proof) -> Iterator[Figure]:
    """Yield the figures of one garment."""
    tape, woven = Tape(garment), design in WOVENS
    yield from _shoulders(tape)
    yield from _neck(tape, garment, brief, design)
    yield from _armhole(tape, garment, brief.body, brief.fit, woven)
    yield from _darts(tape, garment, brief.body)
    yield from _panels(tape, design)
    yield from _levels(tape, garment, brief.body, design)
    yield from _over_bust(tape, garment, brief.body, woven)
    yield from _ends(tape, garment, brief, proof, design)
    yield from _overlay(tape)


def _shoulders(tape: Tape) -> Iterator[Figure]:
    front, back = tape.slope(Face.FRONT), tape.slope(Face.BACK)
    if front is not None and back is not None:
        yield "shoulder slope, front, deg", front
        yield "shoulder slope, back, deg", back
        yield "shoulder slope, front less back, deg", front - back


def _neck(tape: Tape, garment: Garment, brief: Brief, design: str) -> Iterator[Figure]:
    low, high, facts = tape.neck_centre(Face.FRONT), tape.side_neck(Face.FRONT), by_name(garment)
    if low is None or high is None:
        return
    if design in HIGH_NECKS:
        seam = length_of(line for face in tape.of for line in tape.lines(face, Role.NECKLINE))
        yield "high neck's seam beyond neck base", seam - brief.body["neck_base_girth"]
        yield "high neck's depth beyond its half width", high[1] - low[1] - abs(high[0])
    elif design == "knit-top" and "neck_front" in facts:
        yield "V neck below the neck base", facts["neck_front"] - low[1]


def _armhole(tape: Tape, garment: Garment, body: Body, fit: Fit, woven: bool) -> Iterator[Figure]:
    underarm, width, caps = tape.underarm(), tape.armhole_width(), tape.caps()
    front, back = (length_of(tape.lines(face, Role.ARMHOLE, Side.LEFT)) for face in (Face.FRONT, Face.BACK))
    if underarm is None or width is None:
        return
    arm, cloth = body["upper_arm_girth"], "woven" if woven else "knit"
    worn = cloth if caps or not woven else "sleeveless woven"
    yield f"armhole width beyond the arm's thickness, {worn}", width - arm / math.pi
    yield "back armhole beyond front", back - front
    if caps is None:
        return
    yield "underarm below the nape, sleeved", -underarm[1]
    yield "underarm below the body's armpit, sleeved", -underarm[1] - body["scye_depth_length"]
    deep = -underarm[1] - body["scye_depth_length"]
    yield f"armhole / body's, {_held_to(fit, deep, woven)}, times", (front + back) / body["armscye_girth"]
    yield "armhole width beyond arm/4 + 4 cm, sleeved", width - (arm / 4.0 + 40.0)
    yield "armhole width less bust/8", width - body["bust_girth"] / 8.0
    yield f"cap / armhole, {tape.cap_kind()}, times", caps[0] / (front + back)
    shirt = " shirt" if woven and tape.cap_kind() == "shirt" else ""
    yield f"cap ease, {cloth}{shirt}", caps[1] - front - back
    if woven and body.rules == "women" and abs(body["armscye_girth"] / body["bust_girth"] - USUAL_SCYE) <= NEAR_SCYE:
        yield "armhole / bust, women of a usual armscye, woven, times", (front + back) / body["bust_girth"]
    for face, name in ((Face.BACK, "across_back_width"), (Face.FRONT, "across_front_width")):
        across = tape.across(face)
        if across is not None and name in body:
            yield f"across {face} beyond the body's, sleeved", across - body[name]


def _held_to(fit: Fit, deep: float, woven: bool) -> str:
    """Which row an armhole's length counts in: a woven's goes only so deep for it, a knit gives by the rest."""
    if not woven:
        return "knit, relaxed" if fit is Fit.RELAXED else "knit, close and semi-fitted"
    return "woven, as deep as it may be" if deep >= BELOW_ARMPIT[fit] - 1.0 else "woven"


def _darts(tape: Tape, garment: Garment, body: Body) -> Iterator[Figure]:
    apex, underarm = tape.bust_point(), tape.underarm(Face.FRONT)
    for dart in tape.darts(tape.of[Face.FRONT]):
        if dart.upper[0] > 0.0 and apex is not None and underarm is not None and "bust" in dart.name:
            yield "bust dart's mouth below the underarm", math.dist(underarm, dart.upper)
            yield "bust dart's point from the bust point", math.dist(dart.point, apex)
            yield "intake of one bust dart", dart.intake
    sleeves = [piece for piece in garment.pieces if piece.lines(role=Role.CAP)]
    for dart in tape.darts(sleeves[:1]):
        yield "elbow dart's length", dart.length
        yield "elbow dart's intake", dart.intake
        wide = max(wide_at(sleeves[0], y) for y in (dart.upper[1] + 1.0, dart.lower[1] - 1.0))
        yield "elbow dart's length / sleeve there, times", dart.length / wide
    skirts = [piece for pieces in tape.of.values() for piece in pieces if piece.name.startswith("skirt")]
    taken = {face: sum(d.intake for d in tape.darts(p for p in skirts if p.face is face)) for face in tape.of}
    if taken[Face.FRONT]:  # a belly's may have none, or few
        skirt = "straight skirt over a belly" if flat_at_waist(body) < 1.0 else "straight skirt"
        yield f"{skirt}, back intake / front, times", taken[Face.BACK] / taken[Face.FRONT]


def _panels(tape: Tape, design: str) -> Iterator[Figure]:
    if design == "princess-top":
        for run in panel_seams(tape.of[Face.FRONT]):
            least, turns = bends(run)
            yield "panel seam's least radius", min(least, 5000.0)
            yield "panel seam's turns", float(turns)


def _levels(tape: Tape, garment: Garment, body: Body, design: str) -> Iterator[Figure]:
    """Waist and hip below the back neck point as sewn: a front eased onto the back comes up by what it is eased."""
    waist, eased = body["back_neck_point_to_waist"], by_name(garment).get("front_eased", 0.0)
    for name, below in (("waist", waist), ("hip", waist + body["waist_to_hip"])):
        for face, y in tape.levels(name):
            if not (name == "hip" and "circle" in design):  # that skirt is drawn in a frame of its own
                yield f"{name} off the body's", -y - below - (eased if face is Face.FRONT else 0.0)


def _over_bust(tape: Tape, garment: Garment, body: Body, woven: bool) -> Iterator[Figure]:
    """Neck over bust to waist; in a knit from where the shoulder would meet the neck base, straight down the body."""
    neck, slope, own = tape.side_neck(Face.FRONT), tape.slope(Face.FRONT), body["side_neck_point_to_waist_over_bust"]
    apex, out = tape.bust_point(), body["bust_point_width"] / 2.0
    low = tape.waist_below(apex[0] if apex else out)
    if neck is None or slope is None or low is None:
        return
    if woven and apex is not None:
        yield "neck over bust to waist, woven", math.dist(neck, apex) + apex[1] - low - own
    elif not woven and "neck_half_width" in by_name(garment):
        half, down = by_name(garment)["neck_half_width"], body["side_neck_point_to_bust_point"]
        top = neck[1] + math.tan(math.radians(slope)) * (abs(neck[0]) - half)
        drop = math.sqrt(max(down**2 - (out - half) ** 2, 0.0))
        yield "neck over bust to waist, knit", down + (top - drop - low) - own


def _ends(tape: Tape, garment: Garment, brief: Brief, proof: Proof, design: str) -> Iterator[Figure]:
    """Openings, the zip, hems."""
    closed = bool(garment.closures)
    spare = [row.reach - row.must_pass for row in proof.openings if row.opening == "neck" and row.must_pass]
    if spare and not closed:
        yield "opening to spare, neck", min(spare)
    hip = next((y for face, y in tape.levels("hip") if face is Face.BACK), None)
    if design == "sheath-dress" and closed and hip is not None:
        run = garment.seam(garment.closures[0].seams[0]).plies[0]
        ends = [p[1] for use in run for p in points_of(garment.line(use))]
        yield "zip's end above hip level, dress without waist seam", min(ends) - hip
    if design in WOVENS:
        for piece in garment.pieces:
            for line in piece.lines(role=Role.WRIST, side=Side.LEFT):
                yield "hem of a woven sleeve", _hem_depth(design) if line.turned is None else line.turned
        return
    turned = any(
        line.fate == "hemmed" for pieces in tape.of.values() for p in pieces for line in p.lines(role=Role.HEM)
    )
    girth = tape.girth("hip")
    skirt = any(piece.name.startswith("skirt") for pieces in tape.of.values() for piece in pieces)
    if turned and not skirt and girth is not None:
        yield "ease at the hip over a turned hem, knit", girth - brief.body["hip_girth"]


@cache
def _hem_depth(design: str) -> float:
    """How deep a design's hems are turned in a woven."""
    wearer = WEARER.replace('"knit"', '"woven"').replace('"30 %"', '"2 %"').replace('"80 %"', '"2 %"')
    return job_from(f'builds_on = "{design}"\nunit = "cm"\n{wearer}').finish.hem_depth


def _overlay(tape: Tape) -> Iterator[Figure]:
    for edge in (piece for piece in tape.hanging if piece.lines(role=Role.SHOULDER)):
        side = edge.lines(role=Role.SHOULDER)[0].side
        ends = [p for line in tape.lines(edge.face, Role.SHOULDER, side) for p in points_of(line)]
        if ends:
            yield "overlay outside the shoulder point", outside(edge, min(ends, key=lambda p: p[1]))


def census_body(group: str, number: int) -> tuple[list[Figure], Counter[str]]:
    """Draft one body in every design and fit; return the figures, and what became of the designs."""
    body = make_body(f"{group} {number}", people(group)[number], rules=GROUPS[group])
    out: list[Figure] = []
    became = Counter[str]()
    deep: dict[tuple[str, Fit], float] = {}
    for design in sorted(catalogue().designs):
        for fit in Fit:
            cloths = (POPLIN, POPLIN) if design in WOVENS else (JERSEY, RIB)
            brief = Brief(body, cloths[0], fit, {"rib": cloths[1]})
            try:
                garment = draft_job(with_changes(job_of(design), [], brief))
                proof = prove(garment, brief)
                out += figures_of(design, garment, brief, proof)
            except DraftingError:
                became[f"{design}: refused"] += 1
                continue
            except Exception as error:  # a fault is counted: the rest of the census is worth having
                became[f"{design}: broken"] += 1
                print(f"{body.name}, {design}, {fit}: {error!r}", file=sys.stderr)
                continue
            became[f"{design}: {'proven' if proof.passed else 'not proven'}"] += 1
            if (at := Tape(garment).underarm()) is not None:
                deep[design, fit] = at[1]
    return [*out, *_compared(deep)], became


def _compared(deep: dict[tuple[str, Fit], float]) -> Iterator[Figure]:
    """The armhole's depth from fit to fit, and of a sleeveless woven against the sleeved."""
    for design in WOVENS:
        close, relaxed = deep.get((design, Fit.CLOSE)), deep.get((design, Fit.RELAXED))
        if close is not None and relaxed is not None:
            yield "relaxed underarm below close, woven", close - relaxed
    for fit in Fit:
        bare, sleeved = deep.get(("princess-top", fit)), deep.get(("fitted-bodice", fit))
        if bare is not None and sleeved is not None:
            yield "underarm of a sleeveless woven above the sleeved", bare - sleeved


def percentile(values: list[float], share: float) -> float:
    """A percentile of sorted values, between neighbours by share."""
    at = share * (len(values) - 1)
    low = math.floor(at)
    high = min(low + 1, len(values) - 1)
    return values[low] + (values[high] - values[low]) * (at - low)


def show(found: Iterable[Figure]) -> None:
    """Print the table."""
    told: dict[str, list[float]] = defaultdict(list)
    for name, value in found:
        told[name].append(value)
    print("| Figure | 5th | median | 95th | trade's limits | outside | of |\n|---|---|---|---|---|---|---|")
    for name, (least, most) in LIMITS.items():
        values = sorted(told.pop(name, []))
        if not values:
            print(f"| {name} | - | - | - | {_tell_limits(least, most)} | - | 0 |")
            continue
        places = 2 if "times" in name else 1 if "deg" in name else 0
        near = 0.005 if places == 2 else 0.05
        out = sum(not least - near <= value <= most + near for value in values) / len(values)
        figures = " | ".join(f"{percentile(values, share):.{places}f}" for share in (0.05, 0.5, 0.95))
        print(f"| {name} | {figures} | {_tell_limits(least, most)} | {out:.1%} | {len(values)} |")
    assert not told, f"no limits stand for {sorted(told)}"


def _tell_limits(least: float, most: float) -> str:
    if math.isinf(most):
        return f"at least {least:g}"
    return f"at most {most:g}" if least == 0.0 else f"{least:g} to {most:g}"


def main(every: int) -> int:
    """Run the sample over two processes and print; always 0."""
    start = time.perf_counter()
    chosen = [(group, number) for group in GROUPS for number in range(0, len(people(group)), every)]
    found: list[Figure] = []
    became = Counter[str]()
    with ProcessPoolExecutor(2) as pool:
        for figures, counted in pool.map(census_body, *zip(*chosen, strict=True), chunksize=2):
            found += figures
            became += counted
    print(f"{len(chosen)} bodies, every {every}th of {', '.join(GROUPS)}; {time.perf_counter() - start:.0f} s\n")
    show(found)
    for design in sorted(catalogue().designs):
        counts = [
            f"{what} {became[f'{design}: {what}'] / 3 / len(chosen):.1%}" for what in ("proven", "refused", "broken")
        ]
        print(f"\n{design}: {', '.join(counts)}", end="")
    print()
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 25))
