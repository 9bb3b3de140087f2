"""``POST /v1/batch/{dose,normalise,screen}``: what a batch is, how it is answered, and what it may not exceed."""

from __future__ import annotations

from collections.abc import Mapping

from service.schemas.animal import PinnedQuerySchema
from service.schemas.batch_columns import DOSE, MOST_FACTS, SCREEN, normalise_columns
from service.schemas.batch_limits import LARGEST_BATCH_BYTES, LONGEST_ROW_BYTES, MOST_COLUMNS, MOST_ROWS
from service.schemas.operation import BODY_PROBLEMS, COMPUTED, Operation
from service.schemas.request_fields import Choice

MEDIA_TYPES = ("text/csv", "application/x-ndjson", "application/jsonl")
LIMITS = (
    f"At most {MOST_ROWS:,} rows, {LARGEST_BATCH_BYTES:,} bytes (as sent and, packed, unpacked), {LONGEST_ROW_BYTES:,} "
    f"bytes in one row and {MOST_COLUMNS} columns; more is the problem `body-too-large`, before any row is answered."
)


class BatchQuerySchema(PinnedQuerySchema):
    """Query of a batch; one release serves all of its rows."""

    separator = Choice(
        "What separates the cells of CSV; default `comma`. The answer is separated alike.",
        among=("comma", "semicolon", "tab"),
        example="comma",
    )
    detail = Choice(
        "How much each line of NDJSON tells; default `full`, the whole answer of the single endpoint. `ids` leaves "
        "citations out: `source_ids` stands for `sources`, `dataset_version` for `dataset`.",
        among=("full", "ids"),
        example="ids",
    )


_COMMON = (
    "Rows come in as CSV (UTF-8, a header row, `;` only with `separator=semicolon`) or as NDJSON (one object a line), "
    "also with `Content-Encoding: gzip`, and go out in the same format, streamed and in the same order, packed where "
    "`Accept-Encoding` admits gzip. Each row is answered by itself: `status` is `ok` or `refused`, and a refused row "
    "says in `error` which column is at fault and why, while all others go on. What makes the whole batch unreadable "
    "(a missing, repeated or unnamed column, broken CSV or gzip, too much of it) is a problem instead, before any row "
    "is answered. Should a failure of the service end an answer early, its last row has the status `cut_off` and says "
    "after which row. " + LIMITS + "\n\n"
    "All columns and members of the caller come back, first and as they came; those the operation does not know are "
    "the caller's own. One that is named like something the answer adds, or that looks like a misspelt one that is "
    "not there, is refused. In CSV empty cells count as not given and blank lines as no row; a cell that a "
    "spreadsheet would run as a formula gets a leading apostrophe, signed numbers excepted. In NDJSON a line that is "
    "not one readable object comes back as the text `input`."
)


def _description(first: str, reads: str, lines: str, columns: Mapping[str, str]) -> str:
    table = "\n".join(f"- `{name}`: {meaning}" for name, meaning in columns.items())
    return f"{first}\n\n{_COMMON}\n\n{reads}\n\n{lines}\n\nCSV answers add these columns:\n\n{table}"


def _operation(name: str, tag: str, summary: str, description: str) -> Operation:
    return Operation(
        id=f"batch_{name}",
        method="post",
        path=f"/v1/batch/{name}",
        tag=tag,
        summary=summary,
        description=description,
        query=BatchQuerySchema,
        text_body=MEDIA_TYPES,
        media_types=MEDIA_TYPES,
        problems=(*BODY_PROBLEMS, *COMPUTED),
    )


OPERATIONS = (
    _operation(
        "dose",
        "dose",
        "Amounts per day for many animals",
        _description(
            "Answers each row as `GET /v1/dose` does.",
            "CSV columns are the query names of `GET /v1/dose`; needed are `species`, one of the three weights, and "
            "`ingredient`.",
            "A line of NDJSON has the same names as members, numbers as JSON numbers, and the answer in `result`.",
            DOSE,
        ),
    ),
    _operation(
        "normalise",
        "products",
        "Amounts and costs per unit of many products",
        _description(
            "Answers each row as `POST /v1/normalise` does.",
            "CSV has one product a row: columns are the members of a product, `serving_units` and `serving_mass_g` for "
            f"its serving, and `fact_1_name`, `fact_1_amount` up to `fact_{MOST_FACTS}_amount` for the lines of its "
            "label; needed is the name of a fact, or `other_ingredients`.",
            "A line of NDJSON is the body of `POST /v1/normalise`, with the answer in `result`.",
            {name.replace("fact_1_", "fact_N_"): meaning for name, meaning in normalise_columns((1,)).items()},
        ),
    ),
    _operation(
        "screen",
        "screen",
        "Findings for many animals",
        _description(
            "Answers each row as `/v1/screen` does.",
            "CSV columns are the query names of `GET /v1/screen`; needed are `species` and `ingredients_text`. Several "
            "names in `medications` or `conditions` are separated by `;`.",
            "A line of NDJSON is the body of `POST /v1/screen`, with the answer in `result`.",
            SCREEN,
        ),
    ),
)
