"""What a reader has filled in on the workbench, and how an address holds all of it.

The token in the address is JSON, deflated, in the URL alphabet of base64 (RFC 4648, section 5). Nothing is kept on the
server: who has the address has everything.
"""

from __future__ import annotations

import base64
import binascii
import json
import re
import zlib
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from unicodedata import category

MOST_PRODUCTS = 12
# An address longer than this is refused by servers and cut by some programs.
LONGEST_TOKEN = 7_000
_LARGEST_STATE_BYTES = 200_000
_LONGEST_TEXT = 20_000
_RAW_DEFLATE = -15
_PRODUCT_FIELD = re.compile(r"p([0-9]{1,2})_([a-z_]{1,20})")


@dataclass(frozen=True, slots=True)
class ProductTexts:
    """One product as typed: its name, the label as pasted, and what the label may not say."""

    name: str = ""
    label: str = ""
    price: str = ""
    currency: str = ""
    unit_count: str = ""
    divisible: str = ""

    @property
    def is_blank(self) -> bool:
        """Whether nothing was typed."""
        return not any(asdict(self).values())


@dataclass(frozen=True, slots=True)
class State:
    """Everything on the workbench, as typed."""

    species: str = ""
    weight: str = ""
    age_years: str = ""
    medications: str = ""
    conditions: str = ""
    ingredients: str = ""
    aim: str = ""
    years: str = ""
    products: tuple[ProductTexts, ...] = field(default=())

    @property
    def is_blank(self) -> bool:
        """Whether nothing was typed."""
        return not any(getattr(self, name) for name in ANIMAL_FIELDS) and not self.told_products

    @property
    def told_products(self) -> tuple[ProductTexts, ...]:
        """Give the products of which something was typed."""
        return tuple(product for product in self.products if not product.is_blank)


ANIMAL_FIELDS = tuple(one.name for one in fields(State) if one.name != "products")
_PRODUCT_FIELDS = tuple(one.name for one in fields(ProductTexts))


class BrokenToken(ValueError):
    """An address whose token cannot be read."""


def to_token(state: State) -> str:
    """Write a state for an address.

    Parameters
    ----------
    state
        What is filled in; products without a word are left out.

    Returns
    -------
    str
        Letters, digits, ``-`` and ``_`` only.
    """
    told = {name: getattr(state, name) for name in ANIMAL_FIELDS if getattr(state, name)}
    rows = [{name: value for name, value in asdict(product).items() if value} for product in state.told_products]
    text = json.dumps({**told, "products": rows}, ensure_ascii=False, separators=(",", ":"))
    packer = zlib.compressobj(9, zlib.DEFLATED, _RAW_DEFLATE)
    packed = packer.compress(text.encode()) + packer.flush()
    return base64.urlsafe_b64encode(packed).decode().rstrip("=")


def from_token(token: str) -> State:
    """Read a state from an address.

    Parameters
    ----------
    token
        As :func:`to_token` writes it.

    Returns
    -------
    State
        As it was.

    Raises
    ------
    BrokenToken
        If the token was cut or changed, or holds more than any workbench.
    """
    try:
        packed = base64.b64decode(token + "=" * (-len(token) % 4), altchars=b"-_", validate=True)
        unpacker = zlib.decompressobj(_RAW_DEFLATE)
        text = unpacker.decompress(packed, _LARGEST_STATE_BYTES)
        if not unpacker.eof or unpacker.unused_data:
            raise BrokenToken
        told = json.loads(text.decode())
        return _from_members(told)
    except (binascii.Error, zlib.error, UnicodeDecodeError, UnicodeEncodeError, RecursionError, ValueError) as error:
        raise BrokenToken from error


def _from_members(told: object) -> State:
    if not isinstance(told, dict):
        raise BrokenToken
    rows = told.pop("products", [])
    if not isinstance(rows, list) or len(rows) > MOST_PRODUCTS:
        raise BrokenToken
    products = tuple(ProductTexts(**_texts(row, _PRODUCT_FIELDS)) for row in rows)
    return State(**_texts(told, ANIMAL_FIELDS), products=products)


def _texts(told: object, known: tuple[str, ...]) -> dict[str, str]:
    if not isinstance(told, dict) or not set(told) <= set(known):
        raise BrokenToken
    if not all(isinstance(value, str) and len(value) <= _LONGEST_TEXT for value in told.values()):
        raise BrokenToken
    return {name: clean(value) for name, value in told.items()}


def from_form(form: Mapping[str, str]) -> State:
    """Read a state from the fields of the page's form, or from the names in an address.

    Parameters
    ----------
    form
        ``species``, ``weight`` and so on; ``p1_label``, ``p1_price`` and so on for products. ``ingredient`` is taken
        for ``ingredients``, as links from other pages write it. Other names are let be.

    Returns
    -------
    State
        Products in the order of their numbers.
    """
    told = {name: clean(form.get(name, "")) for name in ANIMAL_FIELDS}
    told["ingredients"] = told["ingredients"] or clean(form.get("ingredient", ""))
    rows: dict[int, dict[str, str]] = {}
    for name, value in form.items():
        match = _PRODUCT_FIELD.fullmatch(name)
        if match and match[2] in _PRODUCT_FIELDS:
            rows.setdefault(int(match[1]), {})[match[2]] = clean(value)
    products = tuple(ProductTexts(**rows[number]) for number in sorted(rows)[:MOST_PRODUCTS])
    return State(**told, products=products)


def clean(text: str) -> str:
    """Cut a typed text to what is read at most, with line breaks of one kind and nothing unprintable."""
    joined = text[:_LONGEST_TEXT].replace("\r\n", "\n").replace("\r", "\n").strip()
    return "".join(char if _may_be_shown(char) else "\ufffd" for char in joined)


def _may_be_shown(char: str) -> bool:
    return char.isprintable() or char in "\n\t" or category(char) == "Zs"


def without(state: State, position: int) -> State:
    """Take one product away; ``position`` counts from 0."""
    kept = tuple(product for index, product in enumerate(state.products) if index != position)
    return replace(state, products=kept)
