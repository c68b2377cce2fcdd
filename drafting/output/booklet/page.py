"""The booklet as one file of HTML: no network, no script needed to read it, steps to tick off beside the machine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from drafting.flat import FlatView
from drafting.output.booklet.content import LEGEND, Booklet, BookletStep, SmallPiece
from drafting.output.flat_svg import flat_element, pointing_element
from drafting.output.layers.view import Points
from drafting.output.pictures.step import EDGE, ClothArea, Course, Lettering, StepPicture
from drafting.output.svg import FONTS, escape_xml, show_number
from drafting.seal import SEAL_ROOM

WHERE: Final = 52.0
"""Width (mm) of the flat that shows where a step is."""

_STYLE: Final = f"""
body{{font-family:{FONTS};line-height:1.45;margin:0 auto;max-width:52rem;padding:1rem;color:#111;background:#fff}}
h1{{font-size:1.6rem;margin:.2rem 0}}h2{{font-size:1.25rem;margin:1.6rem 0 .4rem}}h3{{font-size:1.05rem;margin:0}}
svg{{max-width:100%;height:auto}}
ol.steps{{list-style:none;padding:0}}
ol.steps>li{{border-top:1px solid #999;padding:.8rem 0}}
.meets{{font-weight:600;margin:.3rem 0}}
.pictures{{display:flex;flex-wrap:wrap;gap:1rem;margin:.6rem 0}}
figure{{margin:0}}figcaption{{font-size:.85rem;color:#333}}
label{{display:flex;gap:.6rem;align-items:flex-start;cursor:pointer}}
input{{width:1.4rem;height:1.4rem;flex:none;margin:0}}
.pieces{{display:grid;grid-template-columns:repeat(auto-fill,minmax(9rem,1fr));gap:1rem;padding:0;list-style:none}}
.warning{{border:3px solid #111;padding:.6rem;font-weight:700}}
@media print{{ol.steps>li{{break-inside:avoid}}}}
"""


def booklet_html(booklet: Booklet) -> bytes:
    """Return the booklet as a page of HTML that stands alone."""
    return "\n".join(_write_page(booklet)).encode()


def _write_page(booklet: Booklet) -> Iterator[str]:
    title = escape_xml(booklet.title)
    yield "<!DOCTYPE html>"
    yield f"<!-- {SEAL_ROOM} -->"
    yield '<html lang="en"><head><meta charset="utf-8">'
    yield '<meta name="viewport" content="width=device-width, initial-scale=1">'
    yield f"<title>{title}</title><style>{_STYLE}</style></head><body><main>"
    yield f"<h1>{title}</h1>"
    line = " \u00b7 ".join(part for part in (booklet.wearer, f"draft {booklet.mark}" if booklet.mark else "") if part)
    yield f"<p>{escape_xml(line)}</p>"
    if booklet.warning:
        yield f'<p class="warning">{escape_xml(booklet.warning)}</p>'
    if booklet.flat:
        yield flat_element(booklet.flat, f"{booklet.title}, front and back")
    for heading, body in booklet.before:
        yield from _write_section(heading, body)
    yield from _write_pieces(booklet.pieces)
    yield f"<h2>Order of work</h2><p>{escape_xml(LEGEND)}</p>"
    yield '<ol class="steps">'
    for step in booklet.steps:
        yield from _write_step(step, booklet.flat)
    yield "</ol>"
    for heading, body in booklet.after:
        yield from _write_section(heading, body)
    yield "</main></body></html>"
    yield ""


def _write_section(heading: str, body: Sequence[str]) -> Iterator[str]:
    yield f"<h2>{escape_xml(heading)}</h2>"
    yield from (f"<p>{escape_xml(words)}</p>" for words in body)


def _write_pieces(pieces: Sequence[SmallPiece]) -> Iterator[str]:
    yield '<h2>Pieces</h2><ul class="pieces">'
    for piece in pieces:
        words = f"{piece.letter}  {piece.title}: {piece.how}."
        yield f"<li>{_draw_svg(piece.picture, f'Piece {piece.letter}')}<br>{escape_xml(words)}</li>"
    yield "</ul>"


def _write_step(step: BookletStep, flat: Sequence[FlatView]) -> Iterator[str]:
    yield f'<li id="step-{step.number}"><h3><label><input type="checkbox"> '
    yield f"{step.number}. {escape_xml(step.title)}</label></h3>"
    yield from (f'<p class="meets">{escape_xml(words)}</p>' for words in step.meets)
    if step.pictures or step.where:
        yield '<div class="pictures">'
        if step.where:
            yield f"<figure>{pointing_element(flat, step.where, f'Step {step.number}: where it is', WHERE)}"
            yield "<figcaption>Where it is</figcaption></figure>"
        for picture in step.pictures:
            said = f"Step {step.number}: {picture.title}"
            yield f"<figure>{_draw_svg(picture, said)}<figcaption>{escape_xml(picture.title)}</figcaption></figure>"
        yield "</div>"
    yield "<ul>"
    yield from (f"<li>{escape_xml(words)}</li>" for words in step.sentences)
    yield "</ul></li>"


def _draw_svg(picture: StepPicture, said: str) -> str:
    """A picture as an ``svg`` element; what stands beyond its frame isn't seen."""
    wide, high = show_number(picture.width), show_number(picture.height)
    shapes = "".join(_draw_shape(each, picture.height) for each in picture.drawn)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{show_number(picture.width * 1.3)}mm" '
        f'viewBox="0 0 {wide} {high}" overflow="hidden" role="img" aria-label="{escape_xml(said)}">{shapes}</svg>'
    )


def _draw_shape(shape: ClothArea | Course | Lettering, high: float) -> str:
    if isinstance(shape, Lettering):
        size = shape.size * 25.4 / 72.0
        at = f'x="{show_number(shape.x)}" y="{show_number(high - shape.y + size * 0.35)}"'
        return f'<text {at} font-size="{show_number(size)}" text-anchor="middle">{escape_xml(shape.words)}</text>'
    path = _trace(shape.points, high)
    if isinstance(shape, Course):
        dashes = f' stroke-dasharray="{" ".join(map(show_number, shape.dashes))}"' if shape.dashes else ""
        grey = _shade(shape.grey)
        return f'<path d="{path}" fill="none" stroke="{grey}" stroke-width="{show_number(shape.width)}"{dashes}/>'
    grey, edge = _shade(shape.grey), show_number(2.0 * (shape.raw + EDGE))
    black = f'<path d="{path}Z" fill="none" stroke="#000" stroke-width="{edge}"/>'
    raw = f' stroke="{grey}" stroke-width="{show_number(2.0 * shape.raw)}"' if shape.raw else ""
    return f'{black}<path d="{path}Z" fill="{grey}"{raw}/>'


def _trace(points: Points, high: float) -> str:
    return "M" + "L".join(f"{show_number(x)} {show_number(high - y)}" for x, y in points.tolist())


def _shade(grey: float) -> str:
    return f"#{f'{round(grey * 255):02x}' * 3}"
