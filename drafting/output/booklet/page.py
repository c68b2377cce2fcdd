"""The booklet as one file of HTML: no network, no script needed to read it, steps to tick off beside the machine."""

from __future__ import annotations

import base64
from collections.abc import Iterator, Sequence
from typing import Final

from drafting.finishing.labels import name_mark
from drafting.flat import FlatView
from drafting.output.booklet.content import AS_WORN, LEGEND, Booklet, BookletStep
from drafting.output.booklet.sections import BookletSection, CellTable
from drafting.output.booklet.small import SCALES, SmallPiece
from drafting.output.flat_svg import flat_element, pointing_element
from drafting.output.layers.view import Points
from drafting.output.pictures.shapes import ClothArea, Course, Lettering, StepPicture
from drafting.output.pictures.step import EDGE
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM
from drafting.text import keep_figures

WHERE: Final = 52.0
"""Width (mm) of the flat that shows where a step is."""

ON_SCREEN: Final = "On a telephone, swipe a step's pictures. Tick each step off when it is done."
"""What the page says of itself."""

NARROW_HIGH: Final = 33
"""Of a telephone's window, the height (per cent) that pictures take at most.

There they stand between what meets and the words, and stay in sight, opaque, while the words pass below them: only
what is read already goes beneath the row. A caption is as wide as its picture, and breaks.
"""

WIDE_HIGH: Final = 80
"""Of a wider window, the height (per cent) that a picture takes at most beside the words."""

TOUCHED: Final = 44
"""Of what is touched with a finger, its height and width at least (pixels of the page)."""

_ENLARGED: Final = 1.3
"""By which pictures are larger on a screen than on paper."""

_STYLE: Final = f"""
:root{{color-scheme:light dark;--ink:#111;--soft:#444;--page:#fff;--rule:#999;--done:#eef4ee}}
@media(prefers-color-scheme:dark){{:root{{--ink:#eee;--soft:#c4c4c4;--page:#161616;--rule:#777;--done:#1d2a1d}}}}
body{{font-family:{FONTS};line-height:1.45;margin:0 auto;max-width:56rem;padding:1rem;color:var(--ink);
background:var(--page);overflow-wrap:break-word}}
h1{{font-size:1.6rem;margin:.2rem 0}}h2{{font-size:1.25rem;margin:1.6rem 0 .4rem}}h3{{font-size:1.05rem;margin:0}}
svg{{max-width:100%;height:auto;background:#fff;color:#111}}
p{{margin:.4rem 0}}a{{color:inherit}}
nav ul{{padding:0;margin:.6rem 0;list-style:none;display:flex;flex-wrap:wrap;gap:.3rem 1.2rem}}
nav a,summary{{display:inline-flex;align-items:center;min-height:{TOUCHED}px;min-width:{TOUCHED}px}}
nav li,summary{{max-width:100%}}summary{{cursor:pointer}}
.table{{overflow-x:auto;max-width:100%}}table{{border-collapse:collapse;margin:.5rem 0}}
th,td{{text-align:left;vertical-align:top;padding:.25rem .9rem .25rem 0;border-bottom:1px solid var(--rule)}}
th{{font-weight:600}}
ol.steps{{list-style:none;padding:0}}
ol.steps>li{{border-top:1px solid var(--rule);padding:.8rem 0}}
ol.steps>li:has(input:checked){{background:var(--done)}}
.meets{{font-weight:600}}
.step{{display:grid;gap:.6rem 1.2rem;align-items:start}}
.pictures{{display:flex;flex-wrap:wrap;gap:.8rem;margin:.4rem 0}}
.pictures figure{{min-width:9rem}}.pictures .where svg{{fill:none}}
.pictures figcaption{{width:0;min-width:100%}}
@media(max-width:43.9rem){{.step{{display:flex;flex-direction:column;align-items:stretch;gap:0}}
.step>div:first-child{{display:contents}}.step ul{{order:1}}
.pictures{{position:sticky;top:0;z-index:1;flex-wrap:nowrap;overflow-x:auto;scroll-snap-type:x proximity;
margin:0 -1rem;padding:0 .6rem;gap:0;background:var(--page);border-bottom:1px solid var(--rule)}}
.pictures figure{{flex:none;padding:.4rem;scroll-snap-align:center}}
.pictures svg{{width:min(84vw,{NARROW_HIGH}vh*var(--shape))}}
.pictures .where svg{{width:9rem}}}}
@media(min-width:44rem){{.step{{grid-template-columns:minmax(0,5fr) minmax(0,6fr)}}
.step>div:first-child{{position:sticky;top:.5rem}}.pictures svg{{max-height:{WIDE_HIGH}vh}}}}
.step ul{{margin:.4rem 0;padding-left:1.2rem}}
figure{{margin:0;max-width:100%}}figcaption{{font-size:.85rem;color:var(--soft)}}
label{{display:flex;gap:.6rem;align-items:center;cursor:pointer;min-height:{TOUCHED}px}}
input{{width:1.5rem;height:1.5rem;flex:none;margin:0}}
.pieces{{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(9rem,100%),1fr));gap:1rem;
padding:0;list-style:none}}
.key{{display:grid;grid-template-columns:repeat(auto-fill,minmax(min(15rem,100%),1fr));
gap:.4rem 1rem;padding:0;list-style:none}}
.key li{{display:flex;gap:.6rem;align-items:flex-start}}.key svg{{flex:none}}
.warning{{border:3px solid var(--ink);padding:.6rem;font-weight:700}}
@media print{{ol.steps>li,.pieces>li,table{{break-inside:avoid}}nav{{display:none}}}}
"""

_SCRIPT: Final = """(function(){try{var k="blockwright "+document.documentElement.dataset.draft,s=localStorage,
d=JSON.parse(s.getItem(k)||"{}");document.querySelectorAll("input[type=checkbox]").forEach(function(b){
b.checked=!!d[b.id];b.addEventListener("change",function(){d[b.id]=b.checked;
try{s.setItem(k,JSON.stringify(d))}catch(e){}})})}catch(e){}})()"""
"""Remembers what was ticked off, where the browser lets it; without it the page is as good to read."""


def booklet_html(booklet: Booklet) -> bytes:
    """Return the booklet as a page of HTML that stands alone."""
    return "\n".join(_write_page(booklet)).encode()


def _write_page(booklet: Booklet) -> Iterator[str]:
    title = _show(booklet.title)
    yield "<!DOCTYPE html>"
    yield f"<!-- {SEAL_ROOM} -->"
    yield f'<html lang="en" data-draft="{_show(booklet.mark)}"><head><meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<title>{title}</title><style>{_STYLE}</style></head><body><main>"
    yield f"<h1>{title}</h1>"
    mark = name_mark(booklet.mark)
    line = " \u00b7 ".join(part for part in (booklet.wearer, mark, f"{len(booklet.steps)} steps") if part)
    yield f"<p>{_show(line)}</p>"
    if booklet.warning:
        yield f'<p class="warning">{_show(booklet.warning)}</p>'
    yield from _write_contents(booklet)
    if booklet.flat:
        yield flat_element(booklet.flat, f"{booklet.title}, front and back")
    if booklet.worn is not None:
        held = base64.b64encode(booklet.worn.file).decode()
        size = f'width="{booklet.worn.wide}" height="{booklet.worn.high}" style="max-width:100%;height:auto"'
        yield f'<figure><img {size} alt="{AS_WORN}" src="data:image/png;base64,{held}">'
        yield f"<figcaption>{AS_WORN}</figcaption></figure>"
    yield from (f"<p>{_show(words)}</p>" for words in booklet.lines)
    for section in booklet.before:
        yield from _write_section(section)
    yield from _write_pieces(booklet.pieces)
    yield f'<h2 id="order">Order of work</h2><p>{_show(LEGEND)} {ON_SCREEN}</p>'
    yield from _write_step_links(booklet.steps)
    keyed = (f"<li>{_draw_svg(each.sample, each.words)} {_show(each.words)}</li>" for each in booklet.key)
    yield f'<ul class="key">{"".join(keyed)}</ul>'
    yield '<ol class="steps">'
    for step in booklet.steps:
        yield from _write_step(step, booklet.flat)
    yield "</ol>"
    for section in booklet.after:
        yield from _write_section(section)
    yield f"</main><script>{_SCRIPT}</script></body></html>"
    yield ""


def _write_contents(booklet: Booklet) -> Iterator[str]:
    """Where to go: each section, the pieces, the order of work."""
    names = [section.heading for section in booklet.before]
    links = [(_anchor(name), name) for name in names] + [("pieces", "Pieces"), ("order", "Order of work")]
    links += [(_anchor(section.heading), section.heading) for section in booklet.after]
    listed = "".join(f'<li><a href="#{to}">{_show(name)}</a></li>' for to, name in links)
    yield f'<nav aria-label="Contents"><ul>{listed}</ul></nav>'


def _write_step_links(steps: Sequence[BookletStep]) -> Iterator[str]:
    """Where each step is; shut, they take a line."""
    links = (f'<li><a href="#step-{step.number}">{step.number}. {_show(step.title)}</a></li>' for step in steps)
    yield f'<nav aria-label="Steps"><details><summary>Go to a step</summary><ul>{"".join(links)}</ul></details></nav>'


def _anchor(heading: str) -> str:
    return "-".join("".join(sign if sign.isalnum() else " " for sign in heading.lower()).split())


def _write_section(section: BookletSection) -> Iterator[str]:
    yield f'<h2 id="{_anchor(section.heading)}">{_show(section.heading)}</h2>'
    if section.listed:
        yield f"<ul>{''.join(f'<li>{_show(words)}</li>' for words in section.words)}</ul>"
    else:
        yield from (f"<p>{_show(words)}</p>" for words in section.words)
    if section.table is not None:
        yield from _write_table(section.table)
    if section.drawn is not None:
        shown = _draw_svg(section.drawn, f"{section.heading}: {section.drawn.title}")
        yield f"<figure>{shown}<figcaption>{_show(section.drawn.title)}</figcaption></figure>"


def _show(words: str) -> str:
    """Words made safe for a page, with no line broken inside a figure."""
    return keep_figures(escape_xml(words))


def _write_table(table: CellTable) -> Iterator[str]:
    """A table whose first cells are heads of their rows; a row of a single cell is the name of those below it."""
    heads = (f'<th scope="col">{_show(words)}</th>' if words else "<td></td>" for words in table.head)
    yield '<div class="table">'
    yield f"<table><thead><tr>{''.join(heads)}</tr></thead><tbody>"
    for first, *others in table.rows:
        if not others:
            yield f'</tbody><tbody><tr><th scope="rowgroup" colspan="{len(table.head)}">{_show(first)}</th></tr>'
            continue
        cells = "".join(f"<td>{_show(words)}</td>" for words in others)
        yield f'<tr><th scope="row">{_show(first)}</th>{cells}</tr>'
    yield "</tbody></table></div>"


def _write_pieces(pieces: Sequence[SmallPiece]) -> Iterator[str]:
    yield f'<h2 id="pieces">Pieces</h2><p>{_show(SCALES)}</p><ul class="pieces">'
    for piece in pieces:
        drawn = _draw_svg(piece.picture, f"Piece {piece.letter}, {piece.title}, with its grain")
        yield f"<li>{drawn}<br><strong>{_show(piece.letter)}</strong> {_show(piece.title)}: "
        yield f"{_show(piece.how)}.</li>"
    yield "</ul>"


def _write_step(step: BookletStep, flat: Sequence[FlatView]) -> Iterator[str]:
    yield f'<li id="step-{step.number}"><h3><label><input type="checkbox" id="done-{step.number}"> '
    yield f'<span>{step.number}. {_show(step.title)}</span></label></h3><div class="step"><div>'
    yield from (f'<p class="meets">{_show(words)}</p>' for words in step.meets)
    yield "<ul>"
    yield from (f"<li>{_show(words)}</li>" for words in step.sentences)
    yield "</ul></div>"
    if step.pictures or step.where:
        yield f'<div class="pictures" role="group" tabindex="0" aria-label="Pictures of step {step.number}">'
        if step.where:
            where = pointing_element(flat, step.where, f"Step {step.number}: where {step.title} is", WHERE)
            told = "Where on the garment (front at left)"
            yield f'<figure class="where">{where}<figcaption>{told}</figcaption></figure>'
        for i, picture in enumerate(step.pictures, start=1):
            count = f"{i} of {len(step.pictures)}: " if len(step.pictures) > 1 else ""
            said = f"Step {step.number}, {step.title}: {picture.title}. {picture.told}".rstrip()
            shape = f' style="--shape:{show_number(picture.width / picture.height)}"'
            shown = _draw_svg(picture, said, shape)
            yield f"<figure>{shown}<figcaption>{count}{_show(picture.caption or picture.title)}</figcaption></figure>"
        yield "</div>"
    yield "</div></li>"


def _draw_svg(picture: StepPicture, said: str, more: str = "") -> str:
    """A picture as an ``svg`` element; what stands beyond its frame isn't seen."""
    wide, high = show_number(picture.width), show_number(picture.height)
    shapes = "".join(_draw_shape(each, picture.height) for each in picture.drawn)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{show_number(picture.width * _ENLARGED)}mm" '
        f'viewBox="0 0 {wide} {high}" overflow="hidden" role="img" aria-label="{_show(said)}"{more}>{shapes}</svg>'
    )


def _draw_shape(shape: ClothArea | Course | Lettering, high: float) -> str:
    if isinstance(shape, Lettering):
        size = shape.size * 25.4 / 72.0
        at = f'x="{show_number(shape.x)}" y="{show_number(high - shape.y + size * 0.35)}"'
        return f'<text {at} font-size="{show_number(size)}" text-anchor="middle">{_show(shape.words)}</text>'
    path = _trace(shape.points, high)
    if isinstance(shape, Course):
        dashes = f' stroke-dasharray="{" ".join(map(show_number, shape.dashes))}"' if shape.dashes else ""
        grey = _shade(shape.grey)
        return f'<path d="{path}" fill="none" stroke="{grey}" stroke-width="{show_number(shape.width)}"{dashes}/>'
    return f'<path d="{path}Z" fill="{_shade(shape.grey)}" stroke="#000" stroke-width="{show_number(EDGE)}"/>'


def _trace(points: Points, high: float) -> str:
    return "M" + "L".join(f"{show_number(x)} {show_number(high - y)}" for x, y in points.tolist())


def _shade(grey: float) -> str:
    return f"#{f'{round(grey * 255):02x}' * 3}"
