"""Words on a pack that say it tastes like food: an animal that finds it may eat all of it."""

from __future__ import annotations

from service.domain.denial_words import NEGATING_WORDS
from service.domain.label_text import words
from service.domain.products import Product

# Forms that are given like a treat, by the beginnings of their words in the languages of the labels.
_FORM_STEMS = (
    *("chew", "treat", "gumm", "snack", "cookie", "biscuit", "jerky", "nibble", "lick"),
    *("kausnack", "kautab", "kaudrop", "kaustreifen", "leckerli", "leckerchen", "keks"),
    *("friandise", "croquer", "machable", "bouchee"),
    *("masticab", "golosina", "premio", "chuche", "galleta", "bocadito"),
    *("bocconcin", "biscott", "kauwsnack", "kauwtab", "snoepje", "koekje", "mastigav", "petisco", "biscoit"),
)
_FORM_WORDS = frozenset({"bite", "bites", "bits", "goody", "goodies"})
# "Flavor", "tasty", "palatable": a coat or an aroma that makes it taste of food.
_FLAVOR_STEMS = (
    *("flavor", "palatab", "tasty", "delicious", "yummy"),
    *("schmackhaft", "lecker", "arome", "saveur", "appetent", "appetissant"),
    *("sabor", "sabros", "apetitos", "palatabil", "gusto", "gustos", "aroma", "appetibil", "smakelijk"),
)
# Parts of compounds: "Leberwurstgeschmack", "kippensmaak".
_FLAVOR_ENDINGS = ("geschmack", "smaak", "gout")
_FLAVORLESS = frozenset({"unflavored", "flavorless", "geschmacksneutral", "insipide", "insipido", "smaakloos"})
_FOODS = (
    ("peanut", "butter"), ("bacon",), ("liver", "powder"), ("chicken", "liver"), ("beef", "liver"), ("cheese",),
    ("erdnussbutter",), ("erdnussmus",), ("kase",), ("beurre", "de", "cacahuete"), ("fromage",),
    ("mantequilla", "de", "cacahuete"), ("queso",), ("burro", "di", "arachidi"), ("formaggio",), ("pindakaas",),
)  # fmt: skip
_REACH = 3


def tempting_words(product: Product) -> tuple[str, ...]:
    """Find what says that a product tastes like food.

    Parameters
    ----------
    product
        Its unit, its name and its list of other ingredients are read.

    Returns
    -------
    tuple of str
        Folded words, each once; empty where nothing says so. What a label denies does not count.
    """
    of_form = [found for text in (product.unit, product.name) for found in _forms(words(text or ""))]
    texts = (product.unit, product.name, product.other_ingredients)
    of_taste = [found for text in texts for found in _tastes(words(text or ""))]
    return tuple(dict.fromkeys((*of_form, *of_taste)))


def _forms(tokens: tuple[str, ...]) -> list[str]:
    return [
        token
        for at, token in enumerate(tokens)
        if (token in _FORM_WORDS or token.startswith(_FORM_STEMS)) and not _denied(tokens, at)
    ]


def _tastes(tokens: tuple[str, ...]) -> list[str]:
    if any(token in _FLAVORLESS for token in tokens):
        return []
    found = [
        token
        for at, token in enumerate(tokens)
        if token.startswith(_FLAVOR_STEMS) or token.endswith(_FLAVOR_ENDINGS)
        if not _denied(tokens, at)
    ]
    for food in _FOODS:
        starts = (at for at in range(len(tokens)) if tokens[at : at + len(food)] == food)
        found += [" ".join(food) for at in starts if not _denied(tokens, at)]
    return found


def _denied(tokens: tuple[str, ...], at: int) -> bool:
    return any(token in NEGATING_WORDS for token in tokens[max(0, at - _REACH) : at])
