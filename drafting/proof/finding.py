"""What a check has to say: a finding, and how grave it is."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from drafting.finishing.labels import name_cloth
from drafting.mending import Situation
from drafting.record import dataclass
from drafting.saying import Words
from drafting.sides import speak_name


class Severity(StrEnum):
    """How grave a finding is: an error means that the garment won't go together or won't fit."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


_ORDER = (Severity.ERROR, Severity.WARNING, Severity.NOTE)


OF_FIT = "fit."
"""With which the codes of what misses the body begin."""

SAY_WHERE = (
    *(OF_FIT, "body.", "cutting.width", "ease.", "bands.", "applied.", "handed.", "openings.", "stride."),
    "ticket.unheeded",
)
"""With which the codes of findings begin whose sentences name what they are about."""

OF_TAPE = ("body.doubtful", "body.asked")
"""The codes of findings that doubt a measurement, or ask whether it is right."""

UNSUITED = "cloth.gives"
"""The code of a finding that the cloth is of another kind than the design is drafted for: others follow from it."""

OF_CLOTHS = "cloths."
"""With which the place of a finding begins that is of another cloth than the main one."""

SINCE = "It came in with {}: leave that out, or ask for less of it"
"""What is said of the change that an error came in with."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check found.

    ``code`` is the check and what it found ("seams.length"), ``place`` the seam, piece, line or opening.
    ``value`` and ``limit`` are in ``measure``: "mm", "rad", "share", or "" for a count; None where there is no figure.
    ``sentence`` says what is wrong and ``remedy`` what would mend it, as values until they are rendered. ``since`` is
    the change of the ticket that an error came in with ("alto.toml: changes[2] (flare)"), "" where it would be there
    without any. ``wanted`` names the situation, for whatever change mends it to be advised in the remedy.
    """

    code: str
    severity: Severity
    place: str
    value: float | None
    limit: float | None
    sentence: Words
    remedy: Words = ""
    measure: str = "mm"
    since: str = ""
    wanted: Situation | None = None

    def __post_init__(self) -> None:
        """Take a plain "error" for what it says; ValueError where it is no severity."""
        object.__setattr__(self, "severity", Severity(self.severity))

    @property
    def where(self) -> str:
        """Where it was found, as it is spoken: "left armhole", "lining"; "" where the sentence says it itself."""
        if self.code.startswith(SAY_WHERE):
            return ""
        if self.place.startswith(OF_CLOTHS):
            return name_cloth(self.place.removeprefix(OF_CLOTHS))
        return speak_name(self.place.rpartition(":")[2]).replace("_", " ")


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings with errors first, then warnings, then notes; otherwise in their own order.

    Of warnings those come first that doubt a measurement, or the cloth: what else is found may follow from it.
    """
    return tuple(
        sorted(findings, key=lambda each: (_ORDER.index(each.severity), each.code not in (*OF_TAPE, UNSUITED)))
    )
