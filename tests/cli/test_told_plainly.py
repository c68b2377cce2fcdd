"""What a stranger to the program reads: where it stands, what to write, in the unit of the ticket."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from drafting.ticket import find_catalogue, read_job
from tests.cli.running import PLAIN, run

Capture = pytest.CaptureFixture[str]
BODY = PLAIN[PLAIN.index("[wearer]") : PLAIN.index("[cloth]")]
INCHES = re.sub(r"^(\w+) = ([0-9.]+)$", r'\1 = "\2 cm"', BODY, flags=re.MULTILINE)
KNIT = '[cloth]\nkind = "knit"\nstretch_across = "30 %"\nstretch_along = "15 %"\n'
RIB = '[cloths.rib]\ncut = ["neck-band"]\nkind = "knit"\nstretch_across = "80 %"\n'


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty current folder, on a terminal of 80 columns."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    return tmp_path


def write(design: str, more: str = "", unit: str = "cm", cloth: str = KNIT, head: str = "") -> None:
    """Write a ticket, alto.toml."""
    text = f'title = "Top"\nbuilds_on = "{design}"\n{head}unit = "{unit}"\n{INCHES}{cloth}{RIB}{more}'
    Path("alto.toml").write_text(text, encoding="utf-8")


def flat(text: str) -> str:
    """The text on one line."""
    return " ".join(text.split())


@pytest.mark.parametrize("design", ["fitted-bodice", "waist-seam-dress", "tank-top", "knit-top"])
def test_a_new_ticket_keeps_its_designs_cloth_and_fit(design: str, capsys: Capture) -> None:
    """Filled in as it asks, it is the design: of the same kind of cloth, its stretch and its fit."""
    assert run(capsys, "new", "new.toml", "--design", design).status == 0
    text = Path("new.toml").read_text(encoding="utf-8")
    for name, figure in (("bust_girth", 92), ("waist_girth", 74), ("hip_girth", 98), ("back_neck_point_to_waist", 41)):
        text = text.replace(f'\n{name} = ""', f"\n{name} = {figure}")
    text = text.replace('\nstretch_across = ""', '\nstretch_across = "30 %"')
    Path("new.toml").write_text(text, encoding="utf-8")
    known = find_catalogue()
    job = read_job(Path("new.toml"), known)
    write(design, cloth="" if "woven" in text.partition("[cloth]")[2][:60] else KNIT)
    plain = read_job(Path("alto.toml"), known)
    assert job.brief.fit == plain.brief.fit
    assert job.brief.cloth.kind == plain.brief.cloth.kind
    assert job.brief.cloth.stretch_across == plain.brief.cloth.stretch_across


def test_a_fit_asked_for_stands_over_the_designs(capsys: Capture) -> None:
    """It is asked for by name."""
    assert run(capsys, "new", "new.toml", "--design", "tank-top", "--fit", "relaxed").status == 0
    assert tomllib.loads(Path("new.toml").read_text(encoding="utf-8"))["fit"] == "relaxed"


def test_a_new_ticket_in_inches_speaks_of_inches(capsys: Capture) -> None:
    """Cloth, hems, paper and how to measure; only the remark on units names the others."""
    assert run(capsys, "new", "new.toml", "--unit", "in").status == 0
    text = Path("new.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    assert told["paper"]["size"] == "US Letter"
    assert told["cloth"]["width"] == "60 in"
    assert "Mark 4 in" in flat(text.replace("#", ""))
    metric = [line for line in text.splitlines() if re.search(r"\d ?(cm|mm)\b", line)]
    assert all("may carry its own unit" in line for line in metric)
    assert '# hem_depth = "1 in"' in text


@pytest.mark.parametrize(
    ("head", "more", "says"),
    [
        ("", '[[changes]]\nchange = "sleeve-length"\nlengthen = 3\n', "did you mean by?"),
        (
            'leave_out = ["blocks.sleeves", "blocks.cuffs"]\n',
            '[[changes]]\nchange = "sleeveless"\n',
            "the armholes are bare already in the ticket, to be without it: take [[changes]] number 1 (sleeveless) out",
        ),
    ],
)
def test_what_is_meant_or_superfluous_is_told_with_the_mend(capsys: Capture, head: str, more: str, says: str) -> None:
    """Another word for an option; a change of sleeves that were left out, for which no option is to blame."""
    write("knit-top", more, head=head)
    ran = run(capsys, "prove", "alto.toml")
    assert ran.status == 2
    assert says in flat(ran.err)
    assert "look at:" not in ran.err


def test_no_rounded_figure_is_told_of_a_printer_that_is_right(capsys: Capture) -> None:
    """10 cm in eighths of an inch is another length: whoever wrote that would correct a printer that is right."""
    said = run(capsys, "list", "paper", "--unit", "in").out
    assert not re.findall(r"square_\w+ .*if not given", said)


def test_several_are_listed_each_with_its_name(capsys: Capture) -> None:
    """Changes, blocks and measurements; a name that there isn't is refused."""
    told = flat(run(capsys, "list", "changes", "lengthen", "hem").out)
    assert told.index("lengthen The garment longer or shorter") < told.index("hem The hem straight or curved")
    assert run(capsys, "list", "measurements", "hip_girth", "stature").out.startswith("hip_girth")
    assert "did you mean hem?" in run(capsys, "list", "changes", "lengthen", "hemm").err


def test_a_refusal_tells_file_and_key_and_what_to_write(capsys: Capture) -> None:
    """As a fault of the ticket does, in the ticket's unit."""
    write("knit-top", '[[changes]]\nchange = "cut-in-armhole"\nby = "3 in"\n', unit="in")
    ran = run(capsys, "prove", "alto.toml")
    assert ran.status == 2
    said = flat(ran.err)
    assert said.startswith("alto.toml: changes[1]: cut-in-armhole can't be drafted")
    assert "is cut in by 3 in" in said
    assert "in the ticket, under [[changes]] number 1 (cut-in-armhole): by = …" in said
    assert not re.search(r"\d ?(mm|cm)\b", said)


def test_a_block_that_is_to_be_left_out_says_how(capsys: Capture) -> None:
    """The key stands with its table, whatever file the block comes from."""
    write("knit-top", head='leave_out = ["blocks.sleeves"]\n')
    ran = run(capsys, "prove", "alto.toml")
    assert ran.status == 2
    assert "alto.toml, in its design knit-top: blocks.cuffs: shaped-cuff can't be drafted" in flat(ran.err)
    assert 'leave the cuffs out, too in the ticket, to be without it: leave_out = ["blocks.cuffs"]' in flat(ran.err)


def test_cuffs_go_with_the_sleeves(capsys: Capture) -> None:
    """A design's cuffs need no word where the change takes both sleeves off."""
    write("knit-top", '[[changes]]\nchange = "sleeveless"\n')
    assert run(capsys, "prove", "alto.toml").status == 0


def test_a_measurement_in_the_way_is_named_with_its_table(capsys: Capture) -> None:
    """It is written under the body."""
    from drafting.errors import CannotDraft
    from drafting.job import draft_job

    write("knit-top")
    job = read_job(Path("alto.toml"), find_catalogue())

    def refuse(*_: object) -> None:
        raise CannotDraft("armscye_girth", "an armhole of 300 mm doesn't fit")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(type(job.steps[0].step), "apply", refuse, raising=False)
        with pytest.raises(CannotDraft) as refusal:
            draft_job(job)
    assert refusal.value.where == "alto.toml, in its design knit-top: blocks.body"
    assert refusal.value.write == "what it rests on, under [wearer.body]: armscye_girth"


def test_findings_are_told_in_inches_to_who_measures_in_inches(capsys: Capture) -> None:
    """A band too wide for its curve, by a rule that counts in millimetres."""
    write("tank-top", '[blocks.armhole-band]\nwidth = "2 in"\n', unit="in")
    said = flat(run(capsys, "prove", "alto.toml").out)
    assert "at 2 in wide" in said
    assert not re.search(r"warning.*?\d ?(mm|cm)\b.*?Ease", said)


def test_lists_are_told_in_the_unit_asked_for(capsys: Capture) -> None:
    """Sentences too."""
    assert "cuff of 2 3/4 in" in flat(run(capsys, "list", "blocks", "set-in-sleeve", "--unit", "in").out)
    assert "cuff of 7.0 cm" in flat(run(capsys, "list", "blocks", "set-in-sleeve").out)
    assert "Mark 4 in" in flat(run(capsys, "list", "cloth", "--unit", "in").out)


def test_an_empty_choice_is_not_offered(capsys: Capture) -> None:
    """Nor in the list, nor in a refusal; a length that lies between has its neighbours for a mend."""
    assert "to long, bracelet, elbow or short" in flat(run(capsys, "list", "changes", "sleeve-length").out)
    write("knit-top", '[[changes]]\nchange = "sleeve-length"\nto = "3/4"\n')
    ran = run(capsys, "prove", "alto.toml")
    assert "did you mean bracelet or elbow?" in flat(ran.err)
    assert "allowed: long, bracelet, elbow or short" in flat(ran.err)
    write("knit-top", head='fit = "loose"\n')
    assert "did you mean relaxed?" in flat(run(capsys, "prove", "alto.toml").err)


@pytest.mark.parametrize("more", [(), ("--fitting",)])
@pytest.mark.parametrize("design", ["diagonal-overlay-dress", "sheath-dress"])
def test_a_proof_fits_the_terminal(design: str, more: tuple[str, ...], capsys: Capture) -> None:
    """No line runs over; notes are those of the measurements that the design asks for."""
    write(design, cloth="" if design == "sheath-dress" else KNIT)
    ran = run(capsys, "prove", "alto.toml", *more)
    assert ran.out
    assert max(map(len, ran.out.splitlines())) <= 80
    assert "least squares" not in ran.out
    assert "calf" not in ran.out


def test_a_fitting_sheet_tells_whose_it_is_and_how_to_write_what_is_found(capsys: Capture) -> None:
    """Title, wearer and draft mark; the changes by their keys; what a pinned fold comes to."""
    write("knit-top", unit="in")
    lines = run(capsys, "prove", "alto.toml", "--fitting").out.splitlines()
    assert re.fullmatch(r"Fitting sheet: Top, for Soprano; draft mark [2-9A-Z]{6}", lines[0])
    said = flat(" ".join(lines))
    assert 'sloping shoulders (change = "sloping-shoulder")' in said
    assert "Pinched 1/2 in deep = 1 in taken out" in said


def test_every_fold_that_a_change_may_mend_is_mended_by_one() -> None:
    """Each situation of the fitting sheet has its change, with how much."""
    from drafting.proof.words.fitting import FOLDS

    folds = [fold.answered(find_catalogue().find_mends) for fold in FOLDS if fold.situation]
    assert len(folds) > 15
    assert all(fold.changes and fold.amount for fold in folds)


def test_estimates_are_told_in_a_line_each(capsys: Capture) -> None:
    """How much, and how sure; not the formula."""
    write("knit-top", unit="in")
    out = run(capsys, "make", "alto.toml", "--out", "out").out
    told = out.split("Not measured")[1].split("Pages:")[0]
    assert re.search(r"shoulder slope +23 deg ± 3\.6 deg\n", told)
    assert "stature x" not in told
    assert "x stature" not in told


def test_what_the_cloth_asks_for_stands_on_the_terminal_and_the_start_page(capsys: Capture) -> None:
    """Shrinkage, nap, stripes and a cloth too narrow: none of these keys is taken and forgotten."""
    cloth = KNIT + 'width = "40 cm"\nshrink_along = "5 %"\nnap = true\nstripe = { repeat = "4 cm", uneven = true }\n'
    write("knit-top", cloth=cloth)
    ran = run(capsys, "make", "alto.toml", "--out", "out")
    assert ran.status == 0
    said = flat(ran.out)
    for words in ("no allowance for shrinkage of 5 %", "one way up", "stripe 4.0 cm", "is 40.0 cm wide"):
        assert words in said
    import pypdfium2

    pages = list(pypdfium2.PdfDocument("out/pattern.pdf"))[:2]
    start = " ".join(page.get_textpage().get_text_bounded() for page in pages)
    for words in ("no allowance for shrinkage of 5 %", "all pieces one way up", "stripe 4.0 cm"):
        assert words in flat(start)


def test_a_woven_that_says_nothing_of_stretch_has_none(capsys: Capture) -> None:
    """Not the stretch of a knit."""
    write("knit-top", cloth='[cloth]\nkind = "woven"\n')
    assert read_job(Path("alto.toml"), find_catalogue()).brief.cloth.stretch_across == 0.0
