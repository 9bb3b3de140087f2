"""What must hold for every label and for every text that is none. Laws, not facts: no example here has a source."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.domain.labels.assembling import LONGEST_LABEL, read_label
from service.reference.releases import load_working_tables
from service.schemas.labels import LabelAnswerSchema
from service.web.envelope import Envelope
from tests.domain.labels import laws
from tests.domain.labels.invented_labels import GLUE, HEADINGS, NAMES, NUMBERS, UNITS, characters, labels, mangled, raw

# Not a fixture: a failing property prints its arguments, and a whole release is a long one.
REFERENCE = load_working_tables()
ENVELOPE = Envelope(REFERENCE, check=True)
texts = st.one_of(labels, labels, mangled, raw)
locales = st.sampled_from((None, None, None, "de", "en", "es", "fr", "it", "nl", "pt"))


@given(texts)
def test_nothing_vanishes(text: str) -> None:
    assert laws.vanished_characters(text, read_label(REFERENCE, text)) == []


@given(texts, locales)
def test_spans_lie_inside_the_text_and_hold_the_printed_number(text: str, locale: str | None) -> None:
    answer = read_label(REFERENCE, text, locale)
    assert [span for span in laws.spans_of(answer) if not 0 <= span.start <= span.end <= len(text)] == []
    for fact in laws.every_fact(answer):
        assert laws.printed_number_stands_in_span(text, fact), fact.name


@given(texts, locales)
def test_the_answer_is_as_its_schema_says(text: str, locale: str | None) -> None:
    # A member that the schema does not name, or one that it misses, raises.
    written = json.loads(ENVELOPE.json(read_label(REFERENCE, text, locale), LabelAnswerSchema))
    assert written.keys() == LabelAnswerSchema().fields.keys()


@given(texts, locales)
def test_the_product_is_accepted_and_read_alike(text: str, locale: str | None) -> None:
    answer = read_label(REFERENCE, text, locale)
    assert list(laws.differences_to_normalise(REFERENCE, answer)) == []


@given(texts, locales)
def test_what_is_open_has_two_ends_and_no_exact_amount(text: str, locale: str | None) -> None:
    for fact in laws.every_fact(read_label(REFERENCE, text, locale)):
        for exact, low, high in (
            (fact.mg, fact.mg_low, fact.mg_high),
            (fact.mg_per_unit, fact.mg_low_per_unit, fact.mg_high_per_unit),
            (fact.mg_per_serving, fact.mg_low_per_serving, fact.mg_high_per_serving),
            (fact.moiety_mg, fact.moiety_low_mg, fact.moiety_high_mg),
        ):
            assert (low is None) == (high is None)
            assert low is None or high is None or 0 <= low <= high
            assert exact is None or exact == low == high


@given(texts)
def test_a_second_reading_is_the_same(text: str) -> None:
    assert read_label(REFERENCE, text) == read_label(REFERENCE, text)


@pytest.mark.fuzz
@given(
    st.lists(st.sampled_from((*NAMES, *NUMBERS, *UNITS, *HEADINGS, *GLUE)), min_size=1, max_size=6),
    st.text(characters, max_size=20),
)
def test_the_longest_texts_are_read(pieces: list[str], stray: str) -> None:
    text = ("".join(pieces) + stray) * LONGEST_LABEL
    answer = read_label(REFERENCE, text[:LONGEST_LABEL])
    assert laws.vanished_characters(text[:LONGEST_LABEL], answer) == []


# Found by the fuzz run, or by hand, and made short.
ODD_TEXTS = (
    "", " ", "\u0301", "\u200b\u00ad", "\ufeff", "\U0001f436", "\ue000", "\u2028", "\u0660\u0661", "MSM 500 mg de",
    "MSM 5 mg from", "MSM 5 as", "Turmeric extract 50 mg (equivalent to 500 mg dried root", "MSM 500\u00b9",
    "Glucosamine HCl500\u00b9", "zinc 5 mg, tincture: yucca",
    "e yucca 5 mg", "MSM/0 of which: EPA", "8 fl oz = (mL)",
    "Each chew (4 g) contains:t", "Sodium ascorbate 112.5 mWarning: in C", "Joint blend 1,250 mg: glucosag: glu, c",
    "Active ingredients per 2 chews:\nActive ingredients per 2 chews: MSM 500 mg", "Servings per container:\u20ac x",
    "Fish oil 500 mg and MSM 20 mg", "Contains fish oil 500 mg and MSM 20 mg", "No 5(0 \u20ac",
    "Serving size 2 l (3.5 g)",
    "Antioxidant blend (green tea leaf, vitamin C 50 mg, grape seed)+ 120 mg", "Chondroitin sulfate\u00bd",
)  # fmt: skip


@pytest.mark.parametrize("text", ODD_TEXTS)
def test_odd_texts_raise_nothing_and_lose_nothing(text: str) -> None:
    answer = laws.read_by_the_laws(REFERENCE, text)
    assert laws.vanished_characters(text, answer) == []
