"""The ticket: the one input file, read whole into a job.

What stands here is loaded when it is first asked for: a ticket needs all of the engine, its help needs none of it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from drafting.ticket.catalogue import Catalogue, find_catalogue
    from drafting.ticket.compose import read_job
    from drafting.ticket.job import Job, Planned
    from drafting.ticket.schema import ticket_schema

__all__ = ["Catalogue", "Job", "Planned", "find_catalogue", "read_job", "ticket_schema"]

_HOMES = {
    "Catalogue": "catalogue",
    "find_catalogue": "catalogue",
    "read_job": "compose",
    "Job": "job",
    "Planned": "job",
    "ticket_schema": "schema",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
