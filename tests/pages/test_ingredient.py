"""What the page on an ingredient shows, from rows of the dataset."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from service.domain.common import Animal
from service.domain.describing import describe_ingredient
from service.domain.dosing import DoseRequest, dose
from service.domain.errors import NoGuidance
from service.pages.asked import Asked, asked
from service.pages.daily_amount import present
from service.pages.hazard_view import alarm, present_hazard
from service.pages.ingredient import present_ingredient
from service.pages.ingredient_tables import form_table, guidance_table, limit_table, regimen_table
from service.pages.known_instead import guided, present_known, suggestions
from service.pages.page_table import page_table
from service.pages.pair_list import present_pairs
from service.reference.release import Reference


def texts(row: tuple[object, ...]) -> list[object]:
    """Give what stands in the cells."""
    return [cell.text if isinstance(cell, Asked) else cell for cell in row]


def test_empty_columns_are_left_out() -> None:
    table = page_table(("a", "b", "c"), [("1", None, ""), ("2", None, "x")])
    assert table.columns == ("a", "c")
    assert table.rows == (("1", ""), ("2", "x"))
    assert table
    assert not page_table(("a",), [])


def test_a_value_tells_its_row_in_sentences(reference: Reference) -> None:
    row = reference.regimens["d013"]
    value = asked("x", "5 mg", row, "a rule.", None, "a note")
    assert value.rule.startswith("A rule. A note.")
    assert value.source_ids == row.source_ids
    assert value.origin == row.origin


def test_guidance_of_glucosamine(reference: Reference) -> None:
    table = guidance_table(describe_ingredient(reference, "glucosamine"), "dog")
    rows = [texts(row) for row in table.rows]
    assert len(rows) == 6
    assert [
        "maintenance",
        "5 to 60\u00a0kg",
        "500 to 1000",
        "34 kg",
        "2",
        None,
        "after 70 days",
        "common practice",
    ] in rows
    assert not guidance_table(describe_ingredient(reference, "glucosamine"), "cat")


def test_regimens_keep_what_failed(reference: Reference) -> None:
    table = regimen_table(reference.regimens_of["glucosamine"])
    outcome = table.columns.index("outcome")
    assert len(table.rows) == len(reference.regimens_of["glucosamine"])
    assert {"positive", "negative", "mixed"} <= {row[outcome] for row in table.rows}


def test_forms_and_their_shares(reference: Reference) -> None:
    forms = describe_ingredient(reference, "glucosamine").forms
    table = form_table(forms)
    by_name = {row[0]: texts(row) for row in table.rows}
    assert "IU per mg" not in table.columns
    share = table.columns.index("share of the active part")
    assert by_name["Glucosamine hydrochloride"][share] == "0.8309"
    vitamin = form_table(describe_ingredient(reference, "vitamin-d").forms)
    assert "IU per mg" in vitamin.columns


def test_limits_say_whether_they_decide(reference: Reference) -> None:
    answer = describe_ingredient(reference, "epa-dha")
    rows = [texts(row) for row in limit_table(answer.limits).rows]
    assert [row[3] for row in rows].count("yes") == sum(limit.enforced for limit in answer.limits) > 0


def test_thresholds_read_as_amounts(reference: Reference) -> None:
    item = describe_ingredient(reference, "xylitol").hazards[0]
    view = present_hazard(reference, item)
    species, table = view.tiers[0]
    shown = [texts(row)[1] for row in table.rows]
    assert species == "dog"
    assert shown[:2] == ["any amount", "75 to 100 mg/kg"]
    assert view.is_urgent
    assert ("dog", "an emergency, whatever the amount") in view.concerned
    assert dict(view.identifiers)["E"] == "E967"
    assert len(view.conflicts) == 3


def test_a_delegated_tier_names_where_it_is_counted(reference: Reference) -> None:
    item = next(one for one in describe_ingredient(reference, "theobromine").hazards if one.hazard.id == "theobromine")
    first = [cell for _, table in present_hazard(reference, item).tiers for row in table.rows for cell in row[:1]]
    assert any(isinstance(cell, str) and cell.startswith("counted as ") for cell in first)


def test_a_comparison_stands_before_its_amount(reference: Reference) -> None:
    item = describe_ingredient(reference, "xylitol").hazards[0]
    tier = replace(item.thresholds[1], amount_high=None, comparison=">=", amount_low=Decimal(75), moiety="gum")
    _, table = present_hazard(reference, replace(item, thresholds=(tier,))).tiers[0]
    assert texts(table.rows[0])[1] == "from 75 mg/kg of gum"


def test_factors_say_what_is_reckoned_with(reference: Reference) -> None:
    item = next(one for one in describe_ingredient(reference, "zinc").hazards if one.hazard.id == "zinc")
    rows = {row[0]: texts(row) for row in present_hazard(reference, item).factors.rows}
    assert rows["zinc oxide"] == ["zinc oxide", "zinc", "0.803", "0.803", "from memory"]


def test_alarm_names_the_animals_it_concerns(reference: Reference) -> None:
    def species_of(id_: str) -> str | None:
        found = alarm(describe_ingredient(reference, id_).hazards)
        return found.species if found else None

    assert species_of("xylitol") == "a dog"
    assert species_of("ibuprofen") == "a dog or a cat"
    assert species_of("zinc") is None


def test_pairs_name_the_other_side(reference: Reference) -> None:
    answer = describe_ingredient(reference, "glucosamine")
    groups = dict(present_pairs(reference, "glucosamine", answer.interactions))
    medicines = groups["With medicines"]
    first = next(pair for pair in medicines if pair.id == "ix001")
    assert first.other == reference.drug_classes["vitamin-k-antagonist"].name
    assert first.through is None
    assert first.species == "dogs and cats"
    assert sum(map(len, groups.values())) == len(answer.interactions)


def test_pairs_of_what_counts_as_another_say_so(reference: Reference) -> None:
    answer = describe_ingredient(reference, "n-acetylglucosamine")
    pairs = [pair for _, group in present_pairs(reference, answer.id, answer.interactions) for pair in group]
    assert {pair.through for pair in pairs if pair.id == "ix001"} == {"glucosamine"}


def test_sections_are_those_with_content(reference: Reference) -> None:
    page = present_ingredient(reference, describe_ingredient(reference, "glucosamine"))
    assert [anchor for anchor, _ in page.sections] == [
        "evidence", "amounts", "published", "pairs", "beliefs", "forms", "limits", "names", "sources",
    ]  # fmt: skip
    hazard = present_ingredient(reference, describe_ingredient(reference, "xylitol"))
    assert hazard.sections[0][0] == "harm"
    assert "amounts" not in dict(hazard.sections)


def test_english_names_come_first(reference: Reference) -> None:
    answer = describe_ingredient(reference, "zinc")
    page = present_ingredient(reference, answer)
    english = {name.name for name in answer.names if name.language == "en"}
    assert set(page.names[: min(len(english), 60)]) <= english
    assert page.name_count == len({name.name for name in answer.names})


def test_an_amount_in_parts(reference: Reference) -> None:
    answer = dose(reference, DoseRequest(Animal("dog", Decimal(34)), "epa-dha"))
    view = present(reference, answer, {"weight": "34 kg"})
    assert [phase.heading for phase in view.phases] == ["Every day"]
    assert view.phases[0].moiety is None
    # 2070 x (34/30)^0.75 = 2273.7 and 310 x 34^0.75 = 4364.8, cut inwards.
    assert view.phases[0].amount == "2280 to 4360"
    assert "dogs from 0.1\u00a0kg" in view.phases[0].rule
    assert view.query == "species=dog&weight=34+kg&ingredient=epa-dha"


def test_known_instead(reference: Reference) -> None:
    with pytest.raises(NoGuidance, match="recorded as a hazard for a dog") as raised:
        dose(reference, DoseRequest(Animal("dog", Decimal(5)), "xylitol"))
    view = present_known(reference, raised.value)
    assert view.is_hazard
    assert view.hazard_names == ("Xylitol",)
    with pytest.raises(NoGuidance, match="holds no amount of it for a cat") as raised:
        dose(reference, DoseRequest(Animal("cat", Decimal(5)), "glucosamine"))
    assert not present_known(reference, raised.value).is_hazard


def test_ingredients_with_amounts(reference: Reference) -> None:
    assert {id_ for id_, _ in guided(reference)} == {key[0] for key in reference.guidance_of}
    assert guided(reference, "cat") == ()
    assert suggestions(reference, "glucosaminne")[0] == ("glucosamine", "glucosamine")
