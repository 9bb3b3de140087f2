"""The reference out of a small document, and out of ours."""

from __future__ import annotations

from service.pages.docs.reference import about, chapters, entries, envelope_members, page, problem_members
from service.web.operations import openapi_directory
from service.web.site.docs.document import openapi_document
from tests.pages.docs.documents import DOCUMENT

_ROOT = "https://toys.example/"


def test_chapters_follow_the_tags() -> None:
    toys, rest = chapters(DOCUMENT)
    assert [line.anchor for line in toys.lines] == ["get_toy", "make_toy", "make_toy_html"]
    assert (toys.lines[0].method, toys.lines[0].path, toys.lines[0].summary) == ("GET", "/toys/{id}", "One toy")
    assert rest.lines == ()


def test_about_has_paragraphs_and_lists() -> None:
    first, second = about(DOCUMENT)
    assert first.text == "Wooden toys."
    assert second.items == ("one", "two")


def test_operation_says_everything() -> None:
    toy = page(DOCUMENT, "toys", _ROOT).operations[0]
    assert [one.name for one in toy.parameters] == ["id", "colours", "age"]
    assert toy.curl == "curl 'https://toys.example/toys/roan?colours=red,dark%20blue'"
    assert toy.problems == (("422", ("invalid-input",)), ("404", ("not-found", "no-guidance")))
    assert toy.bodies == ()
    (answer,) = toy.answers
    assert answer.media_type == "application/json"
    assert answer.shape.is_computed
    # Lists of an example are cut after their first entry.
    assert '"legs": [\n  1,\n  "..."\n ]' in answer.example


def test_a_body_goes_into_the_line_for_the_shell() -> None:
    made = page(DOCUMENT, "toys", _ROOT).operations[1]
    assert made.curl == (
        "curl 'https://toys.example/toys' \\\n  -H 'Content-Type: application/json' \\\n"
        "  --data-binary '{\n \"name\": \"Roan'\\''s\"\n}'"
    )
    assert made.body_about == "One object."


def test_what_was_shown_before_is_pointed_to() -> None:
    toys = page(DOCUMENT, "toys", _ROOT)
    assert toys.operations[1].bodies[0].same_as is None
    assert toys.operations[2].bodies[0].same_as == "make_toy-body"
    assert toys.operations[1].answers[0].same_as == "get_toy-answer"
    assert [shape.name for shape in toys.shapes] == ["Leg"]


def test_markup_of_a_page_is_no_example() -> None:
    assert page(DOCUMENT, "toys", _ROOT).operations[2].answers[0].example == ""


def test_members_beside_every_result() -> None:
    assert [one.path for one in envelope_members(DOCUMENT)] == [
        "dataset",
        "dataset.version",
        "sources",
        "sources[].version",
        "cautions",
        "notice",
    ]
    assert [one.path for one in problem_members(DOCUMENT)] == ["type"]


def test_every_operation_of_ours_has_an_entry() -> None:
    assert (openapi_directory() / "openapi.json").exists()
    document = openapi_document()
    described = {operation["operationId"] for _, _, operation in entries(document)}
    assert len(described) > 40
    listed = [line.anchor for chapter in chapters(document) for line in chapter.lines]
    assert sorted(listed) == sorted(described)
    laid_out = [
        operation.anchor
        for chapter in chapters(document)
        for operation in page(document, chapter.name, _ROOT).operations
    ]
    assert laid_out == listed


def test_every_operation_of_ours_has_a_command_with_nothing_left_to_fill_in() -> None:
    document = openapi_document()
    for chapter in chapters(document):
        for operation in page(document, chapter.name, _ROOT).operations:
            assert "{" not in operation.curl.partition("--data-binary")[0], operation.anchor
            assert operation.problems, operation.anchor
