"""One entry for many unlike plants: the name is known, the plant is not assessed."""

from __future__ import annotations

from service.domain.screening_answers import Unrecognised
from service.domain.screening_name_only import REASON, is_name_only, name_only_gaps, name_only_texts
from service.domain.screening_subjects import Mention


def _mention(text: str, ingredient: str, trace: bool = False) -> Mention:
    return Mention(text, "ingredients_text", 0, text, None, ingredient, None, None, trace)


HERB, OATS = _mention("sage", "herb-other"), _mention("oats", "oats")


def test_only_entries_of_many_plants_and_no_traces() -> None:
    assert is_name_only(HERB)
    assert not is_name_only(OATS)
    assert not is_name_only(_mention("sage", "herb-other", trace=True))


def test_each_text_is_listed_once_and_not_again() -> None:
    assert name_only_texts((HERB, HERB, OATS), ()) == (Unrecognised("sage", "ingredients_text", ()),)
    assert name_only_texts((HERB,), (Unrecognised("sage", "ingredients_text", ("salvia",)),)) == ()


def test_each_is_paired_with_everything_else() -> None:
    found = name_only_gaps((HERB, OATS), ("insulin", "growth"))
    assert [(gap.a, gap.b, gap.reason) for gap in found] == [("sage", "insulin", REASON), ("sage", "growth", REASON)]
