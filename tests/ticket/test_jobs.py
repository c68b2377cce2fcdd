"""Tickets become jobs: what builds on what, what is merged, in which order steps are taken, what is refused."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drafting.cloth import Fit
from drafting.errors import InputError, Problem
from drafting.ticket import Job, read_job
from tests.kinds import kind as kind_of
from tests.ticket.stubs import WHOLE, BodyOptions, EdgeOptions, catalogue

Write = Callable[..., Path]


def job(path: Path, **designs: Path) -> Job:
    """Read a ticket against the stubs."""
    return read_job(path, catalogue(**designs))


def refusal(path: Path, **designs: Path) -> str:
    """Return all that is said of a ticket that is refused."""
    with pytest.raises(InputError) as caught:
        job(path, **designs)
    return str(caught.value)


def body_of(read: Job) -> BodyOptions:
    """Return the options of the stub of a body."""
    options = next(each.options for each in read.steps if each.step.name == "stub-body")
    assert isinstance(options, BodyOptions)
    return options


def test_the_least_ticket_is_a_job_with_defaults(write: Write) -> None:
    """All that isn't said has a default: semi-fitted, 1 cm, A4; there is one cloth."""
    read = job(write(WHOLE))
    assert (read.title, read.wearer, read.unit) == ("Test top", "Alto", "cm")
    assert read.brief.fit is Fit.SEMI
    assert not read.brief.cloths
    assert read.finish.allowance == pytest.approx(10.0)
    assert read.paper.paper.name == "A4"
    assert body_of(read) == BodyOptions()


def test_steps_are_sorted_by_stage_and_otherwise_keep_their_order(write: Write) -> None:
    """An edge named first is still drafted after the sleeve, and a mirror comes last."""
    more = """
[blocks.band]
block = "stub-edge"
[blocks.collar]
block = "stub-edge"
[blocks.arms]
block = "stub-sleeve"
[[changes]]
change = "stub-mirror"
[[changes]]
change = "stub-lengthen"
"""
    read = job(write(WHOLE + more))
    assert [each.label for each in read.steps] == ["body", "stub-lengthen", "arms", "band", "collar", "stub-mirror"]


def test_a_label_that_is_a_blocks_name_needs_no_block_key(write: Write) -> None:
    """[blocks.stub-edge] is the block stub-edge."""
    read = job(write(WHOLE + '[blocks.stub-edge]\ndepth = "6 cm"'))
    assert read.steps[-1].options == EdgeOptions(depth=60.0)


def test_a_ticket_states_only_what_differs(write: Write) -> None:
    """Tables are merged deeply, changes appended, and what is left out goes."""
    write(
        WHOLE
        + """neck = "vee"
drop = 5
[blocks.band]
block = "stub-edge"
[[changes]]
change = "stub-lengthen"
depth = 2
""",
        "base.toml",
    )
    read = job(
        write(
            """
builds_on = "base.toml"
leave_out = ["blocks.band"]
[wearer]
same_person = true
[wearer.body]
bust_girth = 100
[blocks.body]
drop = 7
[[changes]]
change = "stub-lengthen"
depth = 3
"""
        )
    )
    assert read.title == "Test top"
    assert read.wearer == "Alto"
    assert (read.brief.body["bust_girth"], read.brief.body["waist_girth"]) == (1000.0, 800.0)
    assert (body_of(read).neck, body_of(read).drop) == ("vee", 70.0)
    assert [each.options for each in read.steps[1:]] == [EdgeOptions(20.0), EdgeOptions(30.0)]


def test_plain_numbers_keep_the_unit_of_their_own_file(write: Write) -> None:
    """A design in inches stays one under a ticket in centimetres; a file without a unit takes that of its base."""
    design = write('unit = "in"\n[blocks.body]\nblock = "stub-body"\ndrop = 2\n', "design.toml")
    text = WHOLE.replace('[blocks.body]\nblock = "stub-body"\n', "")
    own = job(write('builds_on = "a-design"\nunit = "cm"\n' + text), a_design=design)
    assert body_of(own).drop == pytest.approx(50.8)
    assert own.brief.body["bust_girth"] == 960.0
    inches = text.replace("168", "66").replace("96", "38").replace("80", "31").replace("102", "40").replace("41", "16")
    inherited = job(write('builds_on = "a-design"\n' + inches), a_design=design)
    assert inherited.unit == "in"
    assert inherited.brief.body["bust_girth"] == pytest.approx(965.2)


def test_another_block_takes_none_of_the_old_ones_options(write: Write) -> None:
    """The base's edge has a depth; the body put in its place has none, and isn't given it."""
    write(WHOLE + '[blocks.extra]\nblock = "stub-edge"\ndepth = 5\n', "base.toml")
    read = job(write('builds_on = "base"\n[blocks.extra]\nblock = "stub-body"\ndrop = 1\n'))
    assert {each.label: each.options for each in read.steps}["extra"] == BodyOptions(drop=10.0)


def test_a_design_is_found_by_name_and_a_ticket_beside_by_its_stem(write: Write, tmp_path: Path) -> None:
    """And a name that is neither is refused with near ones."""
    (tmp_path / "designs").mkdir()
    design = write('[blocks.body]\nblock = "stub-body"\nneck = "vee"\n', "designs/knit.toml")
    text = WHOLE.replace('[blocks.body]\nblock = "stub-body"\n', "")
    assert body_of(job(write('builds_on = "knit-top"\n' + text), knit_top=design)).neck == "vee"
    said = refusal(write('builds_on = "knit-tip"\n' + text), knit_top=design)
    assert "alto.toml: builds_on" in said
    assert "did you mean knit-top?" in said
    assert "there is no file" in refusal(write('builds_on = "gone.toml"\n' + text))


def test_a_problem_in_a_base_names_the_bases_file(write: Write) -> None:
    """The mend is to be made there."""
    write(WHOLE.replace("bust_girth = 96", "bust_girth = 9600"), "base.toml")
    path = write('builds_on = "base.toml"\n[blocks.body]\nneck = "vea"\n')
    said = refusal(path)
    assert "alto.toml: blocks.body.neck" in said
    write(WHOLE.replace('"30 %"', '"300 parsecs"'), "base.toml")
    assert "base.toml: cloth.stretch_across" in refusal(path)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('title = "Test top"', "titel = 3", "did you mean title?"),
        ('title = "Test top"', "title = 3", "text in quotes"),
        ('title = "Test top"', 'unit = "furlong"', "cm, mm or in"),
        ('title = "Test top"', 'fit = "semi"', "close, semi-fitted or relaxed"),
        ('title = "Test top"', 'fit = "semifitted"', "did you mean semi-fitted?"),
        ('title = "Test top"', "changes = 3", "[[changes]]"),
        ('title = "Test top"', "cloths = 3", "a table"),
        ('title = "Test top"', 'title = "a\\u001b[31m"', "control characters"),
        ('title = "Test top"', 'title = "a\\u202eb"', "control characters"),
        ('title = "Test top"', f'title = "{"x" * 300}"', "300 characters"),
        ('name = "Alto"', 'nam = "Alto"', "did you mean name?"),
        ('name = "Alto"', 'averages = "child"', "women or men"),
        ("bust_girth", "bust_grith", "did you mean bust_girth"),
        ("bust_girth = 96", "bust_girth = -96", "zero or more"),
        ("bust_girth = 96", "bust_girth = nan", "ordinary number"),
        ("bust_girth = 96", "bust_girth = inf", "ordinary number"),
        ("bust_girth = 96", "bust_girth = 1e300", "ordinary number"),
        ("bust_girth = 96", 'bust_girth = "96 ells"', "a number, then its unit"),
        ("bust_girth = 96", 'bust_girth = ""', "filled in"),
        ("bust_girth = 96", "bust_girth = true", "number"),
        ("bust_girth = 96", "bust_girth = {cm = 96}", "a table stands here"),
        ("bust_girth = 96\n", "", "wearer.body.bust_girth: missing"),
        ("bust_girth = 96", "bust_girth = 38", 'write "38 in"'),
        ("stature = 168", "body_mass = nan", "kg"),
        ("stature = 168", 'body_mass = "60 stone"', "kg"),
        ('stretch_across = "30 %"', "", "stretch_across: missing"),
        ('stretch_across = "30 %"', "stretch_across = 30", '"30 %"'),
        ('stretch_across = "30 %"', 'stretch_accross = "30 %"', "did you mean stretch_across"),
        ('stretch_across = "30 %"', 'stretch_across = "30 %"\nwidth = "9 km"', "mm, cm, m, in"),
        ('stretch_across = "30 %"', 'stretch_across = "30 %"\nwidth = "98 %"', "a length here, not a share"),
        ('stretch_across = "30 %"', 'stretch_across = "30 %"\nstripe = {uneven = true}', "stripe.repeat: missing"),
        ('block = "stub-body"', 'block = "stub-bodi"', "did you mean stub-body"),
        ('block = "stub-body"', "block = 3", "no block is named"),
        ('block = "stub-body"', 'block = "stub-edge"\ndepth = "7.7 cm"', "77 is refused"),
        ('block = "stub-body"', 'block = "stub-body"\nleave_out = true', "leave_out stands at the top of a ticket"),
        ('title = "Test top"', "leave_out = true", 'a list of names in quotes, such as ["blocks.cuffs"'),
        ('title = "Test top"', "leave_out = [3]", "a list of names in quotes"),
        ('name = "Alto"', "same_person = 1", "true or false"),
        ('[blocks.body]\nblock = "stub-body"\n', "", "nothing to draft"),
        ('[blocks.body]\nblock = "stub-body"\n', "[blocks]\nbody = 3", "a table"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[[changes]]\ndepth = 3\n', "no change is named"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[[changes]]\n', "no change is named"),
        (
            'block = "stub-body"\n',
            'block = "stub-body"\n[[changes]]\nchange = "stub-mirror"\ndepht = 3\n',
            "changes[1].depht",
        ),
        ('block = "stub-body"\n', 'block = "stub-body"\n[seams]\nsied = 3\n', "did you mean side?"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[seams]\nhem = 3\n', "it is now called hem_depth"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[trim]\nwidth = 3\n', "it is now called [cloths.NAME]"),
        (
            'block = "stub-body"\n',
            'block = "stub-body"\n[paper]\nsquare_across = 99\n',
            "it is now called square_10cm_across or square_4in_across",
        ),
        ("bust_girth = 96", "bust = 96", "did you mean bust_girth"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[seams]\nside = "1 m"\n', "0.0 cm to 6.0 cm"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[paper]\nsize = "A44"\n', "allowed: A4, A3"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[paper]\nsize = "2 x 3 cm"\n', "alto.toml: paper.size"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[paper]\nsize = "1 x 9999999 m"\n', "paper.size"),
        ('block = "stub-body"\n', 'block = "stub-body"\n[paper]\njoin = "glue"\n', "butt or overlap"),
    ],
)
def test_what_is_wrong_is_told_with_its_place_and_mend(write: Write, old: str, new: str, says: str) -> None:
    """Each is one mistake in an otherwise good ticket."""
    assert old in WHOLE
    said = refusal(write(WHOLE.replace(old, new, 1)))
    assert says in said
    assert "alto.toml" in said


def test_measurements_that_cannot_be_read_are_not_called_missing_too(write: Write) -> None:
    """One mistake, one problem."""
    said = refusal(write(WHOLE.replace("bust_girth = 96", 'bust_girth = "wide"')))
    assert len(said.splitlines()) == 1


def test_seams_and_paper_are_read(write: Write) -> None:
    """Allowances by kind, hems, and a printer that is off."""
    read = job(
        write(
            WHOLE
            + """
[seams]
all = "1 cm"
side = "1/2 in"
hem_depth = 3
on_fold = false
[paper]
size = "US Letter"
orientation = "landscape"
join = "overlap"
overlap = "12 mm"
square_10cm_across = "99 mm"
square_4in_along = "4 1/16 in"
"""
        )
    )
    assert read.finish.allowance_of(kind_of("side")) == pytest.approx(12.7)
    assert read.finish.allowance_of(kind_of("neck")) == pytest.approx(10.0)
    assert (read.finish.hem_depth, read.finish.on_fold) == (30.0, False)
    assert read.paper.paper.name == "US Letter"
    assert (read.paper.correct_x, read.paper.correct_y) == pytest.approx((100 / 99, 4 / 4.0625))
    assert read_job(write(WHOLE), catalogue(), paper={"size": "A3"}).paper.paper.name == "A3"
    with pytest.raises(InputError, match="--paper"):
        read_job(write(WHOLE), catalogue(), paper={"size": "A33"})


@pytest.mark.parametrize(
    ("said", "asks"),
    [
        ('square_10cm_across = "4 in"', "the 4 in square measures where the printer is right"),
        ('square_4in_across = "98 mm"', "write square_10cm_across in its place"),
        ('square_4in_along = "100.2 mm"', "write square_10cm_along in its place"),
        ('square_10cm_across = "98 mm"\nsquare_4in_across = "99.6 mm"', "square_10cm_across is given too"),
        ('square_10cm_along = "3 in"', "9.1 cm to 10.9 cm"),
    ],
)
def test_what_a_square_cannot_have_measured_is_questioned(write: Write, said: str, asks: str) -> None:
    """What the other square measures where the printer is right was taken from that one; two answers are too many."""
    ticket = write(f"{WHOLE}\n[paper]\n{said}\n")
    with pytest.raises(InputError) as refused:
        job(ticket)
    (problem,) = refused.value.problems
    assert asks in f"{problem.read} {problem.allowed} {problem.mend}"


def test_the_mark_follows_what_is_said_and_nothing_else(write: Write, tmp_path: Path) -> None:
    """Not the file's name or place, not how a figure is written; but any figure, name or paper."""
    mark = job(write(WHOLE)).mark
    (tmp_path / "other").mkdir()
    assert job(write("# a remark\n" + WHOLE, "other/tenor.toml")).mark == mark
    assert job(write(WHOLE.replace("bust_girth = 96", 'bust_girth = "960 mm"'))).mark == mark
    others = {
        job(write(WHOLE.replace(old, new))).mark
        for old, new in (
            ("bust_girth = 96", "bust_girth = 96.1"),
            ('"Alto"', '"Tenor"'),
            ('"30 %"', '"31 %"'),
            ('block = "stub-body"', 'block = "stub-body"\nlined = true'),
        )
    }
    others.add(read_job(write(WHOLE), catalogue(), paper={"size": "A3"}).mark)
    assert len(others | {mark}) == 6
    assert len(mark) == 6
    assert not set(mark) & set("01IO")
    assert job(write(WHOLE)).finish.mark == mark


def test_a_broken_installation_is_told_in_words(write: Write) -> None:
    """A block that can't be imported, and one that is no step."""

    def absent() -> object:
        raise ImportError("No module named 'gone'")

    broken = catalogue()
    for loader in (absent, lambda: 3):
        known = {**broken.blocks, "stub-body": loader}
        with pytest.raises(InputError, match="can't be loaded"):
            read_job(write(WHOLE), type(broken)(blocks=known))


KEYS = [
    "title",
    "builds_on",
    "unit",
    "fit",
    "wearer",
    "cloth",
    "cloths",
    "blocks",
    "changes",
    "seams",
    "paper",
    "odd",
]
ANY = st.recursive(
    st.one_of(
        st.booleans(),
        st.integers(-(10**18), 10**18),
        st.floats().map(lambda number: number),
        st.text(st.characters(codec="utf-8", exclude_categories=["Cc"]), max_size=12),
        st.sampled_from(["stub-body", "stub-mirror", "A4", "30 %", "96 cm", "close", "cm"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3),
        st.dictionaries(
            st.sampled_from(["body", "block", "change", "name", "drop", "size", "stripe", "x"]), inner, max_size=3
        ),
    ),
    max_leaves=8,
)


def as_toml(value: object) -> str:
    """Write a value inline."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return '"' + value.replace("\\", "\\\\").replace('"', '\\"') + '"'
    if isinstance(value, list):
        return "[" + ", ".join(map(as_toml, value)) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {as_toml(inner)}" for key, inner in value.items()) + "}"
    return str(value)


@settings(
    deadline=None, derandomize=True, max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(tables=st.dictionaries(st.sampled_from(KEYS), ANY, min_size=1, max_size=4))
def test_any_toml_is_a_job_or_refused_in_words(tmp_path: Path, tables: dict[str, object]) -> None:
    """Nothing but InputError leaves the reader, and its words never run away."""
    whole = tomllib.loads(WHOLE)
    text = "\n".join(f"{key} = {as_toml(value)}" for key, value in {**whole, **tables}.items())
    path = tmp_path / "any.toml"
    path.write_text(text, encoding="utf-8")
    try:
        job(path)
        problems: tuple[Problem, ...] = ()
    except InputError as error:
        problems = error.problems
    assert all(len(problem.sentence()) < 1500 for problem in problems)
