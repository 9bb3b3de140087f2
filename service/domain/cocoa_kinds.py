"""Chocolate and cocoa by kind: what printed words call them, and the share of cocoa that a pack states."""

from __future__ import annotations

import re
from decimal import Decimal

from service.domain.content_factors import Content, high_share, low_share, of_rows, usable_factors
from service.domain.label_text import fold
from service.reference.records import ContentFactor
from service.reference.release import Reference

COCOA = "cocoa"
_CHOCOLATE_STEMS = ("chocol", "schoko", "cioccol")
_CHOCOLATE = "chocolate"
_WHITE, _UNSWEETENED = "white chocolate", "unsweetened chocolate"
# What printed words call the materials of the table, which are in English there.
_KIND_WORDS = {
    "milk chocolate": ("milk", "milch", "lait", "leche", "latte"),
    _WHITE: ("white", "weiss", "blanc", "bianco"),
    "dark / semi-sweet chocolate": ("dark", "semi", "bittersweet", "zartbitter", "noir", "negro", "fondente"),
    _UNSWEETENED: (
        *("unsweetened", "baking chocolate", "cocoa mass", "cocoa liquor", "chocolate liquor", "nibs", "cocoa beans"),
        *("cacao beans", "kakaobohnen", "kakaomasse", "feves de cacao", "granos de cacao"),
    ),
    "cocoa powder": ("cocoa powder", "kakaopulver", "cacao en poudre", "cacao en polvo", "cocoa solids"),
    "cocoa bean hulls": ("hull", "husk", "shell", "mulch"),
}

_NUMBER = r"(?<![0-9.,])([0-9]{1,3}(?:[.,][0-9])?) ?(?:%|percent|prozent|pour cent|por ciento)"
_COCOA = r"(?:cocoa|cacao|kakao|cacau)(?! ?(?:butter|boter))"
_OF_COCOA = re.compile(
    rf"{_NUMBER}\s?(?:min\.? |minimum |of |de |di |pure |puro |pur )?{_COCOA}[a-z]*(?: solids| mass)?"
)
_COCOA_OF = re.compile(
    rf"{_COCOA}[a-z]*(?: solids| mass| content)?[ :=(]{{1,3}}"
    rf"(?:min\.? |minimum |mindestens |mind\.? |minimo )?{_NUMBER}"
)
_BARE = re.compile(
    rf"{_NUMBER}(?=\s*(?:$|[,;:)\]]|(?:dark|milk|bittersweet|semi|chocolate|chocolat|cioccolat|schoko|zartbitter|edel"
    r"bitter|noir|negro|fondente|pure chocola)))"
)
_LEAST_BARE_PERCENT = Decimal(30)
_COCOA_WORD = re.compile(rf"{_COCOA}|chocol|schoko|cioccol")
_WHITE_ITSELF = re.compile(
    r"(?:white|weisse?[nrs]?|blanc(?:he)?|blanco|bianco) (?:chocol\w*|schoko\w*)"
    r"|(?:chocol\w*|cioccol\w*) (?:blanc\w*|bianc\w*)"
)
# "Milk-free" and "without milk" name no kind.
_WITHOUT = re.compile(
    r"\b[^\W\d_]{2,30}[- ]free\b|\b[^\W\d_]{2,30}frei\w{0,3}\b"
    r"|\b(?:no|non|without|ohne|sans|sin|senza)[- ](?:de )?[^\W\d_]{2,30}"
)


def cocoa_content(reference: Reference, name: str) -> Content:
    """Give mg of theobromine and caffeine in one mg of a chocolate or cocoa.

    Parameters
    ----------
    reference
        The release to answer from.
    name
        As printed.

    Returns
    -------
    Content
        By the kinds that the name says, else by the strongest plausible one. A stated share of cocoa counts as so
        much unsweetened chocolate; of white chocolate it counts cocoa butter, which holds next to nothing.
    """
    share, folded = _share_and_rest(fold(name))
    factors = usable_factors(reference, COCOA)
    named = [row for row in factors if any(word in folded for word in _words(row.material))]
    plausible = factors
    if any(stem in folded for stem in _CHOCOLATE_STEMS):
        plausible = [row for row in factors if _CHOCOLATE in row.material]
    if [row.material for row in named] == [_WHITE]:
        if not _holds_cocoa_too(folded):
            return of_rows(reference, named)
        named = []
    found = of_rows(reference, named or plausible, kind_named=bool(named))
    if share is None:
        return found
    return _by_share(factors, found, share)


def _share_and_rest(folded: str) -> tuple[Decimal | None, str]:
    """Read the share of cocoa, and give what the name says of the kind without it.

    A share is one of cocoa beside a word for cocoa; a bare one where it is large enough for a chocolate and speaks of
    nothing else: "70 % dark chocolate", not "70 % off" and not "40 % hazelnuts".
    """
    rest = _WITHOUT.sub(" ", folded)
    match = _OF_COCOA.search(rest) or _COCOA_OF.search(rest)
    if match is None:
        match = _BARE.search(rest)
        if match is None or Decimal(match[1].replace(",", ".")) < _LEAST_BARE_PERCENT:
            return None, rest
    share = Decimal(match[1].replace(",", ".")) / 100
    return (share if 0 < share <= 1 else None), f"{rest[: match.start()]} {rest[match.end() :]}"


def _holds_cocoa_too(folded: str) -> bool:
    """Say whether white chocolate is not all: "white chocolate with cocoa"."""
    return _COCOA_WORD.search(_WHITE_ITSELF.sub(" ", folded)) is not None


def _words(material: str) -> tuple[str, ...]:
    return (*_KIND_WORDS.get(material, ()), *(part.strip() for part in material.split("/")))


def _by_share(factors: list[ContentFactor], found: Content, share: Decimal) -> Content:
    """Follow the note of the dark chocolate's factor; a kind that is named and stronger still counts."""
    solid = next((row for row in factors if row.material == _UNSWEETENED), None)
    if solid is None:
        return found
    low, high = low_share(solid) * share, high_share(solid) * share
    if high < found.high and found.kind_named:
        return found
    return Content(low, high, (solid,), found.factors)
