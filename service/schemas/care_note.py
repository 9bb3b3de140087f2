"""``POST /v1/care-note``: what it takes."""

from __future__ import annotations

from service.domain.course.request import LONGEST_DAYS
from service.schemas.product import ProductSchema
from service.schemas.request_base import RequestSchema
from service.schemas.request_fields import CalendarDate, ListOf, Number, ObjectOf, Text, WholeNumber
from service.schemas.screen import ScreenAnimalSchema, names

_MOST_MG = 1_000_000
_YEARS = 30
MOST_PHASES = 24


class CareAnimalSchema(ScreenAnimalSchema):
    """The animal of a care note: its weight is optional, since the practice may be the first to weigh it."""

    name = Text("What it is called; stands on the note and nowhere else.", longest=80, allow_none=True)
    identification = Text(
        "What tells it from others, as told: number of its chip, tag, cage or record.", longest=80, allow_none=True
    )


class CarePhaseSchema(RequestSchema):
    """One stretch of a course, in the words of `POST /v1/plan`: how much, and how long."""

    name = Text("What the phase is called on the note, for example `loading`.", longest=60, allow_none=True)
    units_per_day = Number(
        "Units a day; 0 is a pause. Give exactly one of `units_per_day` and `mg_per_day`.", most=1000, allow_none=True
    )
    mg_per_day = Number(
        "mg a day of `ingredient`; the fewest units that reach it are given.",
        least="0.000001",
        most=_MOST_MG,
        allow_none=True,
    )
    ingredient = Text(
        "Id of the ingredient that `mg_per_day` counts.", longest=80, allow_none=True, example="glucosamine"
    )
    form = Text(
        "Id of the form that `mg_per_day` counts; default: that of the guidance, else the active moiety.",
        longest=80,
        allow_none=True,
    )
    days = WholeNumber(
        "Length in days. Give at most one of `days`, `weeks`, `years` and `until_date`; only the last phase may be "
        "open.",
        least=1,
        most=LONGEST_DAYS,
        allow_none=True,
    )
    weeks = WholeNumber("Length in weeks.", least=1, most=LONGEST_DAYS // 7, allow_none=True)
    years = Number(
        "Length in years: by the calendar where there are dates, else of 365 days.",
        above_least=True,
        most=_YEARS,
        decimals=4,
        allow_none=True,
    )
    from_date = CalendarDate("First day; default: the day after the phase before it.", allow_none=True)
    until_date = CalendarDate("Last day, which belongs to the phase; needs a date to begin from.", allow_none=True)


class CareProductSchema(ProductSchema):
    """A product with when it is given. Without `phases` it is `units_per_day`, all along or between two dates."""

    from_date = CalendarDate(
        "First day, also one before the course; default: the first day of the course.", allow_none=True
    )
    until_date = CalendarDate("Last day; default: open.", allow_none=True)
    phases = ListOf(
        ObjectOf(CarePhaseSchema),
        "What is given in turn, for example loading and then maintenance; in place of `units_per_day`.",
        least=1,
        most=MOST_PHASES,
    )


class CareNoteBodySchema(RequestSchema):
    """Body of `POST /v1/care-note`."""

    animal = ObjectOf(CareAnimalSchema, "The animal.", required=True)
    products = ListOf(
        ObjectOf(CareProductSchema), "What it is given, each with an id of its own.", least=1, most=50, required=True
    )
    medications = names("Name of a medicine, as told.", "Every medicine that it gets.")
    other_supplements = ListOf(ObjectOf(ProductSchema), "What else it is given all along.", most=20, load_default=list)
    conditions = names("Id or name of a condition, as told.", "Conditions of the animal.")
    start_date = CalendarDate(
        "First day of the course; default: the earliest `from_date`. Without any date days are counted from 1.",
        allow_none=True,
        example="2027-03-01",
    )
    note_date = CalendarDate(
        "Date that the note carries; the service puts none of its own on it.", allow_none=True, example="2027-02-26"
    )
    questions = ListOf(
        Text("One question.", longest=300), "The carer's own questions, as told.", most=20, load_default=list
    )
    observations = ListOf(
        Text("One observation.", longest=300), "What the carer has seen, as told.", most=20, load_default=list
    )
