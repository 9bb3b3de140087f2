"""``/charts/amount``: a chart of amounts over body weight, and its numbers."""

from __future__ import annotations

from service.schemas.animal import AnimalQuerySchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Choice, Text


class AmountNumbersQuerySchema(AnimalQuerySchema):
    """Query of ``GET /charts/amount.csv``; the weight is optional."""

    ingredient = Text("Id of the ingredient.", longest=80, required=True, example="glucosamine")
    form = Text(
        "Id of the chemical form to state the amounts in; default: the form that the guidance is stated in.",
        longest=80,
        example="glucosamine-hydrochloride",
    )


class AmountChartQuerySchema(AmountNumbersQuerySchema):
    """Query of ``GET /charts/amount.svg``; the weight is optional."""

    layout = Choice(
        "`wide` for a column of text and for print, 720 pixels across; `narrow` for a telephone, 360 pixels.",
        among=("wide", "narrow"),
        load_default="wide",
        example="narrow",
    )
    theme = Choice(
        "`light` for paper and light pages, `dark` for dark ones.",
        among=("light", "dark"),
        load_default="light",
        example="dark",
    )


_PROBLEMS = (*INPUT_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Guidance as a band for each phase, and every published regimen that can be stated in mg per day of the form, "
    "marked by what came of it. With a weight, at most one of the three ways, the animal is marked too. "
)

OPERATIONS = (
    Operation(
        id="get_amount_chart",
        path="/charts/amount.svg",
        tag="charts",
        summary="Amounts per day over body weight, as a picture",
        description=_DESCRIPTION + "An SVG document with its own title and description, stamped with the release: "
        "made to be embedded, printed, and read without colour.",
        query=AmountChartQuerySchema,
        media_types=("image/svg+xml",),
        problems=_PROBLEMS,
    ),
    Operation(
        id="get_amount_chart_csv",
        path="/charts/amount.csv",
        tag="charts",
        summary="The numbers of the chart of amounts over body weight",
        description=_DESCRIPTION + "One row per place where guidance bends, and per regimen; one that could not be "
        "drawn says why.",
        query=AmountNumbersQuerySchema,
        media_types=("text/csv",),
        problems=_PROBLEMS,
    ),
)
