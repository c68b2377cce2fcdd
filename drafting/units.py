"""The door for figures: lengths, angles and shares as people write them, to millimetres, radians and shares.

An inch is exactly 25.4 mm. Whatever can't be read is refused with what was read, what is allowed and the
mend.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from types import MappingProxyType
from typing import Final, NoReturn, cast, get_args

from drafting.errors import InputError, Problem, close_matches
from drafting.saying import Unit, show_length, show_share
from drafting.text import is_printable, printable

__all__ = ["Unit", "parse_angle", "parse_length", "parse_share", "parse_unit", "show_length", "show_share"]

LONGEST_TEXT: Final = 60
_EIGHTHS: Final = 8  # of an inch, in which lengths are shown
LONGEST_LENGTH: Final = 100_000.0  # mm: a hundred metres, more than any roll of cloth
_MM_PER: Final[Mapping[str, Fraction]] = MappingProxyType(
    {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        "in": Fraction(254, 10),
        "ft": Fraction(3048, 10),
        "yd": Fraction(9144, 10),
    }
)
_SPELLINGS: Final[Mapping[str, str]] = MappingProxyType(
    {
        **{unit: unit for unit in _MM_PER},
        **dict.fromkeys(["millimetre", "millimetres", "millimeter", "millimeters"], "mm"),
        **dict.fromkeys(["centimetre", "centimetres", "centimeter", "centimeters"], "cm"),
        **dict.fromkeys(["metre", "metres", "meter", "meters"], "m"),
        **dict.fromkeys(["inch", "inches", "ins", '"', "\u2033", "\u201d", "''"], "in"),
        **dict.fromkeys(["foot", "feet", "'", "\u2032", "\u2019"], "ft"),
        **dict.fromkeys(["yard", "yards", "yds"], "yd"),
    }
)
_VULGAR: Final[Mapping[str, str]] = MappingProxyType(
    {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
)
_NUMBER: Final = r"(?:[0-9]{1,9}(?:\.[0-9]{0,17})?|\.[0-9]{1,17})"
_AMOUNT: Final = re.compile(
    rf"(?P<sign>[-+\u2212]?)\s*(?:(?P<whole>[0-9]{{1,9}})(?:\s+|\s*-\s*)(?P<top>[0-9]{{1,4}})\s*/\s*(?P<low>[0-9]{{1,4}})"
    rf"|(?P<above>[0-9]{{1,6}})\s*/\s*(?P<below>[0-9]{{1,4}})|(?P<plain>{_NUMBER}))"
)
_FEET_INCHES: Final = re.compile(rf"(?P<feet>{_NUMBER})\s*(?:ft|feet|foot|['\u2032\u2019])\s+?(?P<rest>\S.*)")
_ALLOWED_LENGTHS: Final = 'lengths such as "96 cm", "960 mm", "37 3/4 in" or a plain number'


def parse_unit(text: object, *, where: str = "units") -> Unit:
    """Read the unit that plain numbers are in: "mm", "cm" or "in"; InputError for anything else."""
    read = _text(text, where, "one of mm, cm, in").lower() if isinstance(text, str) else ""
    found = _SPELLINGS.get(read, "")
    for unit in get_args(Unit):
        if found == unit:
            return cast(Unit, unit)
    _refuse(
        where,
        text,
        "one of mm, cm, in",
        "write the unit your tape shows",
        close_matches(read, ["mm", "cm", "in"]),
    )


def parse_length(
    value: object,
    default_unit: Unit = "mm",
    *,
    where: str = "length",
    negative: bool = False,
    longest: float = LONGEST_LENGTH,
) -> float:
    r"""Read a length and return millimetres.

    A plain number, or text without a unit, is in ``default_unit``. Text may carry mm, cm, m, in, ft or yd, a
    fraction ("37 3/4 in", "3/8 in", "37¾\""), or feet and inches ("5 ft 4 in"). ``negative`` says whether a
    length below zero makes sense here. InputError for NaN, infinity, more than ``longest`` mm, unknown units,
    control characters and text of more than 60 characters.

    >>> parse_length("37 3/4 in")
    958.85
    >>> parse_length(96, "cm")
    960.0
    """
    if isinstance(value, str):
        millimetres = _length_from_text(_text(value, where, _ALLOWED_LENGTHS), value, default_unit, where)
    else:
        number = _number(value, where, _ALLOWED_LENGTHS)
        millimetres = number * float(_MM_PER[default_unit])
    if abs(millimetres) > longest:
        _refuse(where, value, f"at most {longest:g} mm", "check the number and its unit")
    if millimetres < 0 and not negative:
        _refuse(where, value, "zero or more", "leave out the minus sign")
    return millimetres + 0.0


def parse_angle(value: object, *, where: str = "angle", negative: bool = False) -> float:
    """Read an angle and return radians; a plain number is degrees. InputError beyond 360 degrees.

    >>> round(parse_angle("22 deg"), 6)
    0.383972
    """
    allowed = 'angles such as "22 deg", "22°", "0.38 rad" or a plain number of degrees'
    if isinstance(value, str):
        amount, unit = _amount_and_unit(_text(value, where, allowed), value, where, allowed)
        per = {"": 1.0, "deg": 1.0, "degree": 1.0, "degrees": 1.0, "°": 1.0, "rad": 180.0 / math.pi}
        if unit not in per:
            _refuse(where, value, allowed, "write the unit as deg", close_matches(unit, per))
        degrees = float(amount) * per[unit]
    else:
        degrees = _number(value, where, allowed)
    if abs(degrees) > 360:
        _refuse(where, value, "at most 360 deg", "check the number and its unit")
    if degrees < 0 and not negative:
        _refuse(where, value, "zero or more", "leave out the minus sign")
    return math.radians(degrees) + 0.0


def parse_share(value: object, *, where: str = "share", negative: bool = False, most: float = 3.0) -> float:
    """Read a share and return it as a plain ratio: "25 %", "25%", "0.25" and 0.25 are all 0.25.

    InputError above ``most`` (a bare 25 is most likely meant as 25 %, and the mend says so).

    >>> parse_share("25 %")
    0.25
    """
    allowed = 'shares such as "25 %" or 0.25'
    if isinstance(value, str):
        amount, unit = _amount_and_unit(_text(value, where, allowed), value, where, allowed)
        if unit not in ("", "%", "percent"):
            _refuse(where, value, allowed, "write it with a % sign", close_matches(unit, ["percent"]))
        share = float(amount / 100 if unit else amount)
    else:
        share = _number(value, where, allowed)
    if abs(share) > most:
        mend = f'write "{share:g} %" if per cent is meant' if abs(share) <= 100 * most else "check the number"
        _refuse(where, value, f"at most {most * 100:g} %", mend)
    if share < 0 and not negative:
        _refuse(where, value, "zero or more", "leave out the minus sign")
    return share + 0.0


def _length_from_text(text: str, value: object, default_unit: Unit, where: str) -> float:
    feet = _FEET_INCHES.fullmatch(text)
    if feet is None:
        feet = re.fullmatch(rf"(?P<feet>{_NUMBER})\s*(?:ft|['\u2032\u2019])(?P<rest>[0-9.].*)", text)
    if feet is not None:
        amount, unit = _amount_and_unit(feet["rest"], value, where, _ALLOWED_LENGTHS)
        if _SPELLINGS.get(unit or "in") != "in" or amount < 0:
            _refuse(where, value, _ALLOWED_LENGTHS, 'write feet and inches as "5 ft 4 in"')
        return float(Fraction(feet["feet"]) * _MM_PER["ft"] + amount * _MM_PER["in"])
    amount, unit = _amount_and_unit(text, value, where, _ALLOWED_LENGTHS)
    known = _SPELLINGS.get(unit or default_unit)
    if known is None:
        if unit in ("%", "percent"):
            _refuse(where, value, _ALLOWED_LENGTHS, "write a length here, not a share: what was measured")
        units = sorted(name for name in _SPELLINGS if name.isalpha())
        close = close_matches(unit, units) or tuple(each for each in _MM_PER if each[0] == unit[0])
        _refuse(
            where,
            value,
            "the units mm, cm, m, in, ft, yd",
            "write one of these units",
            close,
        )
    return float(amount * _MM_PER[known])


def show_limit(
    limit: float, inwards: float, show: Callable[[float], str], read: Callable[[str], float], step: float
) -> str:
    """Return a limit as it is shown, or one ``step`` of that inwards (1 up, -1 down): what is shown may be written.

    ``read`` reads what ``show`` shows.
    """
    shown = show(limit)
    return shown if (read(shown) - limit) * inwards >= 0.0 else show(limit + step * inwards)


def show_length_limit(limit: float, inwards: float, unit: Unit) -> str:
    """Return a limit (mm) of what may be as a maker reads it, rounded inwards: 1 up, -1 down.

    >>> show_length_limit(10.0, 1, "in"), show_length_limit(60.0, -1, "in")
    ('1/2 in', '2 1/4 in')
    """

    def show(millimetres: float) -> str:
        return show_length(millimetres, unit)

    fine = unit == "mm" or abs(limit) < _MM_PER["cm"]
    step = float(_MM_PER["in"]) / _EIGHTHS if unit == "in" else float(_MM_PER["mm"]) / (10 if fine else 1)
    return show_limit(limit, inwards, show, lambda text: parse_length(text, where="limit", negative=True), step)


def _amount_and_unit(text: str, value: object, where: str, allowed: str) -> tuple[Fraction, str]:
    found = _AMOUNT.match(text)
    if found is None:
        _refuse(where, value, allowed, _mend_for(text))
    unit = text[found.end() :].strip().lower()
    if unit[:1] in tuple("0123456789.,/eE+-") and unit[:1]:
        _refuse(where, value, allowed, _mend_for(text))
    try:
        if found["whole"] is not None:
            size = int(found["whole"]) + Fraction(int(found["top"]), int(found["low"]))
        elif found["above"] is not None:
            size = Fraction(int(found["above"]), int(found["below"]))
        else:
            size = Fraction(found["plain"].rstrip("."))
    except ZeroDivisionError:
        _refuse(where, value, allowed, "a fraction can't have 0 below the line")
    return (-size if found["sign"] in ("-", "\u2212") else size), unit


def _mend_for(text: str) -> str:
    if re.search(r"[0-9],[0-9]", text):
        return "write a point for the decimal: 96.5"
    return "write a number, then its unit"


def _text(value: str, where: str, allowed: str) -> str:
    if len(value) > LONGEST_TEXT:
        _refuse(where, f"{len(value)} characters", allowed, f"write at most {LONGEST_TEXT} characters")
    if not all(letter == "\t" or is_printable(letter) for letter in value):
        _refuse(where, value, allowed, "take out the control characters")
    for mark, plain in _VULGAR.items():
        value = value.replace(mark, plain)
    return " ".join(value.split())


def _number(value: object, where: str, allowed: str) -> float:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        _refuse(where, value, allowed, 'write a number, or text such as "96 cm"')
    if abs(value) <= LONGEST_LENGTH * 10:  # false for NaN too
        return float(value)
    _refuse(where, value, allowed, "write an ordinary number")


def _refuse(where: str, value: object, allowed: str, mend: str, close: tuple[str, ...] = ()) -> NoReturn:
    raise InputError([Problem(where, _show_read(value), allowed, mend, close)])


def _show_read(value: object) -> str:
    """Return what was read, short and without control characters."""
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) > 10**20:
        return "a number of more than 20 digits"
    if isinstance(value, (str, int, float)) or value is None:
        text = value if isinstance(value, str) else repr(value)
        return f"“{printable(text[:LONGEST_TEXT])}”"
    return "a table" if isinstance(value, dict) else "a list" if isinstance(value, list) else "a date or a time"
