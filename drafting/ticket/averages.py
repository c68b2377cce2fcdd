"""Averages that a ticket doesn't state, where its wearer's measurements are far likelier by the other ones."""

from __future__ import annotations

from drafting.body.likely import is_other_likelier
from drafting.proof.finding import Finding, Severity
from drafting.saying import say
from drafting.ticket.job import Job

CODE = "body.averages"


def find_other_averages(job: Job) -> tuple[Finding, ...]:
    """Return a note that a ticket without the key ``averages`` may want the other ones, or nothing."""
    body = job.brief.body
    if not job.said or ("wearer", "averages") in dict(job.said) or not is_other_likelier(body.given, body.rules):
        return ()
    other = "men" if body.rules == "women" else "women"
    told = say(
        "what wasn't measured is estimated by the averages of {rules}, and these measurements are far likelier among "
        "{other}",
        rules=body.rules,
        other=other,
    )
    mend = f'write averages = "{other}" under [wearer]; if they are right as they are, averages = "{body.rules}"'
    return (Finding(CODE, Severity.NOTE, "averages", None, None, told, mend, ""),)
