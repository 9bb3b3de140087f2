"""``GET /v1/forms/{id}``: what it takes and what it answers."""

from __future__ import annotations

from service.schemas import answer_fields as member
from service.schemas.animal import PinnedQuerySchema
from service.schemas.answer_fields import AnswerSchema
from service.schemas.envelope import ORIGIN_MEANING, ORIGINS, CautionSchema, ComputedAnswerSchema
from service.schemas.operation import COMPUTED, INPUT_PROBLEMS, Operation


class FormFieldsSchema(AnswerSchema):
    """What is known of one chemical form."""

    id = member.text("Id of the form.", example="glucosamine-hydrochloride")
    name = member.text("Name.", example="glucosamine hydrochloride")
    ingredient = member.text("Id of the ingredient.", example="glucosamine")
    kind = member.text(
        "`defined`: its formula is fixed; `open`: the label does not settle it; `as_labelled`: counted as printed; "
        "`polymer`: by repeat unit; `expression`: the same compound counted as another moiety; `no_fixed_formula`."
    )
    formula = member.text("Formula.", example="C6H14ClNO5", nullable=True)
    cas = member.text("CAS number.", nullable=True)
    cas_origin = member.text("How the CAS number is known.", nullable=True)
    molar_mass_g_per_mol = member.number("Molar mass in g/mol.", example=215.63, nullable=True)
    moiety = member.text("Name of the active moiety.", example="glucosamine")
    moiety_formula = member.text("Formula of the moiety.", nullable=True)
    moiety_molar_mass_g_per_mol = member.number("Molar mass of the moiety in g/mol.", nullable=True)
    moieties_per_formula = member.integer("Moieties in one formula unit.", nullable=True)
    moiety_share = member.number(
        "Share of the moiety by mass; null where the form is open.", example=0.831, nullable=True
    )
    moiety_share_low = member.number("Low reading of it.", nullable=True)
    moiety_share_high = member.number("High reading of it.", nullable=True)
    candidate_forms = member.texts("Ids of the forms that an open one can be.")
    expression_of = member.text("Id of the form that this one counts in another way.", nullable=True)
    iu_per_mg_low = member.number("International units per mg, low.", nullable=True)
    iu_per_mg_high = member.number("International units per mg, high.", nullable=True)
    label_basis = member.text("What a number on a label usually counts.", nullable=True)
    published_check = member.text("A published figure it was compared with.", nullable=True)
    note = member.text("What else is known.", nullable=True)
    origin = member.text(ORIGIN_MEANING, among=ORIGINS)


class FormAnswerSchema(FormFieldsSchema, ComputedAnswerSchema):
    """One chemical form."""


class FormInListSchema(FormFieldsSchema):
    """One chemical form inside an ingredient."""

    cautions = member.many(CautionSchema, "What the reader must not miss.")
    source_ids = member.texts("Ids of the sources.")


OPERATIONS = (
    Operation(
        id="get_form",
        path="/v1/forms/{id}",
        tag="forms",
        summary="One chemical form",
        description="Formula, molar mass and share of the active moiety by mass.",
        query=PinnedQuerySchema,
        answer=FormAnswerSchema,
        problems=(*INPUT_PROBLEMS, "not-found", *COMPUTED),
        example="form",
    ),
)
