"""Words on a pack that say it tastes like food."""

from __future__ import annotations

import pytest

from service.domain.pack_wording import tempting_words
from service.domain.products import Product


@pytest.mark.parametrize(
    ("unit", "name", "other"),
    [
        ("soft chew", None, None),
        ("chews", None, None),
        ("tablet", "Plain hip treats", None),
        ("gummy", None, None),
        ("bite", None, None),
        ("tablet", "Chewable plain tablet", None),
        ("tablet", "Bacon flavour tablet", None),
        ("tablet", None, "cellulose, natural bacon flavor"),
        ("ml", "Palatable liquid", None),
        ("tablet", None, "peanut butter, cellulose"),
        ("tablet", None, "dried chicken liver, cellulose"),
        ("Kausnack", None, None),
        ("Kautablette", None, None),
        ("Tablette", "mit Leberwurstgeschmack", None),
        ("Tablette", "schmackhafte Tablette", None),
        ("Leckerli", None, None),
        ("bouch\u00e9e", None, None),
        ("comprim\u00e9", "comprim\u00e9 \u00e0 croquer", None),
        ("comprim\u00e9", None, "cellulose, ar\u00f4me de volaille"),
        ("tableta masticable", None, None),
        ("tableta", "sabor a pollo", None),
        ("compressa", "gusto pollo", None),
        ("boccone", "compressa appetibile", None),
        ("kauwtablet", None, None),
        ("tablet", "met kippensmaak", None),
        ("comprimido mastig\u00e1vel", None, None),
    ],
)
def test_tempting(unit: str, name: str | None, other: str | None) -> None:
    assert tempting_words(Product("p", name=name, unit=unit, other_ingredients=other)) != ()


@pytest.mark.parametrize(
    ("unit", "name", "other"),
    [
        ("tablet", "Plain tablet", "cellulose, magnesium stearate"),
        ("capsule", None, None),
        ("ml", "Drops", "water"),
        ("tablet", "Unflavoured tablet", None),
        ("tablet", None, "cellulose, no artificial flavours"),
        ("Pulver", "geschmacksneutral", None),
        ("tablet", None, "sans ar\u00f4me"),
        ("tablet", None, "cocoa butter, liver"),
    ],
)
def test_not_tempting(unit: str, name: str | None, other: str | None) -> None:
    assert tempting_words(Product("p", name=name, unit=unit, other_ingredients=other)) == ()


def test_words_are_given_once_in_order() -> None:
    product = Product("p", unit="chew", name="Bacon chew", other_ingredients="bacon flavor")
    assert tempting_words(product) == ("chew", "bacon", "flavor")
