"""What is said to a maker, as values until the very end: a template, the values in it, and one renderer.

A finding, a refusal, a note, a title is made where its rule stands, by ``say("the {side} shoulder is only {long}
long", side=half.side, long=mm(120.0))``, and worded once, by ``render(saying, unit)``, where the maker's unit is known.
Nothing reads a sentence back: mirrored, its sides and names are exchanged, and its template isn't looked at.

A plain ``str`` is a saying without a length and without a side. In a template, ``{x:capital}`` begins with a capital
letter, ``{x:lower}`` has none, ``{x:spoken}`` is a name with blanks for its hyphens (``{x:spoken,capital}`` both),
``{x:placed}`` one with its side first ("left armhole"), ``{x!r}`` is quoted, and a plain number takes its usual
format, ``{count:d}``. A side or a face that is NONE leaves no gap: it takes with it the comma and blank before it, or
the blank beside it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from string import Formatter
from types import MappingProxyType
from typing import Final, Literal

from drafting.record import dataclass
from drafting.sides import Face, Side, sideless, speak_name, swap_sides

Unit = Literal["mm", "cm", "in"]

_MM_PER_INCH: Final = 25.4
_WHOLE_FROM: Final = 9.95  # mm: from a centimetre on a tape shows whole ones, as in cm
_FINE: Final = 2.0  # mm: what is less is a matter of exactness, and said in mm whatever the tape shows


@dataclass(frozen=True, slots=True)
class Length:
    """A length (mm) to be said.

    ``told`` is "tape" where it is said as a tape shows it; "mm" or "cm" where the rule gives it in those, with so many
    ``digits`` (None: as many as it has, to a tenth); "about" where it is rounded up to what a maker would set. One that
    is held against another, ``beside`` it (mm), is said as finely as it takes to tell them apart.
    """

    mm: float
    told: Literal["tape", "mm", "cm", "about"] = "tape"
    digits: int | None = None
    beside: float | None = None


@dataclass(frozen=True, slots=True)
class Span:
    """Two lengths said with one unit: "5 to 10 mm", "80 x 20 mm"."""

    low: Length
    high: Length
    between: str = " to "


@dataclass(frozen=True, slots=True)
class Name:
    """The name of a line, a piece, a seam, an opening: mirrored by the rule for names."""

    text: str


@dataclass(frozen=True, slots=True)
class Saying:
    """A template and its values; ``str`` of it is in mm, for a log or a test."""

    template: str
    values: tuple[tuple[str, Value], ...] = ()

    def __str__(self) -> str:
        """Return it in the engine's own unit."""
        return render(self, "mm")

    def value(self, name: str) -> Value | None:
        """Return the value of that name; None if there is none."""
        return next((value for key, value in self.values if key == name), None)

    def lower(self) -> Saying:
        """Return it without capitals, as it stands within a sentence."""
        return Saying("{words:lower}", (("words", self),))


Words = str | Saying
"""What can be said: plain words with no length and no side in them, or a template with its values."""

Value = str | int | float | Side | Face | Length | Span | Name | Saying
"""What may stand in a template. A number is one that has no unit of length: a count, an angle in degrees, a share."""


def say(template: str, /, **values: Value) -> Saying:
    """Return a saying.

    >>> render(say("the {side} shoulder is only {long} long", side=Side.LEFT, long=mm(120.0)), "in")
    'the left shoulder is only 4 3/4 in long'
    """
    return Saying(template, tuple(values.items()))


_SHORT: Final = "short"


def specify(words: Words, more: Value) -> Saying:
    """Return a title with what tells it from its like; ``shorten`` gives the title alone.

    >>> str(specify("Armhole band", Side.LEFT)), shorten(specify("Armhole band", Side.LEFT))
    ('Armhole band, left', 'Armhole band')
    """
    return Saying("{" + _SHORT + "}, {more}", ((_SHORT, words), ("more", more)))


def shorten(words: Words) -> Words:
    """Return what is said without what tells it from its like, however deep it stands (the value ``short``)."""
    if isinstance(words, str):
        return words
    short = words.value(_SHORT)
    if isinstance(short, str | Saying):
        return shorten(short)
    values = ((name, shorten(value) if isinstance(value, Saying) else value) for name, value in words.values)
    return Saying(words.template, tuple(values))


def list_sides(words: Words) -> tuple[Side, ...]:
    """Return the sides that are said, in their order."""
    return () if isinstance(words, str) else tuple(side for _, value in words.values for side in _sides_in(value))


def _sides_in(value: Value) -> tuple[Side, ...]:
    if isinstance(value, Side):
        return (value,) if value else ()
    return list_sides(value) if isinstance(value, Saying) else ()


def list_sayings(words: Iterable[Value], between: str = ", ", last: str = "") -> Saying:
    """Return things said one after another, ``last`` between the last two if it is another word.

    >>> str(list_sayings(["front", "back", "sleeve"], last=" and "))
    'front, back and sleeve'
    """
    values = tuple((f"_{i}", word) for i, word in enumerate(words))
    gaps = [""] + [between] * (len(values) - 1)
    gaps[-1] = last if last and len(values) > 1 else gaps[-1]
    return Saying("".join(gap + "{" + name + "}" for gap, (name, _) in zip(gaps, values, strict=False)), values)


def tape(millimetres: float) -> Length:
    """A length as a tape shows it: "12.0 cm", "4 3/4 in"."""
    return Length(millimetres)


def tape_beside(millimetres: float, other: float) -> Length:
    """A length as a tape shows it, or as finely as it takes to tell it from another (mm) that it is held against."""
    return Length(millimetres, beside=other)


def mm(millimetres: float, digits: int | None = 0) -> Length:
    """A length that a rule gives to the millimetre, or as fine as ``digits`` say (None: a tenth, where it has one)."""
    return Length(millimetres, "mm", digits)


def cm(centimetres: float) -> Length:
    """A length that a rule gives in centimetres: "3 cm", in inches "1 1/8 in"."""
    return Length(centimetres * 10.0, "cm")


def about(millimetres: float) -> Length:
    """A length rounded up to what a maker would set: whole half centimetres, quarter inches."""
    return Length(millimetres, "about")


def span(low: Length, high: Length, between: str = " to ") -> Span:
    """Two lengths with one unit.

    >>> render(say("{much} too long", much=span(mm(5), mm(10))), "in")
    '1/4 to 3/8 in too long'
    """
    return Span(low, high, between)


def mirror_words(words: Words) -> Words:
    """Return what is said of the garment's mirror image: each side, and each name, exchanged; no word is looked at."""
    if isinstance(words, str):
        return words
    return Saying(words.template, tuple((name, _exchange_sides(value)) for name, value in words.values))


def _exchange_sides(value: Value) -> Value:
    if isinstance(value, Side):
        return value.other
    if isinstance(value, Name):
        return Name(swap_sides(value.text))
    return mirror_words(value) if isinstance(value, Saying) else value


def reword(words: Words, spoken: Mapping[str, str]) -> Words:
    """Return what is said with some templates, or plain words, said in others, however deep they stand."""
    if isinstance(words, str):
        return spoken.get(words, words)
    values = ((name, reword(value, spoken) if isinstance(value, Saying) else value) for name, value in words.values)
    return Saying(spoken.get(words.template, words.template), tuple(values))


def without_sides(words: Words) -> Words:
    """Return what is said of both sides alike: two sayings are the same but for their sides if these are equal."""
    return _drop_kind(words, Side)


def without_faces(words: Words) -> Words:
    """Return what is said of front and back alike; "" where nothing else is said."""
    return _drop_kind(words, Face)


def _drop_kind(words: Words, kind: type[Side | Face]) -> Words:
    if isinstance(words, str):
        return words
    left = Saying(words.template, tuple((name, _empty_side(value, kind)) for name, value in words.values))
    return left if render(left, "mm") else ""


def _empty_side(value: Value, kind: type[Side | Face]) -> Value:
    if isinstance(value, kind):
        return Side.NONE
    if isinstance(value, Name) and kind is Side:
        return Name(sideless(value.text)) if sideless(value.text) else Side.NONE
    return (_drop_kind(value, kind) or Side.NONE) if isinstance(value, Saying) else value


# Words, at the end


class _Word(str):
    """A value worded, in the form that a template asks for."""

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        word = str(self)
        for form in spec.split(",") if spec else ():
            word = _FORMS[form](word)
        return word


_FORMS: Final[Mapping[str, Callable[[str], str]]] = MappingProxyType(
    {
        "capital": lambda word: word[:1].upper() + word[1:],
        "lower": str.lower,
        "spoken": lambda word: word.replace("-", " "),
        "placed": speak_name,
    }
)


def render(words: Words, unit: Unit) -> str:
    """Return what is said as a sentence in the unit that the maker reads: the one place where values become words."""
    if isinstance(words, str):
        return words
    template = words.template
    for name, value in words.values:
        if value == "" and isinstance(value, Side | Face):
            template = _close_up(template, name)
    return template.format_map({name: _word_value(value, unit) for name, value in words.values})


def _close_up(template: str, name: str) -> str:
    """A template without a value that is nothing, and without what joined it to the rest."""
    left, gone = "", False
    for text, field, spec, conversion in Formatter().parse(template):
        left, text = _join_text(left, text) if gone else (left, text)
        left += text.replace("{", "{{").replace("}", "}}")
        gone = field == name
        if field is not None and not gone:
            left += "{" + field + (f"!{conversion}" if conversion else "") + (f":{spec}" if spec else "") + "}"
    return "".join(_join_text(left, "")) if gone else left


def _join_text(before: str, after: str) -> tuple[str, str]:
    """What stands before and after a gap, less the comma and blank, or the blank, that held what is gone."""
    if before.endswith(", "):
        return before.removesuffix(", "), after
    return (before, after[1:]) if after.startswith(" ") else (before.removesuffix(" "), after)


def _word_value(value: Value, unit: Unit) -> _Word | float:
    match value:
        case Saying():
            return _Word(render(value, unit))
        case Name():
            return _Word(value.text)
        case Length():
            return _Word(" ".join(_figure(value, unit)))
        case Span():
            return _Word(_span(value, unit))
        case str():
            return _Word(value)
    return value


def _span(told: Span, unit: Unit) -> str:
    fine = max(_fineness(told.low), _fineness(told.high)) < _FINE
    (low, _), (high, short) = (_figure(each, unit, fine) for each in (told.low, told.high))
    return f"{low}{told.between}{high} {short}"


def _fineness(told: Length) -> float:
    return abs(float(_plain_figure(told))) * (10.0 if told.told == "cm" else 1.0)


def _plain_figure(told: Length) -> str:
    """The figure as its rule gives it."""
    if told.digits is not None:
        return f"{told.mm:.{told.digits}f}"
    return f"{told.mm / 10.0:g}" if told.told == "cm" else f"{round(told.mm, 1) + 0.0:g}"


def _figure(told: Length, unit: Unit, fine: bool | None = None) -> tuple[str, str]:
    """A length's figure, and its unit."""
    if told.told == "tape":
        figure, _, short = _show_apart(told, unit).rpartition(" ")
        return figure, short
    if told.told == "about":
        return _figure(Length(_round_up_figure(told.mm, unit)), unit)
    plain = _plain_figure(told)
    keeps = _fineness(told) < _FINE if fine is None else fine
    if unit in ("mm", told.told) or keeps:
        return plain, told.told
    return _figure(Length(float(plain) * (10.0 if told.told == "cm" else 1.0)), unit)


def _show_apart(told: Length, unit: Unit) -> str:
    """A length as a tape shows it; finer, to 0.1 mm or 1/16 inch, where another would look the same."""
    shown = show_length(told.mm, unit)
    if told.beside is None or told.mm == told.beside or shown != show_length(told.beside, unit):
        return shown
    if unit == "cm":
        return f"{told.mm / 10.0:.2f} cm"
    if unit == "mm":
        return f"{told.mm:.1f} mm"
    if _show_inches(told.mm, _FINEST_INCHES) != _show_inches(told.beside, _FINEST_INCHES):
        return _show_inches(told.mm, _FINEST_INCHES)
    step, above = _MM_PER_INCH / _FINEST_INCHES, told.mm > told.beside
    alike, more = round(told.mm / step), max(told.mm, told.beside) > round(told.mm / step) * step
    return _show_inches((alike + (above if more else above - 1)) * step, _FINEST_INCHES)


_FINEST_INCHES: Final = 16
"""Into what the inches of a tape are parted: two lengths nearer than that are shown a mark apart."""


def _round_up_figure(millimetres: float, unit: Unit) -> float:
    step = 6.35 if unit == "in" else 5.0
    return step * max(1, -int(-(millimetres - step / 1000.0) // step))


def show_length(millimetres: float, unit: Unit = "cm", *, sixteenths: bool = False) -> str:
    """Return a length as people read it: "96.0 cm", "0.95 cm", "960 mm", "9.5 mm", "37 3/4 in" (to 1/8, or 1/16, inch).

    >>> show_length(958.85, "in")
    '37 3/4 in'
    """
    if unit == "in":
        return _show_inches(millimetres, 16 if sixteenths else 8)
    if unit == "mm":
        return f"{round(millimetres, 1 if abs(millimetres) < _WHOLE_FROM else None) + 0.0:g} mm"
    centimetres = millimetres / 10
    if 0.05 <= abs(centimetres) < 0.995:  # its second figure only where it says something
        return f"{round(centimetres, 2) + 0.0:g} cm"
    return f"{round(centimetres, 1) + 0.0:.1f} cm"


def show_share(share: float) -> str:
    """Return a share in per cent, to a tenth where that says something: "25 %", "12.5 %"."""
    return f"{round(share * 100, 1) + 0.0:g} %"


def _show_inches(millimetres: float, parts: int) -> str:
    whole, part = divmod(round(abs(millimetres) / _MM_PER_INCH * parts), parts)
    sign = "-" if millimetres < 0 and (whole or part) else ""
    fraction = Fraction(part, parts)
    words = [str(whole)] if whole or not part else []
    if part:
        words.append(f"{fraction.numerator}/{fraction.denominator}")
    return f"{sign}{' '.join(words)} in"
