"""A whole dataset of a few invented rows, small enough to see through and quick enough to spoil once per test.

Descriptor and documents are those of the checkout; the tables are not, so that no test here depends on the data.
"""

from __future__ import annotations

import csv
import shutil
from collections.abc import Mapping, Sequence
from pathlib import Path

from service.reference.auditing import DOCUMENTS, refresh
from service.reference.descriptor import FILE
from service.reference.loading import TABLES, columns

DATASET = Path(__file__).resolve().parents[2] / "dataset"
Row = Mapping[str, str]

_READ = {"source_id": "alpha2001", "origin": "read"}
_CUSTOM = {"source_id": "trade", "origin": "common_practice"}
_BAND = {
    "ingredient_id": "glucosamine",
    "form_id": "glucosamine-hydrochloride",
    "species": "dog",
    "phase": "maintenance",
    "amount_low": "500",
    "amount_high": "1000",
    "unit": "mg",
    "basis": "per_kg",
    "at_weight_kg": "34",
    "divided_doses": "2",
    "reassess_after_days": "70",
    "adults_only": "false",
    "rule_id": "trade-rule-per-kg",
    "regimen_ids": "d013",
    **_CUSTOM,
}
_FORM = {"ingredient_id": "glucosamine", "moiety": "glucosamine", **_READ}

ROWS: Mapping[str, Sequence[Row]] = {
    "sources": (
        {"id": "common-practice", "title": "Rule of the trade", "origin": "common_practice"},
        {"id": "memory", "title": "Recalled", "origin": "memory"},
        {"id": "own-arithmetic", "title": "Computed", "origin": "read"},
        {"id": "trade", "title": "Custom", "origin": "common_practice"},
        {"id": "alpha2001", "year": "2001", "title": "A trial", "doi": "10.1000/alpha", "origin": "read"},
        {"id": "beta2002", "year": "2002", "title": "Quoted in alpha2001", "origin": "cited"},
        {"id": "gamma2003", "year": "2003", "title": "A lost trial", "origin": "memory"},
        {"id": "spoons", "title": "Household measures", "origin": "read", "note": "used for: teaspoons"},
    ),
    "ingredients": (
        {
            "id": "glucosamine",
            "name": "glucosamine",
            "kind": "active",
            "moiety": "glucosamine",
            "default_form_id": "glucosamine-hydrochloride",
            "group_ids": "amino-sugar",
            "what_it_does": "An amino sugar.",
            **_READ,
        },
        {"id": "xylitol", "name": "xylitol", "kind": "hazard", "what_it_does": "A sweetener.", **_READ},
    ),
    "ingredient_groups": ({"id": "amino-sugar", "name": "amino sugars", **_READ},),
    "names": (
        {
            "name": "Glucosamine HCl",
            "language": "en",
            "type": "salt",
            "match_mode": "phrase",
            "target_kind": "form",
            "target_id": "glucosamine-hydrochloride",
            **_READ,
        },
        {
            "name": "birch sugar",
            "language": "en",
            "type": "common",
            "match_mode": "phrase",
            "target_kind": "hazard",
            "target_id": "xylitol",
            **_READ,
        },
        {
            "name": "birch leaf",
            "language": "en",
            "type": "false_friend",
            "match_mode": "phrase",
            "target_kind": "none",
            "false_friend_of": "xylitol",
            **_READ,
        },
    ),
    "forms": (
        {
            "id": "glucosamine-base",
            "name": "Glucosamine",
            "kind": "defined",
            "cas": "3416-24-8",
            "share_low": "1",
            "share_high": "1",
            **_FORM,
        },
        {
            "id": "glucosamine-hydrochloride",
            "name": "Glucosamine hydrochloride",
            "kind": "defined",
            "cas": "66-84-2",
            "share_low": "0.830923",
            "share_high": "0.830923",
            **_FORM,
        },
        {
            "id": "glucosamine-unspecified",
            "name": "Glucosamine, form not stated",
            "kind": "open",
            "share_low": "0.830923",
            "share_high": "1",
            "candidate_form_ids": "glucosamine-base;glucosamine-hydrochloride",
            **_FORM,
        },
    ),
    "regimens": (
        {
            "id": "d003",
            "ingredient_id": "glucosamine",
            "species": "dog",
            "phase": "trial",
            "duration_days": "42",
            "time_to_effect_days_high": "70",
            "trial_origin": "read",
            "source_id": "gamma2003",
            "origin": "memory",
        },
        {
            "id": "d013",
            "ingredient_id": "glucosamine",
            "species": "dog",
            "phase": "common_practice_maintenance",
            "weight_from_kg": "34",
            "weight_to_kg": "34",
            "amount_low": "500",
            "amount_high": "1000",
            "unit": "mg",
            "basis": "per_day",
            **_CUSTOM,
        },
    ),
    "guidance": (
        {"id": "glucosamine-small", "from_kg": "0.1", "to_kg": "5", **_BAND},
        {"id": "glucosamine-large", "from_kg": "5", **_BAND},
    ),
    "limits": (
        {
            "id": "glucosamine-rat",
            "ingredient_id": "glucosamine",
            "species": "rat",
            "kind": "acute_toxicity",
            "amount": "8000",
            "unit": "mg",
            "basis": "single_dose_per_kg",
            "enforced": "false",
            "source_id": "beta2002",
            "origin": "cited",
        },
    ),
    "evidence": (
        {
            "ingredient_id": "glucosamine",
            "verdict": "mixed",
            "summary": "Trials disagree.",
            "review_source_ids": "alpha2001;beta2002",
            **_READ,
        },
    ),
    "beliefs": (
        {
            "id": "more-is-better",
            "ingredient_id": "glucosamine",
            "statement": "More is better.",
            "standing": "refuted",
            "summary": "It is not.",
            **_READ,
        },
    ),
    "hazards": (
        {
            "id": "xylitol",
            "name": "Xylitol",
            "ingredient_id": "xylitol",
            "group": "sweetener",
            "kind_dog": "toxic_any_amount",
            "kind_cat": "caution",
            "unquantified_dog": "contact_now",
            "unquantified_cat": "ask_veterinarian",
            "needs_amount": "false",
            "cas": "87-99-0",
            "description": "Makes dogs release insulin.",
            **_READ,
        },
    ),
    "hazard_thresholds": (
        {
            "id": "xylitol-dog-1",
            "hazard_id": "xylitol",
            "species": "dog",
            "severity": "signs_moderate",
            "comparison": ">=",
            "amount_low": "75",
            "amount_high": "100",
            "unit": "mg/kg_bw",
            "per_day": "false",
            "mg_per_kg_low": "75",
            "mg_per_kg_high": "100",
            "action": "contact_now",
            "use": "primary",
            "grade": "B",
            **_READ,
        },
    ),
    "content_factors": (
        {
            "id": "gum-xylitol",
            "hazard_id": "xylitol",
            "material": "gum",
            "quantity": "xylitol",
            "value_low": "0.2",
            "value_high": "0.3",
            "unit": "fraction",
            "recommended": "0.3",
            **_READ,
        },
    ),
    "medications": (
        {
            "id": "warfarin",
            "name": "warfarin",
            "class_ids": "anticoagulant",
            "given_by_mouth": "true",
            "species": "dog;cat",
            **_READ,
        },
    ),
    "drug_classes": ({"id": "anticoagulant", "name": "anticoagulant", **_READ},),
    "conditions": (
        {
            "id": "bleeding-disorder",
            "name": "bleeding disorder",
            "synonyms": "clotting problem",
            "kind": "disease",
            "species": "dog;cat",
            **_READ,
        },
    ),
    "interactions": (
        {
            "id": "ix001",
            "kind": "ingredient-medication",
            "a_kind": "ingredient",
            "a_id": "glucosamine",
            "b_kind": "drug_class",
            "b_id": "anticoagulant",
            "topic": "bleeding",
            "finding": "mixed",
            "effect": "Longer clotting time reported",
            "level": "veterinarian",
            "evidence": "case_report_human",
            "action": "Recheck clotting time",
            "species": "dog;cat",
            **_READ,
        },
    ),
    "units": (
        {"alias": "mg", "unit": "mg", "dimension": "mass", "factor": "1", "base_unit": "mg", **_READ},
        {"alias": "g", "unit": "g", "dimension": "mass", "factor": "1000", "base_unit": "mg", **_READ},
    ),
}


class SmallDataset:
    """The dataset in a directory of its own, with a way to spoil single cells."""

    def __init__(self, directory: Path) -> None:
        self.directory = directory
        (directory / "tables").mkdir(parents=True)
        for name in (FILE, *DOCUMENTS):
            shutil.copy(DATASET / name, directory / name)
        (directory / "CHANGELOG.md").write_text("# Changes\n\nThe newest release stands first.\n", "utf-8")
        for table, rows in ROWS.items():
            self._write(table, rows)
        refresh(directory)

    def path(self, table: str) -> Path:
        return self.directory / "tables" / f"{table}.csv"

    def rows(self, table: str) -> list[dict[str, str]]:
        with self.path(table).open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    def write(self, table: str, rows: Sequence[Row]) -> None:
        """Write a table and bring the descriptor's hashes up to date."""
        self._write(table, rows)
        refresh(self.directory)

    def _write(self, table: str, rows: Sequence[Row]) -> None:
        with self.path(table).open("w", encoding="utf-8", newline="") as file:
            writer = csv.DictWriter(file, columns(TABLES[table]), restval="", lineterminator="\n")
            writer.writeheader()
            writer.writerows(rows)

    def set(self, table: str, number: int, **cells: str) -> None:
        """Change cells of the row with this number, counted from 0."""
        rows = self.rows(table)
        rows[number] |= cells
        self.write(table, rows)

    def add(self, table: str, like: int, **cells: str) -> None:
        """Add a row that differs from the row with this number in some cells."""
        rows = self.rows(table)
        self.write(table, [*rows, rows[like] | cells])

    def drop(self, table: str, number: int) -> None:
        """Remove the row with this number."""
        rows = self.rows(table)
        self.write(table, rows[:number] + rows[number + 1 :])

    def replace(self, path: str, old: bytes, new: bytes) -> None:
        """Change bytes of any file without telling the descriptor."""
        file = self.directory / path
        data = file.read_bytes()
        assert old in data
        file.write_bytes(data.replace(old, new, 1))
