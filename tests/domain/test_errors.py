"""What an error tells, and carries for whoever answers it."""

from __future__ import annotations

import pytest

from service.domain.errors import (
    DomainError,
    InvalidInput,
    Issue,
    KnownInstead,
    NoGuidance,
    UnknownForm,
    UnknownRelease,
)


def test_all_issues_stand_in_the_text() -> None:
    error = InvalidInput(Issue("weight", "is missing"), Issue("facts/0/amount", "has no unit"))
    assert str(error) == "weight: is missing; facts/0/amount: has no unit"
    assert [issue.where for issue in error.issues] == ["weight", "facts/0/amount"]


def test_what_is_known_instead_travels_along() -> None:
    known = KnownInstead("msm", "cat", None, None, (), (), (), ())
    assert NoGuidance("nothing", known).known is known


@pytest.mark.parametrize(
    ("error", "text"),
    [
        (UnknownForm("x", ("y",)), "No form has the id 'x'."),
        (UnknownRelease("2.0.0", ("1.1.0", "1.0.0")), "There is no dataset release '2.0.0'; known: 1.1.0, 1.0.0."),
    ],
)
def test_texts_name_what_was_asked_for(error: DomainError, text: str) -> None:
    assert str(error) == text
