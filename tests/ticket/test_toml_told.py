"""What isn't TOML is told in words of our own: the place, what stands there, and the mend that is likely meant."""

from __future__ import annotations

import time

import pytest

from drafting.errors import InputError
from drafting.ticket.reading import parse_toml
from tests.laws.jobs import WEARER, job_from
from tests.plain_words import engine_words


def told(text: str) -> str:
    """What is said of a text that is refused."""
    with pytest.raises(InputError) as refused:
        parse_toml(text, "alto.toml")
    (problem,) = refused.value.problems
    assert problem.mend
    assert not engine_words(str(problem.mend)), problem.mend
    return problem.sentence()


@pytest.mark.parametrize(
    ("text", "place", "mend"),
    [
        ("[cloth]\nelastane = False", "line 2", "elastane = false"),
        ("nap = yes # I think", "line 1", "nap = true"),
        ("[cloth]\nwidth = 1\n\n[cloth]\nnap = true", "the first is on line 1", "put its keys under the first"),
        ("[changes]\nby = 1\n[[changes]]\nby = 2", "line 3", "write [[changes]] above each"),
        ("width = 1\nwidth = 2", "width stands here a second time", "take one of the two out"),
        ("bust_girth = 92,5", "92,5 stands here", "bust_girth = 92.5"),
        ("fit = close", "without quotes", 'fit = "close"'),
        ('fit = "close', "line 1, column 13", 'put " at its end'),
        ("fit = “close”", "another kind", 'fit = "close"'),
        ("by = 96 cm", "without quotes", 'by = "96 cm"'),
        ("by = 37 3/4 in", "without quotes", 'by = "37 3/4 in"'),
        ('by = 36"', "without quotes", 'by = "36 in"'),
        ("share = 30 %", "without quotes", 'share = "30 %"'),
        ('fit: "close"', "a : stands", "write = for it"),
        ("a note of mine", "neither a key", "begin it with #"),
        ("by =", "by has no value", "take the line out"),
        ("by = .5", ".5 stands here", "by = 0.5"),
        ("by = 007", "007 stands here", "by = 7"),
        ("[cloth", "isn't closed", "write [cloth]"),
        ("bust girth = 92", "“bust girth”", "bust_girth"),
        ("[wearer body]", "“wearer body”", "wearer.body"),
        ("by = 1 share = 2", "“share = 2”", "one key on each line"),
        ("title = 'the alto's'", "ends at its second '", 'title = "the alto\'s"'),
        ('title = "a\\y"', "a \\ stands", "take it out"),
        ("by = [[1]\nfit = 2", "on a line above", "isn't closed"),
        ('title = "a\x01"', "doesn't print", "take it out"),
    ],
)
def test_each_slip_is_told_with_its_mend(text: str, place: str, mend: str) -> None:
    """Each names the file, what stands there, and how it should read."""
    said = told(text)
    assert said.startswith("alto.toml, line ")
    assert place in said
    assert mend in said


@pytest.mark.parametrize("line", ["[" + " " * 990 + "]x", "a = " + "1 " * 480 + "x", "by = " + " " * 900 + "b"])
def test_a_long_line_is_told_at_once(line: str) -> None:
    """However odd it is, and in a file of many such lines."""
    begun = time.perf_counter()
    told("\n".join([line] * 200))
    assert time.perf_counter() - begun < 0.5


@pytest.mark.parametrize(
    ("text", "home"),
    [
        ("stature = 166", "stature stands under [wearer.body]"),
        ("elastane = true", "elastane stands under [cloth]"),
        ('[cloth]\nunit = "cm"', "unit stands at the top of a ticket"),
        ("[wearer.body]\nmargin = 5", "margin stands under [paper]"),
    ],
)
def test_a_key_of_another_table_is_told_where_it_belongs(text: str, home: str) -> None:
    """As where a table's name was lost, or its keys were written below another."""
    with pytest.raises(InputError) as refused:
        job_from(f"{text}\n{'' if '[' in text else WEARER}")
    assert home in str(refused.value)


@pytest.mark.parametrize(
    ("change", "line", "says", "never"),
    [
        ("vents", "length = 5", "did you mean height?", "stands under"),
        ("neckline", 'shape = "v"', "did you mean front or back?", "stands under"),
        ("shoulder", 'narrow = "90 cm"', "take a figure within these: ", "did you mean"),
    ],
)
def test_a_word_for_a_key_of_the_change_is_told_by_that_key(change: str, line: str, says: str, never: str) -> None:
    """Though another table has a key of that name; a figure out of range is told with what it is."""
    with pytest.raises(InputError) as refused:
        job_from(f'builds_on = "basic-tee"\n{WEARER}\n[[changes]]\nchange = "{change}"\n{line}')
    assert says in str(refused.value)
    assert never not in str(refused.value)
