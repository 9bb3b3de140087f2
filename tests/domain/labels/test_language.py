"""Which language a label is printed in."""

from __future__ import annotations

import pytest

from service.domain.labels.language import language_of


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ("Zusammensetzung: Grünlippmuschelpulver. Analytische Bestandteile: Rohprotein 31,5 %, Feuchtigkeit 8 %", "de"),
        ("Aliment complémentaire pour chiens. Par comprimé : chlorhydrate de glucosamine 500 mg", "fr"),
        ("Pienso complementario para perros. Por comprimido: clorhidrato de glucosamina 500 mg", "es"),
        ("Mangime per cani. Componenti analitici: umidità 8 %. Cloridrato di glucosamina per compressa", "it"),
        ("Aanvullend diervoeder voor honden. Analytische bestanddelen: vocht 8 %, zonder suiker", "nl"),
        ("Glucosamine HCl 500 mg per chew. Other ingredients: cellulose", None),
        ("MSM 1.500 mg", None),
        ("", None),
        ("500 mg", None),
    ],
)  # fmt: skip
def test_a_language_is_told_by_its_own_words_or_not_at_all(text: str, language: str | None) -> None:
    assert language_of(text) == language


def test_one_foreign_word_settles_nothing() -> None:
    assert language_of("Glucosamine HCl 500 mg pro chew, with vitamin E and turmeric root powder") is None
