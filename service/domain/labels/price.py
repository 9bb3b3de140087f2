"""Recogniser of a price: a currency sign or code beside a number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from service.domain.currencies import minor_digits
from service.domain.errors import InvalidInput
from service.domain.labels.findings import Findings, Line
from service.domain.labels.heading_words import PRICE_HEADINGS
from service.domain.labels.phrases import Phrases
from service.domain.labels.quantities import per, quantity
from service.domain.labels.sheet import Sheet
from service.domain.labels.tokens import Token
from service.domain.numbers import read_number

_HEADINGS = Phrases(dict.fromkeys(PRICE_HEADINGS, True))
# Signs and the currency that each mostly means; where several countries share one, that is flagged (common practice).
_SIGNS = {
    "\u20ac": ("EUR", False), "\u00a3": ("GBP", True), "$": ("USD", True), "\u00a5": ("JPY", True),
    "\u20b9": ("INR", False), "\u20ba": ("TRY", False), "\u20a9": ("KRW", False), "\u20bd": ("RUB", False),
    "\u20aa": ("ILS", False), "\u0e3f": ("THB", False),
}  # fmt: skip
_WORDS = {
    "eur": "EUR", "euro": "EUR", "euros": "EUR", "usd": "USD", "gbp": "GBP", "chf": "CHF", "sek": "SEK", "nok": "NOK",
    "dkk": "DKK", "pln": "PLN", "z\u0142": "PLN", "zl": "PLN", "czk": "CZK", "huf": "HUF", "cad": "CAD", "aud": "AUD",
    "nzd": "NZD", "jpy": "JPY", "cny": "CNY", "inr": "INR", "brl": "BRL", "mxn": "MXN", "zar": "ZAR", "kwd": "KWD",
    "bhd": "BHD", "omr": "OMR", "tnd": "TND", "jod": "JOD", "krw": "KRW", "sgd": "SGD", "hkd": "HKD", "ils": "ILS",
    "dollar": "USD", "dollars": "USD", "fr": "CHF", "sfr": "CHF", "isk": "ISK", "ron": "RON", "try": "TRY",
    "clp": "CLP",
}  # fmt: skip
# Letters before a dollar sign say whose dollar it is.
_DOLLARS = {
    "us": "USD", "a": "AUD", "au": "AUD", "c": "CAD", "ca": "CAD", "can": "CAD", "nz": "NZD", "s": "SGD", "hk": "HKD",
    "r": "BRL", "mx": "MXN", "cad": "CAD", "aud": "AUD", "usd": "USD", "nzd": "NZD", "sgd": "SGD", "hkd": "HKD",
}  # fmt: skip
_SMALLEST_PACK = 5
_LENGTH_OF_A_CODE = 3
_OFFERS = frozenset("for f\u00fcr fur pour por x \u00d7".split())
_REDUCTIONS = frozenset(
    """off discount rabatt saving savings gespart reduction descuento coupon voucher code gutschein remise cashback bon
    cupon sconto korting extra""".split()
)
_FORMER = frozenset("was were statt before avant antes formerly fruher save".split())
# What a shop may ask, not what it asks: another price goes before it.
_LIST_PRICES = frozenset("rrp msrp uvp srp list was statt reg regular ppc".split())
_TO_PAY = frozenset("now our sale special jetzt nur only ahora maintenant".split())
_FROM = frozenset("from ab desde starting des dal".split())
_BEFORE_A_PRICE = _FROM | _FORMER | _LIST_PRICES
_TO = frozenset(("-", "\u2013", "\u2014", "to", "bis", "a"))
_LONGEST_HEADING = 4
_KRONE = frozenset(("kr",))


@dataclass(frozen=True, slots=True)
class _Money:
    start: int
    end: int
    amount: Decimal
    currency: str | None
    flags: tuple[str, ...]


def price(found: Findings, line: Line) -> int | None:
    """Recognise a price.

    Parameters
    ----------
    found
        Filled with what the line says; a price per weight is kept as a statement, not as the price.
    line
        The line.

    Returns
    -------
    int or None
        The token after it, for what else stands in the line; ``None`` where there is no price.
    """
    sheet, tokens = found.sheet, found.sheet.tokens
    at, rank = _after_headings(found, line)
    if (offer := _for_several(sheet, at, line.end)) is not None:
        found.state("offer", line.start, offer)
        return offer
    money = _money(sheet, at, line.end) or _range_before(sheet, at, line.end)
    if money is None:
        return None
    before = tokens[line.start - 1].fold if line.start else ""
    behind = tokens[money.end].fold if money.end < line.end else ""
    if before in _OFFERS or behind in _REDUCTIONS or before in _FORMER or tokens[line.start].fold in _FORMER:
        # "2 for $30" is no price of one, "$5 off" and "was $20" are none to pay.
        found.state("offer", line.start, money.end)
        return money.end
    money = _range_of(sheet, money, line.end)
    if at > line.start and tokens[at - 1].fold in _FROM:
        money = replace(money, flags=(*money.flags, "price_is_a_range"))
    what = per(sheet, money.end, line.end)
    if what is not None and what.kind == "unit" and what.count >= _SMALLEST_PACK and found.pack.price is None:
        # "$22.50 / 60 ct" is the price of the pack.
        found.pack.unit_count = found.pack.unit_count or what.count
        found.pack.unit = found.pack.unit or (what.unit.unit if what.unit is not None else None)
        found.pack.container_spans.append(sheet.span(what.start, what.end))
        money = replace(money, end=what.end)
    elif what is not None and what.kind in ("product_mass", "volume", "unit", "serving", "day"):
        found.state("unit_price", line.start, what.end)
        return what.end
    _keep(found, line.start, money, rank)
    return money.end


def _after_headings(found: Findings, line: Line) -> tuple[int, int]:
    """Step over ``Price:``, ``RRP``, ``from``; say how surely they speak of the price to pay."""
    tokens, at, rank = found.sheet.tokens, line.start, 1
    while at < line.end:
        head = _HEADINGS.find(tokens, at, line.end)
        if head is None and tokens[at].fold not in _BEFORE_A_PRICE:
            break
        after = head.end if head is not None else at + 1
        words = {token.fold for token in tokens[at:after]}
        rank = 2 if words & _TO_PAY else 0 if words & _LIST_PRICES else rank
        at = after
        while at < line.end and tokens[at].text in (":", "-", "=", ".", "("):
            at += 1
    return at, rank


def _for_several(sheet: Sheet, at: int, end: int) -> int | None:
    """``2 for \u00a330``, ``3 f\u00fcr 50 \u20ac``: the token behind a price of several."""
    tokens = sheet.tokens
    if at + 2 >= end or not tokens[at].text.isdigit() or tokens[at + 1].fold not in _OFFERS:
        return None
    money = _money(sheet, at + 2, end)
    return money.end if money is not None else None


def _range_of(sheet: Sheet, money: _Money, end: int) -> _Money:
    """``$24.99 - $39.99``: the lower one, told as such."""
    if money.end + 1 >= end or sheet.tokens[money.end].fold not in _TO:
        return money
    second = _money(sheet, money.end + 1, end) or _bare(sheet, money.end + 1, money)
    if second is None or second.amount <= money.amount or second.currency != money.currency:
        return money
    return replace(money, end=second.end, flags=(*money.flags, "price_is_a_range"))


def _bare(sheet: Sheet, at: int, like: _Money) -> _Money | None:
    """``EUR 19,90 bis 29,90``: a number in the currency of another price; it has as many decimals."""
    token, other = sheet.tokens[at], like.amount.as_tuple().exponent
    if token.kind != "number":
        return None
    amount, flags = _amount(token.text, like.currency, sheet.locale)
    if amount is None or amount.as_tuple().exponent != other:
        return None
    return _Money(at, at + 1, amount, like.currency, flags)


def _range_before(sheet: Sheet, at: int, end: int) -> _Money | None:
    """``19,90 - 29,90 \u20ac``: the currency stands behind the higher price only."""
    if at + 2 >= end or sheet.tokens[at].kind != "number" or sheet.tokens[at + 1].fold not in _TO:
        return None
    second = _money(sheet, at + 2, end)
    first = _bare(sheet, at, second) if second is not None else None
    if first is None or second is None or first.amount >= second.amount:
        return None
    return replace(first, end=second.end, flags=(*second.flags, "price_is_a_range"))


def _keep(found: Findings, start: int, money: _Money, rank: int) -> None:
    """Keep a price; where several are printed, the first of those that are most surely the one to pay."""
    pack, span = found.pack, found.sheet.span(start, money.end)
    if pack.price is not None and pack.price != money.amount:
        pack.price_flags.append("several_prices")
        if rank <= pack.price_rank or pack.price_tokens is None:
            found.state("price", start, money.end)
            return
        found.state("price", *pack.price_tokens)
        pack.price_spans.clear()
    pack.price, pack.currency = money.amount, money.currency
    pack.price_tokens, pack.price_rank = (start, money.end), rank
    pack.price_flags.extend(money.flags)
    pack.price_spans.append(span)
    found.cover(start, money.end)


def reduction(found: Findings, line: Line) -> bool:
    """Recognise ``15 % coupon``, ``Save 10 %``, ``20 % Rabatt``: a share of the price, of nothing in the product.

    Parameters
    ----------
    found
        Filled with the statement.
    line
        The line.

    Returns
    -------
    bool
        Whether the line speaks of a reduction.
    """
    tokens = found.sheet.tokens
    saved = tokens[line.start].fold in ("save", "spare", "sparen", "ahorra", "economisez", "coupon", "extra")
    at = line.start + saved
    share = quantity(found.sheet, at, line.end)
    if share is None or share.unit is None or share.unit.dimension != "fraction":
        return False
    words = [token.fold for token in tokens[share.end : min(line.end, share.end + _LONGEST_HEADING)]]
    if words[:1] == ["extra"]:
        words = words[1:]
    if not (saved and share.end >= line.end) and not (words and words[0] in _REDUCTIONS):
        return False
    found.state("offer", line.start, line.end)
    return True


def _is_sign(token: Token) -> bool:
    """``EUR`` in capitals is a code; in small letters it may be a word."""
    return token.text in _SIGNS or (
        token.fold in _WORDS and token.text.isupper() and len(token.text) == _LENGTH_OF_A_CODE
    )


def price_place(found: Findings, line: Line) -> int | None:
    """Find a price behind other words of a line: ``Lot 7  \u00a314.95``.

    Parameters
    ----------
    found
        The label.
    line
        The line.

    Returns
    -------
    int or None
        Where it begins; ``None`` where there is none, or where it begins the line.
    """
    tokens = found.sheet.tokens
    if price_begins(found.sheet, line.start, line.end):
        return None
    for at in range(line.start + 1, line.end):
        sign = _is_sign(tokens[at]) or (tokens[at].kind == "number" and at + 1 < line.end and _is_sign(tokens[at + 1]))
        if sign and _money(found.sheet, at, line.end) is not None:
            if _is_group_before(tokens, line.start, at):
                # "1 234,50 \u20ac"
                at -= 1
            begins = _with_heading(found.sheet, line.start, at)
            return None if begins == line.start else begins
    return None


def price_begins(sheet: Sheet, start: int, end: int) -> bool:
    """Say whether a price begins at a token.

    Parameters
    ----------
    sheet
        The label.
    start, end
        The token, and where the line ends.

    Returns
    -------
    bool
        Headings such as ``Price:`` may not stand before it.
    """
    return (_money(sheet, start, end) or _range_before(sheet, start, end)) is not None


def _with_heading(sheet: Sheet, start: int, at: int) -> int:
    """Step back from a price over what belongs to it: ``AU$``, ``RRP``, ``2 for``."""
    tokens = sheet.tokens
    begins = at
    if begins > start and tokens[begins - 1].fold in _DOLLARS and _is_code_before(sheet, begins - 1):
        begins -= 1
    if begins - 2 >= start and tokens[begins - 1].fold in _OFFERS and tokens[begins - 2].text.isdigit():
        begins -= 2
    for _ in range(_LONGEST_HEADING):
        stepped = _before_heading(sheet, start, begins)
        if stepped == begins:
            break
        begins = stepped
    return begins


def _before_heading(sheet: Sheet, start: int, at: int) -> int:
    """Step back over one heading of a price: ``Price:``, ``was``, ``from``."""
    tokens = sheet.tokens
    place = at - 1 if at > start and tokens[at - 1].text in (":", ".") else at
    begins = at
    for back in range(1, min(_LONGEST_HEADING, place - start) + 1):
        head = _HEADINGS.find(tokens, place - back, place)
        if head is not None and head.end == place:
            begins = place - back
    if begins == at and place > start and tokens[place - 1].fold in _BEFORE_A_PRICE:
        return place - 1
    return begins


def _is_group_before(tokens: Sequence[Token], start: int, at: int) -> bool:
    if at <= start or tokens[at].kind != "number" or tokens[at - 1].kind != "number" or tokens[at].glued:
        return False
    return tokens[at - 1].text.isdigit() and len(tokens[at - 1].text) <= 3 and tokens[at].text[:3].isdigit()


def _money(sheet: Sheet, at: int, end: int) -> _Money | None:
    """Recognise a sign or code before a number, or behind it."""
    before = _currency(sheet, at, end)
    place = before[1] if before else at
    if place >= end or sheet.tokens[place].kind != "number":
        return None
    text, stop = sheet.tokens[place].text, place + 1
    while (
        stop < end
        and sheet.tokens[stop].kind == "number"
        and not sheet.tokens[stop].glued
        and len(sheet.tokens[stop].text[:3]) == 3
    ):
        text, stop = f"{text} {sheet.tokens[stop].text}", stop + 1
    if (
        stop + 1 < end
        and sheet.tokens[stop].text in (",", ".")
        and sheet.tokens[stop].glued
        and sheet.tokens[stop + 1].text in ("-", "\u2013", "\u2014")
    ):
        stop += 2
    after = None if before or _is_of_the_next(sheet, stop, end) else _currency(sheet, stop, end)
    told = before or after
    if told is None or (before and stop < end and sheet.tokens[stop].glued and sheet.tokens[stop].kind == "word"):
        # "$ 1O.99" has a letter among its digits.
        return None
    currency, _, flags = told
    if before and stop < end and _is_sign(sheet.tokens[stop]) and sheet.tokens[stop].kind == "word":
        # "$31.99 CAD"
        currency, stop, flags = _WORDS[sheet.tokens[stop].fold], stop + 1, ()
    amount, more = _amount(text, currency, sheet.locale)
    if amount is None:
        return None
    return _Money(at, after[1] if after else stop, amount, currency, (*more, *flags))


def _is_of_the_next(sheet: Sheet, at: int, end: int) -> bool:
    """``Lot 7  \u00a314.95``: a sign apart from the number before it and joined to the one behind."""
    tokens = sheet.tokens
    if at + 1 >= end or tokens[at].text not in _SIGNS or tokens[at].glued:
        return False
    return tokens[at + 1].kind == "number" and tokens[at + 1].glued


def _currency(sheet: Sheet, at: int, end: int) -> tuple[str | None, int, tuple[str, ...]] | None:
    tokens = sheet.tokens
    if at >= end:
        return None
    token = tokens[at]
    if token.fold in _DOLLARS and at + 1 < end and _is_code_before(sheet, at):
        return _DOLLARS[token.fold], at + 2, ()
    if at + 1 < end and _is_sign(token) and token.kind == "word" and tokens[at + 1].text in _SIGNS:
        # "GBP \u00a322.10"
        return _WORDS[token.fold], at + 2, ()
    if token.text in _SIGNS:
        currency, shared = _SIGNS[token.text]
        return currency, at + 1, ("currency_sign_shared",) if shared and token.text != "\u00a3" else ()
    if token.fold in _KRONE:
        return None, at + 1, ("currency_sign_shared",)
    if token.fold in _WORDS:
        stop = at + 1
        if stop < end and tokens[stop].text == "." and tokens[stop].glued and token.fold in ("fr", "sfr"):
            stop += 1
        return _WORDS[token.fold], stop, ()
    return None


def _is_code_before(sheet: Sheet, at: int) -> bool:
    """``AU$5``, ``CAD $5``, ``US $5``: letters that say whose dollar it is; apart only in capitals, two at least."""
    tokens = sheet.tokens
    if at + 1 >= len(tokens) or tokens[at + 1].text != "$":
        return False
    return tokens[at + 1].glued or (len(tokens[at].text) > 1 and tokens[at].text.isupper())


def _amount(text: str, currency: str | None, locale: str | None) -> tuple[Decimal | None, tuple[str, ...]]:
    """Read the number; a currency without minor unit, or with three digits, settles what the last three digits are."""
    try:
        read = read_number(text, locale, "text")
    except InvalidInput:
        return None, ()
    if read.low == read.high:
        flags = tuple(flag for flag in read.flags if flag != "grouped_by_spaces")
        return read.low, (
            *flags,
            *(("dot_thousands",) if "." in text and "," in text and text.find(".") < text.find(",") else ()),
        )
    digits = minor_digits(currency) if currency else None
    # Prices carry the minor digits of their currency: "1.234" EUR is no price with three decimals.
    return (read.low if digits == 3 else read.high), ("separator_ambiguous",)
