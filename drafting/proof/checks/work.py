"""The order of work: whether each step can be done, and whether edges and faces end as a garment's should."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from drafting.garment import Brief, Garment
from drafting.proof.finding import Finding, Severity
from drafting.saying import Words, say, without_sides
from drafting.work import make_up
from drafting.work.edges import FlawKind, WorkFlaw, find_flaws
from drafting.work.sewing import WorkStep, steps_of_work

_SAID: Mapping[FlawKind, tuple[str, str]] = MappingProxyType(
    {
        FlawKind.WRONG_SIDE: ("{seam:lower} ends with a wrong side showing", "turn what is sewn on there"),
        FlawKind.UNTOLD: ("no step sews {seam:lower}", "tell it in the step of the seam it makes ready"),
        FlawKind.TOO_EARLY: ("step {step} sews {seam:lower} before {other:lower}, which it crosses", "sew that first"),
        FlawKind.ENCLOSED: ("step {step} sews {seam:lower} in an edge that lies enclosed by then", "sew it before"),
        FlawKind.UNTURNABLE: ("in step {step} {seam:lower} can't be turned out any more", "sew it before"),
    }
)
"""What is said of a seam, and what would mend it."""


def check_work(garment: Garment, brief: Brief, steps: Iterable[WorkStep] | None = None) -> tuple[Finding, ...]:
    """Judge the steps of the work: those that the garment's seams give, unless others are given.

    Steps that a kind of seam can't tell aren't judged: whoever writes the order of work says whose fault that is.
    """
    try:
        taken = steps_of_work(make_up(garment), garment, "mm") if steps is None else steps
    except Exception as error:
        if getattr(error, "__notes__", ()):
            return ()
        raise
    return tuple(_say_flaws(garment, find_flaws(garment, taken)))


def _say_flaws(garment: Garment, flaws: Iterable[WorkFlaw]) -> Iterator[Finding]:
    """The flaws as findings, the raw edges of one piece told once."""
    for flaw in flaws:
        words, remedy = _say_flaw(garment, flaw)
        yield Finding(f"work.{flaw.kind}", Severity.ERROR, flaw.place, None, None, words, remedy, "")


def _say_flaw(garment: Garment, flaw: WorkFlaw) -> tuple[Words, str]:
    if flaw.kind in (FlawKind.RAW, FlawKind.HEM):
        name, line = flaw.place.split(".", 1)
        piece = garment.piece(name)
        title, role = without_sides(piece.title), piece.line(line).role.value
        if flaw.kind is FlawKind.RAW:
            mend = "give it a band, a binding, a facing or a hem, or let its step neaten it"
            return say("the {role} of the {title:lower} ends raw", role=role, title=title), mend
        seam = garment.seam(flaw.other).title
        return say(
            "the {role} of the {title:lower} is turned up at the wrong time for {seam:lower}",
            role=role, title=title, seam=seam,
        ), "turn it after the seams that it crosses, and before one that takes in its ends"  # fmt: skip
    template, mend = _SAID[flaw.kind]
    other = garment.seam(flaw.other).title if flaw.other else ""
    return say(template, seam=garment.seam(flaw.place).title, step=flaw.step, other=other), mend
