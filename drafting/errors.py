"""Everything the engine can say no with: a root error, and fields a caller can react to.

Errors carry what was read, where, what is allowed and the mend, so that the command line, a test and a form
can each show them their own way.
"""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import field

from drafting.record import dataclass
from drafting.saying import Saying, Unit, Words
from drafting.sides import speak_name


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong with what was given.

    ``where`` names the file and key ("alto.toml: wearer.body.bust_girth"), ``read`` what stood there,
    ``allowed`` what may stand there, ``mend`` what to do about it, ``close`` names that are nearly it.
    """

    where: str
    read: Words
    allowed: Words = ""
    mend: Words = ""
    close: tuple[str, ...] = field(default=())

    def sentence(self) -> str:
        """Return the problem as one line of plain text, its lengths in mm."""
        parts = [f"{self.where}: {self.read}" if self.where else str(self.read)]
        if self.allowed:
            parts.append(f"allowed: {self.allowed}")
        if self.close:
            parts.append("did you mean " + " or ".join(self.close) + "?")
        if self.mend:
            parts.append(str(self.mend))
        return "; ".join(parts)


def install_words(extra: str) -> str:
    """Return how an extra is installed, by the Python that runs: another's wouldn't know this package."""
    return f'install what it needs: "{sys.executable}" -m pip install "blockwright[{extra}]"'


class DraftingError(Exception):
    """Root of every error raised on purpose by the engine, its blocks and its changes.

    It is raised with plain words, or with a saying where there are lengths or sides in them.
    """

    @property
    def words(self) -> Words:
        """What it says, to be said again in another saying."""
        return self.args[0] if len(self.args) == 1 and isinstance(self.args[0], Saying) else str(self)


class InputError(DraftingError, ValueError):
    """What was given can't be used; carries one or more problems."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(problem.sentence() for problem in self.problems))


class CannotDraft(DraftingError):
    """A block or a change can't be drawn for this body, cloth or design.

    ``because`` names the measurement, option or cloth figure that stands in the way, or several, ``short_by`` by how
    much (mm, 0 where that has no meaning), ``help`` what would mend it; reason and help are sayings where there is a
    length or a side in them. ``leave_out`` says that to leave this block out would mend it. The ``step`` that is taken
    adds its name. The job adds ``where`` the ticket asks for it, ``write`` (what to write where, to mend it), ``since``
    (another change, without which it could be drawn), and the ``unit`` its maker reads.
    """

    def __init__(
        self,
        because: str | tuple[str, ...],
        reason: Words,
        *,
        short_by: float = 0.0,
        help: Words = "",
        leave_out: bool = False,
    ) -> None:
        self.step = ""
        self.because = (because,) if isinstance(because, str) else because
        self.reason = reason
        self.short_by = short_by
        self.help = help
        self.leave_out = leave_out
        self.where = ""
        self.write = ""
        self.since = ""
        self.unit: Unit = "cm"
        super().__init__(because, reason)

    @property
    def spoken_because(self) -> str:
        """What stands in the way as a maker reads it: keys as they are written, places as they are spoken."""
        return ", ".join(map(speak_name, self.because))

    def __str__(self) -> str:
        """Return the refusal as one line."""
        names, help = ", ".join(self.because), f"; {self.help}" if self.help else ""
        return f"{self.step}{': ' if self.step else ''}{self.reason}{f' ({names})' if names else ''}{help}"


class GeometryError(DraftingError, ValueError):
    """A shape that can't be drawn, said for a maker: "turned so far, the piece would run over itself"."""


class NoAnswer(GeometryError):
    """A question in the plane that has no answer, or more than one where one was asked for.

    Its text is for whoever programs; its ``words`` are what a maker reads of it.
    """

    @property
    def words(self) -> Words:
        """What a maker reads."""
        return NO_SHAPE


NO_SHAPE = "there is no such shape with these figures"


def close_matches(name: str, known: Iterable[str], limit: int = 3) -> tuple[str, ...]:
    """Return up to ``limit`` known names that are spelt nearly like ``name``, else those of which it is a word.

    >>> close_matches("bust", ["waist_girth", "bust_girth"])
    ('bust_girth',)
    """
    from difflib import get_close_matches

    read, names = name[:80].lower(), sorted(known)
    close = get_close_matches(read, names, n=limit, cutoff=0.6)
    within = [each for each in names if read in each.replace("-", "_").split("_")]
    return tuple(close or sorted(within, key=lambda each: not each.endswith("_girth"))[:limit])
