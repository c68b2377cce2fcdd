"""A man without the key is told of it, once; who states it, or is likely as the ticket has it, isn't."""

from __future__ import annotations

import pytest

from drafting.saying import render
from drafting.ticket.averages import find_other_averages
from tests.laws.jobs import WEARER, job_from

TENOR = """[wearer]
name = "Tenor"
{averages}
[wearer.body]
stature = "176 cm"
bust_girth = "100 cm"
waist_girth = "86 cm"
hip_girth = "99 cm"
back_neck_point_to_waist = "47 cm"

[cloth]
kind = "knit"
stretch_across = "50 %"
"""


@pytest.mark.parametrize("averages", ["men", "women"])
def test_averages_are_told_until_they_are_stated(averages: str) -> None:
    """The note has what to write, and either way of writing it ends the note."""
    (note,) = find_other_averages(job_from('builds_on = "knit-top"\n' + TENOR.format(averages="")))
    stated = f'averages = "{averages}"'
    assert stated in render(note.remedy, "cm")
    assert not find_other_averages(job_from('builds_on = "knit-top"\n' + TENOR.format(averages=stated)))


def test_a_likely_wearer_is_told_nothing_of_averages() -> None:
    """A woman by the averages that hold where none are stated."""
    assert not find_other_averages(job_from(f'builds_on = "knit-top"\n{WEARER}'))
