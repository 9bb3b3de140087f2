"""``/workbench``: the page, its form, and its charts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from flask import Blueprint, Response, redirect, render_template, request

from service.demo import animal, label, products
from service.domain.common import Caution
from service.domain.errors import DomainError
from service.pages.wording import number
from service.pages.workbench.animal import animal_sentence
from service.pages.workbench.comparison import present_comparison
from service.pages.workbench.contents import content_table
from service.pages.workbench.course import courses_of, present_course
from service.pages.workbench.findings import present_screen
from service.pages.workbench.highlights import pieces
from service.pages.workbench.note import note_document
from service.pages.workbench.state import (
    LONGEST_TOKEN,
    MOST_PRODUCTS,
    BrokenToken,
    ProductTexts,
    State,
    from_form,
    from_token,
    to_token,
    without,
)
from service.web.body import load
from service.web.care_note import BODY, answered, note_of
from service.web.envelope import Envelope
from service.web.faults import Fault
from service.web.negotiation import choose
from service.web.responses import Caching, respond
from service.web.serving import envelope
from service.web.site.sources import page_sources
from service.web.site.workbench.answering import Bench, answer
from service.web.site.workbench.reading import read_state

blueprint = Blueprint("site_workbench", __name__)
_ANIMALS = (("dog", "Dog"), ("cat", "Cat"))
_AIMS = (("low", "lower end of the range"), ("middle", "middle of the range"), ("high", "upper end of the range"))
_DIVISIONS = (
    ("", "not at all, or not known"),
    ("halves", "into halves"),
    ("quarters", "into quarters"),
    ("opens", "a capsule that opens"),
    ("millilitre_tenths", "a liquid, by tenths of a millilitre"),
    ("scoop_halves", "a powder, by half scoops"),
)
_LEVELS = ("warning", "caution", "info")
_PRODUCT_ID = re.compile(r"\bp[0-9]{1,2}\b")
_EXAMPLE_ANIMAL = "bramble"


@blueprint.get("/workbench")
def show() -> Response:
    """Answer with the workbench that the address describes."""
    choose(("html",))
    token = request.args.get("state")
    if token is None:
        return _page(from_form(request.args), "")
    try:
        return _page(from_token(token), token)
    except BrokenToken:
        return _page(State(), "", "This address was cut or changed on the way; what it held cannot be read.")


@blueprint.post("/workbench")
def change() -> Response:
    """Take the form over into the address, so that it can be kept and shared."""
    choose(("html",))
    action = request.form.get("action", "")
    state = from_form(request.form)
    if action.startswith("note-") and (note := _note(state, action[5:])) is not None:
        return note
    if action == "add":
        state = replace(state, products=(*state.products, ProductTexts())[:MOST_PRODUCTS])
    elif action.startswith("remove-") and action[7:].isdecimal():
        state = without(state, int(action[7:]) - 1)
    token = to_token(state)
    if len(token) > LONGEST_TOKEN:
        return _page(state, "", "Too much text for one address: this page cannot be shared by its link.")
    if action == "add":
        # A blank product is not worth an address of its own.
        return _page(state, token)
    response = redirect(f"/workbench?state={token}#results", 303)
    response.headers["Cache-Control"] = Caching.NEVER.value
    return Response(response=b"", status=303, headers=response.headers)


def _note(state: State, number: str) -> Response | None:
    """Answer with the care note for one product; ``None`` where what was typed makes none."""
    release = envelope()
    bench = answer(release.reference, read_state(release.reference, state))
    label = next((one for one in bench.reading.labels if str(one.number) == number), None)
    if label is None or bench.reading.animal is None or bench.comparison is None:
        return None
    rows = {row.product_id: row.units_per_day for row in bench.comparison.rows}
    courses = {one.product_id: one for one in courses_of(bench.course)} if bench.course else {}
    id_ = label.product.id
    told = {"medications": bench.reading.medications, "conditions": bench.reading.conditions}
    document = note_document(bench.reading.animal, label.product, courses.get(id_), rows.get(id_), told)
    try:
        note = note_of(release, load(BODY, document))
    except (DomainError, Fault):
        # What is wrong stands beside its field once the page is shown again.
        return None
    return answered(release, note, "html", negotiated=False)


def example_state() -> State:
    """Give the invented example: the old dog of the shelter and some of its products."""
    dog = animal(_EXAMPLE_ANIMAL)
    return State(
        species=dog["species"],
        weight=dog["weight"],
        age_years=number(dog["age_years"]),
        medications=", ".join(dog["medications"]),
        conditions=", ".join(dog["conditions"]),
        products=tuple(
            ProductTexts(
                name=one["name"],
                label=label(one["id"]),
                price=f"{one['price']:.2f}",
                currency=one["currency"],
                unit_count=number(one["unit_count"]) if one.get("unit_count") else "",
                divisible=one.get("divisible", "") if one.get("divisible") != "whole" else "",
            )
            for one in products()[:5]
        ),
    )


def _page(state: State, token: str, notice: str = "") -> Response:
    release = envelope()
    shown = state if state.products else replace(state, products=(ProductTexts(),))
    found: dict[str, Any] = {"bench": None, "errors": {}, "wrong": (), "sources": {}}
    if not state.is_blank:
        found = _answered(release, answer(release.reference, read_state(release.reference, state)))
    text = render_template(
        "workbench.html",
        state=shown,
        token=token,
        notice=notice,
        animals=_ANIMALS,
        aims=_AIMS,
        divisions=_DIVISIONS,
        most_products=MOST_PRODUCTS,
        example=to_token(example_state()) if state.is_blank else "",
        **found,
    )
    return respond(text.encode(), "html", Caching.REVALIDATE if request.method == "GET" else Caching.NEVER)


def _answered(release: Envelope, bench: Bench) -> dict[str, Any]:
    reference, labels = release.reference, bench.reading.labels
    names = {label.product.id: label.name for label in labels}
    by_id = {label.product.id: label.product for label in labels}
    numbered = {label.number: label for label in labels}
    screens = [
        present_screen(f"p{position}", numbered[position].name, screen) for position, screen in bench.screens.items()
    ]
    verdicts = {screen.product_id: screen.verdict for screen in screens}
    contents = {numbered[position].name: content for position, content in bench.contents.items()}
    view: Mapping[str, Any] = {
        "readings": {label.number: pieces(label.text, label.label) for label in labels},
        "unread": {label.number: [one.text for one in label.label.unread] for label in labels},
        "comparison": present_comparison(reference, bench.comparison, by_id, verdicts) if bench.comparison else None,
        "contents": content_table(reference, contents),
        "course": present_course(bench.course, names) if bench.course else None,
        "screens": screens,
        "ingredients": [(id_, reference.ingredients[id_].name) for id_ in bench.ingredients],
        "chosen_by_label": bench.chosen_by_label,
        "no_guidance": bench.no_guidance,
        "who": animal_sentence(bench.reading.animal, bench.reading.medications, bench.reading.conditions),
        "cautions": _cautions(bench, names),
    }
    wrong = {name.partition("_")[0] for name in bench.errors}
    return {
        "bench": view,
        "errors": bench.errors,
        "wrong": wrong,
        "sources": page_sources(release, bench.source_ids),
    }


def _cautions(bench: Bench, names: Mapping[str, str]) -> list[Caution]:
    """Join the cautions of all answers, each text once, with products by name."""
    answers = (bench.comparison, bench.course, *bench.screens.values())
    found = {
        text: replace(caution, text=text)
        for one in answers
        if one is not None
        for caution in one.cautions
        for text in (_PRODUCT_ID.sub(lambda match: names.get(match[0], match[0]), caution.text),)
    }
    return sorted(found.values(), key=lambda caution: _LEVELS.index(caution.level))
