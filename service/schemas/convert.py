"""``GET /v1/convert``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.envelope import ComputedAnswerSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Number, Text

_EITHER = " Give exactly one of `amount` and `amount_mg`."


class ConvertQuerySchema(PinnedQuerySchema):
    """Query of ``GET /v1/convert``."""

    form = Text(
        "Id of the form the amount is stated in.", longest=80, required=True, example="glucosamine-hydrochloride"
    )
    amount = Text(
        "Amount with its unit: `500 mg`, `400 IU`, `1.5 g`. `< 500 mg` and `max 500 mg` are read as nothing up to "
        "500 mg; an amount that says only how much it is at least is refused." + _EITHER,
        longest=60,
        example="500 mg",
    )
    amount_mg = Number("Amount in mg." + _EITHER, least="0.001", most=1_000_000)
    to = Text(
        "Id of the form to convert to; default: the active moiety, which its name and the id of the ingredient mean "
        "as well.",
        longest=80,
        example="glucosamine-sulfate-2kcl",
    )


class ConvertAnswerSchema(ComputedAnswerSchema):
    """A converted amount and how it follows from the formulas."""

    form = member.text("Id of the form the amount is stated in.", example="glucosamine-hydrochloride")
    to = member.text("Id of the form converted to, or the name of the moiety.", example="glucosamine")
    amount_mg = member.number(
        "The amount in mg; null where the print, a bound or the unit leaves it open.", example=500, nullable=True
    )
    amount_low_mg = member.number("Low reading of it; zero where the amount is only bounded above.", example=500)
    amount_high_mg = member.number("High reading of it.", example=500)
    converted_mg = member.number(
        "The converted amount in mg; null where the form or the amount is open.", example=415.5, nullable=True
    )
    converted_low_mg = member.number(
        "Low reading of it: the least that any one form which the id can mean would hold, for synthetic vitamin E "
        "counted by activity.",
        example=415.5,
    )
    converted_high_mg = member.number("High reading of it, the most that any one such form would hold.", example=415.5)
    share = member.number(
        "mg of the target per mg of the form; null where the form is open.", example=0.831, nullable=True
    )
    share_low = member.number("Low reading of it.", example=0.831)
    share_high = member.number("High reading of it.", example=0.831)
    how = member.text(
        "How the share follows from the formulas and, for an amount in IU, which factors were used and their sources."
    )
    formula = member.text("Formula of the form.", nullable=True)
    molar_mass_g_per_mol = member.number("Molar mass of the form.", nullable=True)
    moiety = member.text("Name of the active moiety.", example="glucosamine")
    moiety_formula = member.text("Formula of the active moiety.", nullable=True)
    moieties_per_formula = member.integer("Moieties in one formula unit.", nullable=True)
    flags = member.texts(
        "What is unclear about the amount or the form: `approximate`, `at_most`, `less_than`, `form_open`, "
        "`natural_or_synthetic_not_stated`, `two_vitamin_e_bases`, ..."
    )


OPERATIONS = (
    Operation(
        id="convert_amount",
        path="/v1/convert",
        tag="forms",
        summary="An amount of one form as its active moiety or as another form",
        description="Arithmetic on formulas only: equal milligrams of moiety do not mean equal effect.",
        query=ConvertQuerySchema,
        answer=ConvertAnswerSchema,
        problems=(*INPUT_PROBLEMS, "not-found", *COMPUTED),
        example="convert",
    ),
)
