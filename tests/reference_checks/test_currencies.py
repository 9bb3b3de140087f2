"""Minor units of currencies against tables that do not come from the package which the service asks.

These tables are no rows of the dataset, so they are named in words:

* list one of ISO 4217 as the open data set "currency-codes" copied it in 2013 (read);
* OPC Foundation reference, part 3, section 8.61, data type for currencies by ISO 4217, examples (read);
* units that were assigned or changed after 2013: *from memory*.
"""

from __future__ import annotations

import pytest
from iso4217 import Currency

from service.domain.currencies import minor_digits

# Copy of 2013, read. A code whose unit has changed since is not taken from it.
LIST_ONE_2013 = {
    0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF VND VUV XAF XOF XPF",
    2: "AED ARS AUD BRL CAD CHF CNY COP CZK DKK EGP EUR GBP HKD HUF IDR ILS INR MXN MYR NOK NZD PHP PKR PLN RON SAR "
    "SEK SGD THB TRY TWD UAH USD ZAR",
    3: "BHD IQD JOD KWD LYD OMR TND",
}
# Locale data, which shows how people write prices, has other digits for these than the standard (source chem-pkg).
WRITTEN_OTHERWISE = "AFN ALL IRR KPW LAK LBP MGA MMK RSD SOS SYP YER"
OPC_EXAMPLES = {"AUD": 2, "EUR": 2, "INR": 2, "USD": 2, "GBP": 2, "JPY": 0}
FROM_MEMORY = {"CLF": 4, "UYW": 4, "UYI": 0, "UGX": 0}
# Metals, drawing rights, test and no-currency codes: "N.A." in the copy of 2013 (read).
WITHOUT_MINOR_UNIT = ("XAG", "XAU", "XDR", "XPD", "XPT", "XTS", "XXX")


@pytest.mark.parametrize(
    ("code", "digits"), [(code, digits) for digits, codes in LIST_ONE_2013.items() for code in codes.split()]
)
def test_against_a_copy_of_the_standard(code: str, digits: int) -> None:
    assert minor_digits(code) == digits


@pytest.mark.parametrize("code", WRITTEN_OTHERWISE.split())
def test_the_standard_counts_not_the_custom(code: str) -> None:
    assert minor_digits(code) == 2


@pytest.mark.parametrize(("code", "digits"), OPC_EXAMPLES.items())
def test_against_the_examples_of_another_standard(code: str, digits: int) -> None:
    assert minor_digits(code) == digits


@pytest.mark.parametrize(("code", "digits"), FROM_MEMORY.items())
def test_units_recalled(code: str, digits: int) -> None:
    assert minor_digits(code) == digits


@pytest.mark.parametrize("code", WITHOUT_MINOR_UNIT)
def test_codes_that_are_no_money_have_no_minor_unit(code: str) -> None:
    assert minor_digits(code) is None


@pytest.mark.parametrize("code", ["ABC", "usd", "US", "USDX", "", "840", "U$D"])
def test_what_is_no_code_has_no_minor_unit(code: str) -> None:
    assert minor_digits(code) is None


def test_every_code_has_digits_or_none() -> None:
    found = {currency.code: minor_digits(currency.code) for currency in Currency}
    assert len(found) > 150
    assert set(found.values()) == {None, 0, 2, 3, 4}
    assert {code for code, digits in found.items() if digits is None} >= set(WITHOUT_MINOR_UNIT)
    assert {code for code, digits in found.items() if digits == 3} == set(LIST_ONE_2013[3].split())
