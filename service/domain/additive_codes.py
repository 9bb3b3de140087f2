"""Codes of additives as labels print them: ``E 967``, ``INS-967``, ``E-Nr. 967``, ``E 965-967``, ``sweetener (967)``.

Every function takes folded text (:func:`service.domain.label_text.fold`), in which a code is written ``e967``.
"""

from __future__ import annotations

import re

_DASHES = "\u2010-\u2015\u2212-"
_UNITS = r"(?:mg|mcg|\u00b5g|\u03bcg|ug|g|kg|ml|l|iu|ie|ui|i\.e|i\.u|u|ppm|kcal|cfu|kbe|%)(?![a-z])"
# "Vitamin E 400 IU" is an amount of vitamin E.
_NO_AMOUNT = rf"(?!\s?{_UNITS})(?![.,][0-9]{{1,2}}(?![0-9]))"
_NUMBERED = r"(?:nrn?|nos?|n ?\u00b0|numm?ern?|nummers?|numbers?|numer[oi]s?|nums?)(?![a-z])[ .:\u00b0]{0,3}"
_ROMAN = r"(?:\s?\(?(i{1,3}|iv|v)\)?)?(?![0-9a-z])"
# Additives are numbered from 100 to 1525.
_NUMBER = r"(?:1[0-9]{3}|[1-9][0-9]{2})[a-z]?"
_UP_TO = rf"(?:[{_DASHES}]|\b(?:to|bis|tot|through|al|a)\b)"
_AND = r"(?:[,/&+]|\b(?:and|und|et|y|en|e|or|oder|ou|o)\b)"
_ENDS = rf"(?=\s?(?:$|[,;:()\[\]/&+.{_DASHES}]|\b(?:to|bis|tot|and|und|et|y|en|e|or|oder|ou|o|a)\b))"
_MARK = r"(?:e|ins|in-s|sin)"
# "Sin 967" is the code, "sin 500 mg" says without.
_MARKED = (
    rf"(?<![0-9a-z])(?:{_MARK}(?:[ .{_DASHES}]{{0,2}}{_NUMBERED}|[ ._\u00a0{_DASHES}]{{0,2}}))"
    rf"([0-9]{{3,4}}[a-z]?){_ROMAN}{_NO_AMOUNT}"
)
_GOES_ON = rf"\s?(?:{_UP_TO}|{_AND})\s?(?:(?:e|ins|sin)[ .{_DASHES}]{{0,2}})?{_NUMBER}{_ROMAN}{_NO_AMOUNT}{_ENDS}"
_RUN = re.compile(rf"{_MARKED}((?:{_GOES_ON}){{0,9}})")
_NEXT = re.compile(
    rf"\s?(?:({_UP_TO})|({_AND}))\s?(?:(?:e|ins|sin)[ .{_DASHES}]{{0,2}})?({_NUMBER}){_ROMAN}{_NO_AMOUNT}{_ENDS}"
)
_ENDS_WITH_CODE = re.compile(rf"{_MARKED}[)\]]?\s*$")
_MOST_IN_A_RANGE = 12
# "Sweetener (967)" and "Sweetener 967" leave the letter out; elsewhere a number is just a number.
_CLASS = (
    r"(?:sweetener|sussungsmittel|sussstoff|edulcorant|dolcific|zoetstof|preservative|konservierung|conservat"
    r"|conservador|conservante|conserveer|colo(?:u)?r|kleurstof|farbstoff|antioxida|antiossid|emulsif|emulga|emulsion"
    r"|stabili[sz]|estabiliz|thicken|verdickung|verdikking|epaississ|espesante|addensant|gelling|geliermittel|gelific"
    r"|regulator|regler|humectan|umettant|feuchthalte|bevochtig|glazing|uberzug|raising|backtrieb|anti-?caking"
    r"|trennmittel|acidul|saure|bulking|fullstoff|sequestr|additi[vf]|aditivo|zusatzstoff|hulpstof|polyol"
    r"|zuckeralkohol|sugar alcohol)"
)
_NAMES_CLASS = re.compile(_CLASS)
_NUMBERS = rf"({_NUMBER}(?:\s?{_AND}\s?{_NUMBER}){{0,9}})"
_NUMBERS_IN_BRACKETS = re.compile(rf"\(\s?{_NUMBERS}\s?\)")
_NUMBERS_OF_CLASS = re.compile(
    rf"({_CLASS}[a-z]{{0,12}})[ :.(-]{{1,3}}(?:{_NUMBERED})?{_NUMBERS}(?=\s?(?:$|[,;()/&+]))"
)
_EACH_NUMBER = re.compile(_NUMBER)
_LONE_NUMBER = re.compile(rf"(?:{_NUMBERED})?({_NUMBER})", re.IGNORECASE)


def with_codes(folded: str) -> str:
    """Write every additive code of a text the same way, a space around each.

    Parameters
    ----------
    folded
        Folded text.

    Returns
    -------
    str
        ``E 965-967`` becomes ``e965 e966 e967``, ``sweetener (967)`` becomes ``sweetener e967``.
    """
    if _NAMES_CLASS.search(folded):
        folded = _NUMBERS_IN_BRACKETS.sub(lambda match: f" {_as_codes(match[1])} ", folded)
        folded = _NUMBERS_OF_CLASS.sub(lambda match: f"{match[1]} {_as_codes(match[2])}", folded)
    return _RUN.sub(_run, folded)


def _as_codes(numbers: str) -> str:
    return _EACH_NUMBER.sub(r"e\g<0>", numbers)


def _run(match: re.Match[str]) -> str:
    """Write out a code and the numbers behind it; a range names all in it."""
    last = match[1]
    written = [f" e{last}{match[2] or ''}"]
    for following in _NEXT.finditer(match[3]):
        up_to, join, number = following[1], following[2], following[3]
        inside = range(int(last) + 1, int(number)) if up_to and last.isdigit() and number.isdigit() else range(0)
        written += [f"and e{between}" for between in inside if len(inside) < _MOST_IN_A_RANGE]
        written.append(f"{join or 'and'} e{number}{following[4] or ''}")
        last = number
    return f"{' '.join(written)} "


def bare_codes(folded: str, class_before: bool) -> str | None:
    """Read numbers that stand alone as additive codes: ``(967)``, and ``967`` after a sweetener.

    Parameters
    ----------
    folded
        One item, folded.
    class_before
        Whether what stands before it names a class of additives or ends with a code; without that only a number in
        brackets is a code.

    Returns
    -------
    str or None
        For example ``E967``; ``None`` for anything else.
    """
    text = folded.strip()
    if match := _NUMBERS_IN_BRACKETS.fullmatch(text):
        return _EACH_NUMBER.sub(r"E\g<0>", match[1])
    match = _LONE_NUMBER.fullmatch(text) if class_before else None
    return f"E{match[1]}" if match else None


def names_additive_class(folded: str) -> bool:
    """Say whether a text names a class of additives, such as ``sweeteners`` or ``Farbstoff``.

    Parameters
    ----------
    folded
        Folded text.

    Returns
    -------
    bool
        ``False`` for everything else.
    """
    return _NAMES_CLASS.search(folded) is not None


def ends_with_code(folded: str) -> bool:
    """Say whether a text ends with a code, so that bare numbers after its comma go on with codes.

    Parameters
    ----------
    folded
        One item, folded.

    Returns
    -------
    bool
        ``True`` for ``INS 955`` and ``sweetener (E955)``.
    """
    return _ENDS_WITH_CODE.search(folded) is not None
