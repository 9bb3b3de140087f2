"""A course as a calendar, read back by the library icalendar and by the dates of the JSON answer."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from flask.testing import FlaskClient
from icalendar import Calendar, Event

from service.domain.common import NOTICE
from tests.web.asserting import assert_computed, assert_problem
from tests.web.invented import product
from tests.web.test_plan import plan_body

BODY = plan_body(start_date="2027-03-01", horizon_years=1)


def _calendar(client: FlaskClient, body: dict[str, Any]) -> Calendar:
    response = client.post("/v1/plan.ics", json=body)
    assert response.status_code == 200
    assert response.headers["Content-Type"].startswith("text/calendar; charset=utf-8")
    return Calendar.from_ical(response.get_data())


def _events(client: FlaskClient, body: dict[str, Any] = BODY) -> list[Event]:
    return _calendar(client, body).events


def _on(events: list[Event], kind: str) -> list[date]:
    return [event.decoded("dtstart") for event in events if kind in event.categories]


def test_refills_and_reassessments_are_those_of_the_plan(client: FlaskClient) -> None:
    answer = assert_computed(client.post("/v1/plan", json=BODY))
    events = _events(client)
    assert [str(day) for day in _on(events, "refill")] == [one["date"] for one in answer["purchases"]]
    assert [str(day) for day in _on(events, "reassessment")] == [one["date"] for one in answer["reassessments"]]
    assert [str(day) for day in _on(events, "amount")] == [one["from_date"] for one in answer["phases"]]
    assert [str(day) for day in _on(events, "end")] == [answer["end_date"]]


def test_every_event_is_an_all_day_event_with_a_caution(client: FlaskClient) -> None:
    for event in _events(client):
        start, end = event.decoded("dtstart"), event.decoded("dtend")
        assert type(start) is date
        assert end == start + timedelta(days=1)
        assert event["dtstart"].params["VALUE"] == "DATE"
        assert str(event["transp"]) == "TRANSPARENT"
        assert NOTICE in str(event["description"])
        assert "ask a veterinarian if the animal vomits" in str(event["description"])


def test_what_must_not_be_given_is_the_only_thing_said(client: FlaskClient) -> None:
    body = {**BODY, "product": product(other_ingredients="xylitol")}
    (event,) = _events(client, body)
    assert str(event["summary"]).startswith("Do not give: ")
    assert "ylitol" in str(event["description"])
    assert event.walk("VALARM") == []


def test_two_animals_do_not_overwrite_each_other(client: FlaskClient) -> None:
    uids = [
        {str(event["uid"]) for event in _events(client, {**BODY, **changes})}
        for changes in (
            {},
            {"animal": {"species": "dog", "weight": "12 kg"}},
            {"product": product(name="Another tablet")},
            {"course_id": "kennel 7"},
            {"course_id": "kennel 8"},
        )
    ]
    assert len(set.union(*uids)) == sum(map(len, uids))
    assert "kennel 7" in str(_events(client, {**BODY, "course_id": "kennel 7"})[0]["summary"])


def test_a_named_course_keeps_its_events_when_the_weight_changes(client: FlaskClient) -> None:
    first = _events(client, {**BODY, "course_id": "kennel 7"})
    heavier = {**BODY, "course_id": "kennel 7", "animal": {"species": "dog", "weight": "35 kg"}}
    assert {str(event["uid"]) for event in first} & {str(event["uid"]) for event in _events(client, heavier)}


def test_a_pause_is_called_one(client: FlaskClient) -> None:
    phases = [{"units_per_day": 1, "days": 10}, {"units_per_day": 0, "days": 10}, {"units_per_day": 1, "days": 10}]
    titles = [
        str(event["summary"]) for event in _events(client, {**plan_body(start_date="2027-03-01"), "phases": phases})
    ]
    assert [title.partition(":")[0] for title in titles[:3]] == ["From today", "Pause from today", "From today"]


def test_a_product_that_cannot_serve_makes_no_calendar(client: FlaskClient) -> None:
    body = {**BODY, "product": product(facts=[{"name": "MSM", "amount": "500 mg"}]), "ingredient": "glucosamine"}
    assert_problem(client.post("/v1/plan.ics", json=body), "invalid-input", names="#/product", hint="credits no amount")


def test_it_is_saved_under_a_name(client: FlaskClient) -> None:
    response = client.post("/v1/plan.ics", json=BODY)
    assert response.headers["Content-Disposition"] == 'attachment; filename="course.ics"'


def test_the_same_plan_is_the_same_bytes_and_each_event_has_its_own_uid(client: FlaskClient) -> None:
    first, second = (client.post("/v1/plan.ics", json=BODY).get_data() for _ in range(2))
    assert first == second
    uids = [str(event["uid"]) for event in _events(client)]
    assert len(set(uids)) == len(uids)


def test_a_uid_stays_when_the_price_changes(client: FlaskClient) -> None:
    dearer = {**BODY, "product": product(price=20)}
    assert [str(event["uid"]) for event in _events(client)] == [str(event["uid"]) for event in _events(client, dearer)]


def test_a_refill_reminds_a_week_before(client: FlaskClient) -> None:
    alarms = [alarm for event in _events(client) for alarm in event.walk("VALARM")]
    assert {alarm.decoded("trigger") for alarm in alarms} == {timedelta(days=-7)}
    # Not the first: it is bought before the course begins.
    assert len(alarms) == len(_on(_events(client), "refill")) - 1


def test_lines_by_the_standard(client: FlaskClient) -> None:
    # RFC 5545, 3.1: CRLF, at most 75 octets a line; 3.6: VERSION and PRODID are required, 3.6.1: UID and DTSTAMP.
    text = client.post("/v1/plan.ics", json={**BODY, "product": product(name="Täglich; ein, Stück\\" * 4)}).get_data()
    assert text.endswith(b"\r\n")
    assert b"\n" not in text.replace(b"\r\n", b"")
    assert max(len(line) for line in text.split(b"\r\n")) <= 75
    read = Calendar.from_ical(text)
    assert {"VERSION", "PRODID"} <= set(read)
    assert all({"UID", "DTSTAMP"} <= set(event) for event in read.walk("VEVENT"))
    assert any("Täglich; ein, Stück\\" in str(event["summary"]) for event in read.walk("VEVENT"))


def test_a_calendar_needs_a_first_day(client: FlaskClient) -> None:
    assert_problem(client.post("/v1/plan.ics", json=plan_body()), "invalid-input", names="#/start_date")


@pytest.mark.parametrize("name", ["BEGIN:VEVENT", "x\u2028y", "a:b;c=d", "\U0001f436 biscuit"])
def test_a_name_cannot_add_lines(client: FlaskClient, name: str) -> None:
    events = _events(client, {**BODY, "product": product(name=name)})
    assert len(events) == len(_events(client))
    assert any(name in str(event["summary"]) for event in events)
