"""Batches for schemathesis, which knows neither CSV nor NDJSON: the texts it makes become cells of otherwise good rows.

Loaded as its hooks. A strategy of our own for the media types would shut the examples of the document out.
"""

from __future__ import annotations

import csv
import io
import json
from random import Random

import schemathesis
from schemathesis import SerializationContext

_VALUES = {
    "species": ("dog", "cat", "horse", ""),
    "weight": ("34 kg", "75 lb", "4", ""),
    "ingredient": ("glucosamine", "msm", "none", ""),
    "ingredients_text": ("cellulose, birch sugar", "zzqx", ""),
    "medications": ("carprofen", "carprofen; prednisolone", ""),
    "fact_1_name": ("MSM", "Glucosamine HCl", ""),
    "fact_1_amount": ("400 mg", "lots", ""),
}
_OPERATIONS = {
    "batch_dose": ("species", "weight", "ingredient", "own"),
    "batch_normalise": ("fact_1_name", "fact_1_amount", "own"),
    "batch_screen": ("species", "ingredients_text", "medications", "own"),
}


def _rows(context: SerializationContext, text: str) -> list[dict[str, str]]:
    """Lay a text out as the caller's own cell, now and then as one that is read, of a few rows."""
    chance = Random(text)  # noqa: S311 - nothing is kept secret with it
    head = _OPERATIONS[str(context.case.operation.definition.raw["operationId"])]
    return [
        {name: text if chance.random() < 0.2 else chance.choice(_VALUES.get(name, (text,))) for name in head}
        for _ in range(chance.randint(1, 4))
    ]


def _stands(value: object) -> bytes | None:
    """Give what is sent as it is: examples of the document; nothing for what these media types cannot hold."""
    if not isinstance(value, str) or not value:
        return b""
    return value.encode() if "Invented" in value and "\n" in value else None


@schemathesis.serializer("text/csv")
def _as_csv(context: SerializationContext, value: object) -> bytes:
    as_it_is = _stands(value)
    if as_it_is is not None:
        return as_it_is
    rows = _rows(context, str(value))
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, list(rows[0]))
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue().encode("utf-8", "replace")


@schemathesis.serializer("application/x-ndjson", "application/jsonl")
def _as_ndjson(context: SerializationContext, value: object) -> bytes:
    as_it_is = _stands(value)
    if as_it_is is not None:
        return as_it_is
    return b"".join(json.dumps(row).encode() + b"\n" for row in _rows(context, str(value)))
