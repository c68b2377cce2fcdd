"""Measurements to take again, as a remedy: "again" is said of those alone that were taken, and not estimated."""

from __future__ import annotations

from drafting.body import Body, measurements
from drafting.record import dataclass
from drafting.saying import Words, list_sayings, say


@dataclass(frozen=True, slots=True)
class Retake:
    """A remedy that begins with, or holds, measurements to take: a template with "{again}" in their place.

    ``names`` are of the wearer's measurements, as a ticket has them.
    """

    names: tuple[str, ...]
    template: str = "{again}"

    def words(self, body: Body) -> Words:
        """Return what is said to a body of which so much was measured."""
        taken = [name for name in self.names if _is_taken(body, name)]
        lacking = [name for name in self.names if name not in taken]
        parts = [say("measure {names} again", names=_join_names(taken))] if taken else []
        if lacking:
            way = "and also {names}, so far estimated" if taken else "measure {names}, so far estimated"
            parts.append(say(way, names=_join_names(lacking)))
        return say(self.template, again=list_sayings(parts))


def _is_taken(body: Body, name: str) -> bool:
    """Whether a measurement was taken, be it on one side or both."""
    return any(name in (given, measurements()[given].both) for given in body.given)


def _join_names(names: list[str]) -> Words:
    return list_sayings(names, last=" and ")
