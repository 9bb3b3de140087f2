"""Members as a flat list of paths, and objects that stand in several places."""

from __future__ import annotations

from service.pages.docs.members import Schemas
from tests.pages.docs.documents import COMPONENTS

_HORSE, _ANSWER = {"$ref": "#/components/schemas/Horse"}, {"$ref": "#/components/schemas/Answer"}


def test_members_are_listed_with_those_of_the_objects_in_them() -> None:
    shape = Schemas(COMPONENTS).shape(_HORSE)
    assert [(one.path, one.depth) for one in shape.members] == [
        ("name", 0),
        ("front", 0),
        ("front[].side", 1),
        ("front[].length_mm", 1),
        ("saddle", 0),
        ("saddle.mass_g", 1),
        ("colours", 0),
        ("wild", 0),
    ]
    assert shape.about == "One toy horse."
    assert not shape.is_computed


def test_a_member_says_what_it_takes() -> None:
    found = {one.path: one for one in Schemas(COMPONENTS).members(_HORSE)}
    assert found["front"].kind == "list of objects"
    assert found["front"].limits == "2 entries"
    assert found["front"].is_required
    assert found["front[].side"].choices == ("left", "right")
    assert found["front[].length_mm"].kind == "number, or null"
    assert found["front[].length_mm"].limits == "at most 900, more than 0"
    assert found["front[].length_mm"].owner == "front[]."
    assert found["saddle"].kind == "object, or null"
    assert found["saddle"].description == "If any."
    assert found["colours"].limits == "at most 5 entries; each at most 20 characters"
    assert found["wild"].default == "false"
    assert found["name"].default is None
    assert found["name"].owner == ""
    assert found["name"].most_characters == 2000


def test_what_stands_beside_every_result_is_left_out_of_a_computed_answer() -> None:
    shape = Schemas(COMPONENTS).shape(_ANSWER)
    assert shape.is_computed
    assert {one.path for one in shape.members if not one.depth} == {"horse", "third"}


def test_an_object_in_two_places_is_shown_apart() -> None:
    # A leg stands in Horse.front and in Answer.third; a saddle and a horse in one place each.
    schemas = Schemas(COMPONENTS, [_ANSWER])
    assert [shape.name for shape in schemas.apart()] == ["Leg"]
    found = {one.path: one for one in schemas.shape(_ANSWER).members}
    assert found["third"].shape == found["horse.front"].shape == "Leg"
    assert found["horse.saddle"].shape is None
    assert not [path for path in found if path.startswith(("third.", "horse.front[]"))]


def test_a_schema_that_holds_itself_comes_to_an_end() -> None:
    part = {"$ref": "#/components/schemas/Part"}
    components = {
        "Part": {"type": "object", "properties": {"parts": {"type": "array", "items": part, "description": "."}}},
        "Whole": {"type": "object", "properties": {"part": {**part, "description": "."}}},
    }
    schemas = Schemas(components, [{"$ref": "#/components/schemas/Whole"}])
    assert [one.path for one in schemas.shape({"$ref": "#/components/schemas/Whole"}).members] == ["part"]
    assert [[one.path for one in shape.members] for shape in schemas.apart()] == [["parts"]]
