"""``/charts/amount``: a chart of amounts over body weight, and its numbers."""

from __future__ import annotations

from service.pages.charts.chart import LAYOUTS, THEMES
from service.pages.workbench.state import LONGEST_TOKEN
from service.schemas.animal import AnimalQuerySchema, PinnedQuerySchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation
from service.schemas.request_fields import Choice, Text

# An invented tablet for an invented dog of 34 kg. Written out, because libraries deflate the same text differently.
EXAMPLE_STATE = (
    "LY7NCsIwEIRfJeSkIJJqvXhV0KMgnlQkJku7uN2UJqlI6bu7FY_zzQ8z6NiCQ4h6q32o9EK_Aas6iVyX6jWBtgs-uySJ66DZNiDeiSyySvZJkNQM"
    "uQdO4OeSJvsEksSBsgvRNsigjjtSG2NUU924WJl_L_620U17RbksjWiXuw7YfQRdznsBmTE9XMg8PZKuII89RpQFIbWlXr6P9_EL"
)


def layout() -> Choice:
    """Declare how wide a chart is set."""
    return Choice(
        "`wide` for a column of text and for print, 720 pixels across; `narrow` for a telephone, 360 pixels.",
        among=LAYOUTS,
        load_default="wide",
        example="narrow",
    )


def theme() -> Choice:
    """Declare the colours of a chart."""
    return Choice(
        "`light` for paper and light pages, `dark` for dark ones.",
        among=THEMES,
        load_default="light",
        example="dark",
    )


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

    layout = layout()
    theme = theme()


class WorkbenchNumbersQuerySchema(PinnedQuerySchema):
    """Query of the tables of a workbench."""

    state = Text(
        "What is on the workbench, as its address holds it after `state=`: copy it from there.",
        longest=LONGEST_TOKEN,
        required=True,
        example=EXAMPLE_STATE,
    )


class WorkbenchChartQuerySchema(WorkbenchNumbersQuerySchema):
    """Query of the charts of a workbench."""

    layout = layout()
    theme = theme()


_PROBLEMS = (*INPUT_PROBLEMS, "unknown-ingredient", "no-guidance", "not-found", *COMPUTED)
_DESCRIPTION = (
    "Guidance as a band for each phase, and every published regimen that can be stated in mg per day of the form, "
    "marked by what came of it. With a weight, at most one of the three ways, the animal is marked too. "
)

_WORKBENCH_PROBLEMS = (*INPUT_PROBLEMS, "not-found", *COMPUTED)
_OF_WORKBENCH = (
    ("comparison", "Cost per day against units per day", "Efficient products are joined, others drawn hollow."),
    ("composition", "What the daily units deliver", "Each product's share of the range of every target."),
    (
        "course",
        "Cost over the course",
        "What has been paid and used up by each day, and where one product overtakes another.",
    ),
)


def _workbench_operations(name: str, summary: str, what: str) -> tuple[Operation, Operation]:
    picture = Operation(
        id=f"get_{name}_chart",
        path=f"/charts/{name}.svg",
        tag="charts",
        summary=f"{summary}, as a picture",
        description=f"{what} Drawn from the state of a workbench, stamped with the release.",
        query=WorkbenchChartQuerySchema,
        media_types=("image/svg+xml",),
        problems=_WORKBENCH_PROBLEMS,
    )
    numbers = Operation(
        id=f"get_{name}_chart_csv",
        path=f"/charts/{name}.csv",
        tag="charts",
        summary=f"The numbers of the chart: {summary[:1].lower()}{summary[1:]}",
        description=f"{what} One row for everything that is drawn.",
        query=WorkbenchNumbersQuerySchema,
        media_types=("text/csv",),
        problems=_WORKBENCH_PROBLEMS,
    )
    return picture, numbers


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
    *(operation for name, summary, what in _OF_WORKBENCH for operation in _workbench_operations(name, summary, what)),
)
