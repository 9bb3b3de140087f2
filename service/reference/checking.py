"""What must hold between the rows of a release. Run at every start: a release with a defect is never served."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal
from itertools import pairwise
from typing import Any

from service.reference import vocabulary
from service.reference.records import Fact

Tables = Mapping[str, tuple[Any, ...]]
Defects = Iterable[str]

_UNIQUE = {
    "names": ("name", "target_kind", "target_id", "match_mode"),
    "units": ("alias",),
    "evidence": ("ingredient_id",),
}
# Table and column to the table whose ids it must hold. Lists are checked item by item.
FOREIGN_KEYS = {
    ("ingredients", "group_ids"): "ingredient_groups",
    ("ingredients", "screened_as_ids"): "ingredients",
    ("ingredients", "default_form_id"): "forms",
    ("forms", "ingredient_id"): "ingredients",
    ("forms", "candidate_form_ids"): "forms",
    ("forms", "expression_of"): "forms",
    ("regimens", "ingredient_id"): "ingredients",
    ("regimens", "form_id"): "forms",
    ("guidance", "ingredient_id"): "ingredients",
    ("guidance", "form_id"): "forms",
    ("guidance", "regimen_ids"): "regimens",
    ("limits", "ingredient_id"): "ingredients",
    ("evidence", "ingredient_id"): "ingredients",
    ("evidence", "review_source_ids"): "sources",
    ("evidence", "dissent_source_ids"): "sources",
    ("beliefs", "ingredient_id"): "ingredients",
    ("hazards", "ingredient_id"): "ingredients",
    ("hazard_thresholds", "hazard_id"): "hazards",
    ("hazard_thresholds", "delegates_to"): "hazards",
    ("content_factors", "hazard_id"): "hazards",
    ("medications", "class_ids"): "drug_classes",
}
# Pairs of columns where the first may not exceed the second.
_ORDERED = {
    "forms": (("share_low", "share_high"), ("iu_per_mg_low", "iu_per_mg_high")),
    "regimens": (("amount_low", "amount_high"), ("weight_from_kg", "weight_to_kg")),
    "guidance": (("amount_low", "amount_high"), ("from_kg", "to_kg"), ("days_low", "days_high")),
    "hazard_thresholds": (("amount_low", "amount_high"), ("mg_per_kg_low", "mg_per_kg_high")),
    "content_factors": (("value_low", "value_high"),),
}


def check_tables(tables: Tables) -> tuple[str, ...]:
    """Check keys, references, words and ranges of all tables.

    Parameters
    ----------
    tables
        Records by table name.

    Returns
    -------
    tuple of str
        One sentence per defect; empty where there is none.
    """
    return tuple(defect for check in _CHECKS for defect in check(tables))


def _unique_keys(tables: Tables) -> Defects:
    for table, rows in tables.items():
        key = _UNIQUE.get(table, ("id",))
        counts = Counter(tuple(getattr(row, name) for name in key) for row in rows)
        for value, count in counts.items():
            if count > 1:
                yield f"{table}: {' + '.join(map(str, value))} stands {count} times"


def _foreign_keys(tables: Tables) -> Defects:
    ids = {table: {getattr(row, "id", None) for row in rows} for table, rows in tables.items()}
    for (table, column), target in FOREIGN_KEYS.items():
        for row in tables[table]:
            for value in _as_tuple(getattr(row, column)):
                if value not in ids[target]:
                    yield f"{table} {_label(row)}, {column}: {value} is not in {target}"
    for table, rows in tables.items():
        for row in rows:
            for value in row.source_ids if isinstance(row, Fact) else ():
                if value not in ids["sources"]:
                    yield f"{table} {_label(row)}: source {value} is not in sources"


def _as_tuple(value: object) -> tuple[object, ...]:
    if value is None:
        return ()
    return value if isinstance(value, tuple) else (value,)


def _label(row: object) -> str:
    return str(getattr(row, "id", None) or getattr(row, "name", None) or getattr(row, "alias", "row"))


def _two_way_keys(tables: Tables) -> Defects:
    """Columns whose target table another column names."""
    ids = {table: {getattr(row, "id", None) for row in rows} for table, rows in tables.items()}
    target_of = {"ingredient": "ingredients", "form": "forms", "hazard": "hazards"}
    for row in tables["names"]:
        if (row.target_id is None) != (row.target_kind == "none"):
            yield f"names {row.name}: target_kind {row.target_kind} and target_id {row.target_id} contradict"
        elif row.target_id is not None and row.target_id not in ids[target_of[row.target_kind]]:
            yield f"names {row.name}: {row.target_kind} {row.target_id} does not exist"
        if row.type == "false_friend" and row.false_friend_of not in ids["hazards"] | ids["ingredients"]:
            yield f"names {row.name}: a false friend must say of what"
    kinds = {
        "ingredient": "ingredients",
        "ingredient_group": "ingredient_groups",
        "medication": "medications",
        "drug_class": "drug_classes",
        "condition": "conditions",
    }
    for row in tables["interactions"]:
        for kind, id_ in ((row.a_kind, row.a_id), (row.b_kind, row.b_id)):
            if kind not in kinds or id_ not in ids[kinds[kind]]:
                yield f"interactions {row.id}: {kind} {id_} does not exist"


def _words(tables: Tables) -> Defects:
    for (table, column), allowed in vocabulary.WORDS.items():
        for row in tables[table]:
            for value in _as_tuple(getattr(row, column)):
                if value not in allowed:
                    yield f"{table} {_label(row)}, {column}: {value!r} is not one of the allowed words"
    for table, rows in tables.items():
        for row in rows:
            if row.origin not in vocabulary.ORIGINS:
                yield f"{table} {_label(row)}: origin {row.origin!r} is not one of the allowed words"


def _ranges(tables: Tables) -> Defects:
    for table, pairs in _ORDERED.items():
        for row in tables[table]:
            for low, high in pairs:
                first, second = getattr(row, low), getattr(row, high)
                if first is not None and second is not None and first > second:
                    yield f"{table} {_label(row)}: {low} {first} is above {high} {second}"


def _forms(tables: Tables) -> Defects:
    for row in tables["forms"]:
        # Only an open form may hold none of its moiety: a total that does not say what it is made of.
        least = 0 if row.kind == "open" else Decimal("1e-9")
        if (row.share_low is None) != (row.share_high is None):
            yield f"forms {row.id}: a share has both ends or none"
        elif row.share_low is not None and not least <= row.share_low <= row.share_high <= 1:
            yield f"forms {row.id}: a share lies between 0 and 1"
        if row.kind == "defined" and row.share_low != row.share_high:
            yield f"forms {row.id}: a defined form has one share"
        if row.kind == "open" and not row.candidate_form_ids:
            yield f"forms {row.id}: an open form names its candidates"
        if row.cas is not None and not valid_cas(row.cas):
            yield f"forms {row.id}: the check digit of CAS {row.cas} is wrong"


def _bands(tables: Tables) -> Defects:
    groups: dict[tuple[str, str, str], list[Any]] = {}
    for row in tables["guidance"]:
        groups.setdefault((row.ingredient_id, row.species, row.phase), []).append(row)
    for key, rows in groups.items():
        rows.sort(key=lambda row: row.from_kg)
        if rows[0].from_kg != Decimal("0.1") or rows[-1].to_kg is not None:
            yield f"guidance {' '.join(key)}: the bands do not cover 0.1 kg and up"
        for before, after in pairwise(rows):
            if before.to_kg != after.from_kg:
                yield f"guidance {' '.join(key)}: gap or overlap at {before.to_kg} kg"


def _provenance(tables: Tables) -> Defects:
    for row in tables["guidance"]:
        if row.origin == "memory":
            yield f"guidance {row.id}: no amount may rest on memory alone"
        if row.species == "cat":
            yield f"guidance {row.id}: no amount for cats is published"
    real = {"read", "cited"}
    origins = {source.id: source.origin for source in tables["sources"]}
    for table, rows in tables.items():
        for row in rows:
            if isinstance(row, Fact) and row.origin in real and origins.get(row.source_id) == "common_practice":
                yield f"{table} {_label(row)}: origin {row.origin} but its source is a rule of the trade"


def valid_cas(number: str) -> bool:
    """Say whether a CAS registry number has a valid check digit.

    Parameters
    ----------
    number
        For example ``66-84-2``.

    Returns
    -------
    bool
        The last digit is the sum of the others, each times its place from the right, modulo 10.
    """
    digits = number.replace("-", "")
    if not digits.isdigit() or number.count("-") != 2:
        return False
    total = sum(place * int(digit) for place, digit in enumerate(reversed(digits[:-1]), start=1))
    return total % 10 == int(digits[-1])


_CHECKS: tuple[Callable[[Tables], Defects], ...] = (
    _unique_keys,
    _foreign_keys,
    _two_way_keys,
    _words,
    _ranges,
    _forms,
    _bands,
    _provenance,
)
