"""What the screen found, as it is shown."""

from __future__ import annotations

from service.domain.screening import screen
from service.domain.screening_answers import ScreenRequest
from service.pages.workbench.findings import ScreenView, present_screen
from tests.pages.workbench.answers import DOG, REFERENCE, SWEET, TABLET


def _view(request: ScreenRequest) -> ScreenView:
    return present_screen("p1", "Shown name", screen(REFERENCE, request))


def test_a_hazard_with_what_to_do() -> None:
    view = _view(ScreenRequest(DOG, products=(SWEET,)))
    assert view.verdict == "stop"
    first = view.findings[0]
    assert (first.level, first.subjects) == ("avoid", "xylitol")
    assert first.source_ids
    assert first.action[0].isupper()
    assert "(product:" not in first.effect


def test_notes_are_counted_not_shown() -> None:
    answer = screen(REFERENCE, ScreenRequest(DOG, products=(SWEET,), medications=("carprofen",)))
    view = present_screen("p1", "x", answer)
    assert all(finding.level != "note" for finding in view.findings)
    assert len(view.findings) + view.further == len(answer.findings)


def test_what_was_not_recognised_is_said_once() -> None:
    view = _view(ScreenRequest(DOG, ingredients_text="zzqx, zzqx, cellulose"))
    assert view.unrecognised == ("zzqx",)
    assert view.verdict == "incomplete"


def test_a_guess_at_a_condition_can_be_seen() -> None:
    view = _view(ScreenRequest(DOG, products=(TABLET,), conditions=("chronic kidney trouble",)))
    assert any(text.startswith("chronic kidney trouble: ") for text in view.taken_as)
