"""Words that were understood and stand in no other part of the answer."""

from __future__ import annotations

import pytest

from service.domain.labels.assembling import read_label
from service.reference.release import Reference
from tests.domain.labels.laws import vanished_characters


@pytest.mark.parametrize("text", ["Fish oil 500 mg and MSM 20 mg", "zinc 5 mg, tincture: yucca", "MSM 500 mg\u00b9"])
def test_every_word_stands_somewhere(reference: Reference, text: str) -> None:
    assert vanished_characters(text, read_label(reference, text)) == []


def test_a_joining_word_is_kept_as_what_it_is(reference: Reference) -> None:
    answer = read_label(reference, "Fish oil 500 mg and MSM 20 mg")
    assert ("beside", "and") in [(one.kind, one.text) for one in answer.statements]
    assert answer.unread == ()
