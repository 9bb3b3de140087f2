"""Chocolate and cocoa by kind: what printed words call them, and the share of cocoa that a pack states."""

from __future__ import annotations

from decimal import Decimal

from service.domain.content_factors import Content, high_share, low_share, of_rows, usable_factors
from service.domain.label_text import fold
from service.domain.stated_strength import stated_share
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
    _UNSWEETENED: ("unsweetened", "baking chocolate", "cocoa mass", "cocoa liquor", "chocolate liquor"),
    "cocoa powder": ("cocoa powder", "kakaopulver", "cacao en poudre", "cacao en polvo", "cocoa solids"),
    "cocoa bean hulls": ("hull", "husk", "shell", "mulch"),
}


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
    folded = fold(name)
    factors = usable_factors(reference, COCOA)
    named = [row for row in factors if any(word in folded for word in _words(row.material))]
    plausible = factors
    if any(stem in folded for stem in _CHOCOLATE_STEMS):
        plausible = [row for row in factors if _CHOCOLATE in row.material]
    found = of_rows(reference, named or plausible, kind_named=bool(named))
    share = stated_share(name)
    if share is None or any(row.material == _WHITE for row in named):
        return found
    return _by_share(factors, found, share)


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
