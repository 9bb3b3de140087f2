"""The order of compared products: what speaks against one comes before what it costs."""

from __future__ import annotations

from decimal import Decimal

from service.domain.compare_answer import CompareRow
from service.domain.ranking import Candidate, ranked


def _candidate(
    name: str, cost: str | None, units: str = "1", why_not: tuple[str, ...] = (), verdict: str = "nothing_found"
) -> Candidate:
    row = CompareRow(
        product_id=name, name=None, rank=0, units_per_day=Decimal(units), unit="tablet", meets_target=not why_not,
        targets=(), cost_per_day=None, cost_per_30_days=None, cost_per_365_days=None, cost_per_g=None, currency="EUR",
        container_lasts_days=None, energy_kcal_per_day=None, energy_share_of_resting_need=None, verdict=verdict,
        efficient=False, label_flags=(), why_not=why_not,
    )  # fmt: skip
    return Candidate(row, Decimal(cost) if cost else None, None, 0)


def test_objections_come_last_and_a_stop_last_of_all() -> None:
    found = ranked(
        [
            _candidate("stopped", "0.1", why_not=("harmful",), verdict="stop"),
            _candidate("weak", "0.2", why_not=("too weak",)),
            _candidate("unpriced", None),
            _candidate("dear", "2"),
            _candidate("cheap", "1"),
        ],
        "cost_per_day",
    )
    assert [row.product_id for row in found] == ["cheap", "dear", "unpriced", "weak", "stopped"]
    assert [row.rank for row in found] == [1, 2, 3, 4, 5]


def test_ties_go_by_units_then_by_id() -> None:
    found = ranked([_candidate("b", "1"), _candidate("c", "1", "0.5"), _candidate("a", "1")], "cost_per_day")
    assert [row.product_id for row in found] == ["c", "a", "b"]


def test_efficient_unless_another_is_cheaper_and_fewer_units() -> None:
    rows = ranked(
        [_candidate("beaten", "3", "3"), _candidate("cheap", "1", "2"), _candidate("few", "4", "1")], "cost_per_day"
    )
    assert {row.product_id: row.efficient for row in rows} == {"cheap": True, "few": True, "beaten": False}


def test_one_with_an_objection_beats_nobody() -> None:
    rows = ranked([_candidate("fine", "3", "3"), _candidate("harmful", "1", "1", ("harmful",))], "cost_per_day")
    assert {row.product_id: row.efficient for row in rows} == {"fine": True, "harmful": False}
