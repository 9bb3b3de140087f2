"""Headings and first words of lines in English, German, French and Spanish (common practice; chem-s38, chem-s03)."""

from __future__ import annotations

from service.domain.labels.phrases import Phrases, any_of, by_meaning, split

SERVING_HEADINGS = split(
    """
        household unit | porzione | dose giornaliera |
        serving size | serv. size | serv size | serving sz | serv. sz | srv size |
        serving | portion size | dose size | portionsgröße | portion | taille de la portion |
        taille de portion | tamaño de la ración | ración | tamaño de la porción | tamaño de porción |
        tamaño por porción | dosis | one serving |
        suggested serving | tagesdosis | daily serving | daily dose | dose journalière | dose quotidienne |
        dosis diaria |         ración diaria | tagesration | tagesportion | empfohlene tagesdosis |
        daily amount
    """
)

SERVINGS_IN_PACK = split(
    """
        raciones por envase | raciones por bote | raciones |
        serv/cont | serv/cont. | serv. / cont. | serv./cont. | serv. per cont. | serv per cont | serv. per container |
        serv per container | servings per cont. | servings/container | servings / container | servings per cont |
        svgs per container | servings/tub | servings/bag | servings/bottle |
        servings per container | servings per bottle | servings per tub | servings per pack | servings per bag |
        servings per jar | servings per box | servings per pouch | servings per package | servings | portionen |
        serving per container | portionen pro packung | portionen pro dose | portionen je packung |
        portions par contenant | portions par emballage | portions par boîte | portions par pot | portions |
        doses per bottle | doses per container | doses per pack | porciones por envase | porciones por bote |
        porciones | number of servings | anzahl portionen | nombre de portions | número de porciones
    """
)

NET_CONTENT_HEADINGS = split(
    """
        net wt | net wt. | net weight | net contents | net content | net quantity | net vol | net volume | net |
        nettogewicht | nettofüllmenge | füllmenge | netto | inhalt | poids net | contenu net | contenu |
        quantité nette | peso neto | contenido neto | contenido | cantidad neta | contents | pack size | count |
        quantity | size | packungsgröße | packungsinhalt | bottle contents | pack of | peso netto | contenuto |
        pack contains | contains approx | bote de | boîte de | dose mit | packung mit
    """
)

ENERGY_HEADINGS = split(
    """
        calorie content | calories | calorie | cals | calories per serving | energy | energy content | energie |
        energía | metabolisable energy | metabolizable energy | me | énergie | energiegehalt | brennwert |
        valeur énergétique | kalorien | calorías | umsetzbare energie | contenido calórico | valor energético
    """
)

PRICE_HEADINGS = split(
    """
        price | our price | now | only | rrp | preis | nur | prix | precio | prezzo | uvp | pvp | msrp | cost |
        sale price | special price | sale | special | offer | offer price | promo price | list price | regular price |
        angebot | angebotspreis | aktionspreis | oferta | offre | preis inkl. mwst |
        preis incl. mwst | inkl. mwst | inkl. mwst. | prix ttc | ttc |
        price incl. vat | incl. vat | inc. vat | iva incluido | precio iva incluido | pvp iva incluido
    """
)

LIST_HEADINGS = split(
    """
        inactive |
        other | others | sonstiges |
        ingredients | ingredient | other ingredients | inactive ingredients | non-medicinal ingredients |
        composition | inactives | excipients | other ingredient | zusammensetzung | zutaten | weitere zutaten |
        sonstige zutaten | hilfsstoffe | ingrédients | autres ingrédients | excipientes | composición |
        ingredientes | otros ingredientes | ingredienti | composizione | also contains | base ingredients |
        list of ingredients | made with | made from | ingredients list | ingredient list | full ingredients
    """
)

ACTIVE_HEADINGS = split(
    """
        active ingredients | active ingredient | actives | guaranteed analysis | supplement facts |
        nutrition facts | product facts | medicinal ingredients | wirkstoffe | aktive inhaltsstoffe |
        principes actifs | principios activos | ingrédients actifs | ingredientes activos | amount | amounts |
        provides | contains | contain | supplies |
        providing | delivers | enthält | enthalten | contient | contiennent | contiene | contienen | analysis |
        typical analysis | facts | zusatzstoffe | pet nutrition facts | nutritional information | nährwerte |
        gehalt | key actives | key ingredients | vitamins | minerals | vitamins and minerals | guaranteed levels |
        active ingredients list | apporte | aporta
    """
)

# Amounts under these headings are per kilogram of feed unless the label says otherwise (source chem-s38).
ADDITIVE_HEADINGS = split(
    """
        additives | nutritional additives | technological additives | sensory additives | zootechnical additives |
        zusätze | zusatzstoffe | ernährungsphysiologische zusatzstoffe | technologische zusatzstoffe |
        sensorische zusatzstoffe | zootechnische zusatzstoffe | additifs | additifs nutritionnels |
        spurenelemente | additifs technologiques | additifs sensoriels | aditivos | aditivos nutricionales |
        compuestos de oligoelementos | aditivos tecnológicos | aditivos sensoriales | oligo-éléments |
        oligoelementos | trace elements | compounds of trace elements | composés d'oligo-éléments |
        verbindungen von spurenelementen | additivi | vitamins, pro-vitamins | vitamins, provitamins |
        vitamine, provitamine | vitamines | vitaminas | vitamine | additivi nutrizionali | amino acids |
        aminosäuren | acides aminés | aminoácidos
    """
)

CONSTITUENT_HEADINGS = split(
    """
        tenori analitici | constituants | bestandteile |
        analytical constituents | analytische bestandteile | constituants analytiques | componentes analíticos |
        analytische bestanddelen | componenti analitici | typical analysis | gehalte an inhaltsstoffen
    """
)

ALLERGEN_HEADINGS = split(
    """
        allergens | allergen | allergen information | allergen statement | allergy advice | allergene |
        allergènes | alérgenos | allergen warning | allergens present
    """
)

DIRECTION_HEADINGS = split(
    """
        istruzioni | istruzioni per l'uso | modalità d'uso | gebruiksaanwijzing | dosierung täglich |
        daily feeding amounts | feeding amounts | daily amounts | feeding table | tägliche fütterungsmenge |
        directions | directions for use | feeding guide | feeding instructions | feeding guidelines | dosage |
        dosing | suggested use | recommended use | how to use | administration | usage | use | instructions |
        daily feeding | fütterungsempfehlung | fütterungshinweis | dosierung | anwendung | verzehrsempfehlung |
        gebrauchsanweisung | mode d'emploi | conseils d'utilisation | posologie | utilisation | modo de empleo |
        instrucciones de uso | dosificación | posología | recommended daily dose | recommended daily amount |
        dose table | dosing table | dosage table | dosing chart | dosage chart | feeding chart | dosing guide |
        dosage guide | dosierungstabelle | fütterungstabelle | tableau de dosage | tabla de dosificación |
        serving guide | feeding | recommended dose | loading dose | maintenance dose | recommended dosage |
        loading | maintenance | guide | durée | duración | dauer der anwendung | durée d'utilisation
    """
)

STATEMENT_HEADINGS = {
    "warning": split(
        """
            warning | warnings | caution | cautions | precautions | warnhinweis | warnung | achtung | hinweis |
            avertissement | précautions | attention | advertencia | advertencias | precauciones | important |
            keep out of reach | do not use | not for | consult | use within | ask your | discontinue | if your dog |
            never exceed | never give | don't exceed | don't give |
            if your pet | außerhalb der reichweite | tenir hors | mantener fuera | not for human | do not exceed |
            do not give | do not feed | für tiere | nur für tiere | for animal use | for use in | consulter |
            consulte | ne pas dépasser | no exceder | no superar | nicht überschreiten | ne pas donner | no administrar
        """
    ),
    "storage": split(
        """
            store | storage | store in | keep in | keep refrigerated | kühl | lagerung | aufbewahrung |
            à conserver | conserver | conservar | trocken lagern | almacenar | shake well | keep tightly |
            refrigerate | keep cool
        """
    ),
    "identity": split(
        """
            made for | made by | manufactured by | manufactured for | produced for | lot | batch | best before |
            use by | expiry | exp | exp. | mfg | charge | ch.-b. |
            mindestens haltbar | à consommer | lote | n° de lot | consumir | manufactured | distributed |
            made in | hergestellt | fabriqué | fabricado | produced | registration | reg. | approval number |
            zulassungsnummer | bbe | ean | barcode | address | www | http | https | tel | phone | email |
            importer | importeur | zul.-nr. | item | mindesthaltbarkeitsdatum | mhd | losnummer | distribuido |
            distribué | packed | batch no | lot no | best before end | see base | see bottom | see lid
        """
    ),
    "promotion": split("subscribe | save | sale | discount | % off | free shipping | special offer | buy one"),
    "claim": split(
        """
            supports | support | helps | help | promotes | promote | maintains | formulated | developed |
            recommended | made with | no added | free from | no artificial | contains no | grain free | without |
            non-gmo | natural | unterstützt | fördert | zur unterstützung | ohne | frei von | favorise |
            soutient | aide | sans | apoya | ayuda | favorece | sin | veterinarian | vet | tierarzt | premium |
            advanced | hip | joint | improves | mobility | tasty | delicious | new | our | with added |
            for healthy | für gesunde | pour | para | suitable for | made for | guaranteed | quality | thank you |
            source of | quelle | rich in
        """
    ),
}

# Praise of a product: beside an amount it names nothing.
PRAISE = frozenset(
    """maximum max extra double triple quadruple super ultra mega high higher highest strength potency powerful advanced
    premium professional clinical clinically veterinary vet formula formulation joint joints hip mobility support care
    health healthy relief comfort power plus pro complete daily active senior adult puppy best new improved fast acting
    effective concentrated concentrate dose dosage strong level levels quality grade natural hochdosiert extrastark
    maximale starke kraft gelenk gelenke gelenkschutz beweglichkeit doppelt forte puissance dose renforcee haute
    teneur articulations alta potencia maxima fuerza articulaciones with of and for your dog dogs cat cats pet pets
    the now our powered by packed boosted stronger x""".split()
)

# What follows is a limit or an animal to keep it from, never a content.
FORBIDDING = any_of(
    """
        not for | not suitable for | not recommended for | do not exceed | never exceed | do not give | never give |
        do not feed | do not use | don't exceed | don't give | nicht für | nicht geeignet für | nicht überschreiten |
        nicht geben | nicht mehr als | ne pas dépasser | ne pas donner | ne convient pas | no exceder | no superar |
        no administrar | no dar | no apto para | non superare | non somministrare | not to exceed | no recomendado
    """
)
EXCEEDED = any_of(
    """
        must not be exceeded | should not be exceeded | not be exceeded | not to be exceeded | nicht überschreiten |
        nicht überschritten werden | ne pas dépasser | ne doit pas être dépassé | ne doit pas être dépassée |
        ne doivent pas être dépassés | no debe superarse | no se debe superar | no superar | no exceder
    """
)

PRODUCT_TYPES = {
    "complementary feed": split(
        """
            complementary feed | complementary pet food | complementary feedingstuff | ergänzungsfuttermittel |
            aliment complémentaire | pienso complementario | alimento complementario | mangime complementare |
            aanvullend diervoeder | complementary food
        """
    ),
    "complete feed": split(
        """
            complete feed | complete pet food | alleinfuttermittel | aliment complet | pienso completo |
            alimento completo | complete food
        """
    ),
    "dietary complementary feed": split(
        """
            diät-ergänzungsfuttermittel | dietetic complementary feed
        """
    ),
    "dietary supplement": split(
        """
            dietary supplement | nutritional supplement | food supplement | nahrungsergänzungsmittel |
            pet supplement | complément alimentaire | complemento alimenticio | animal supplement |
            dog supplement
        """
    ),
}

TABLE_HEADINGS = any_of(
    """
        as fed | % as fed | on a dry matter basis | dry matter |
        amount per serving | amount | % daily value | % dv | %dv | supplement facts | nutrition facts | facts |
        per serving | dv | % nrv | nrv | ingredients | active ingredients | guaranteed analysis | dog's weight |
        weight of dog | amount per day | weight | daily amount | body weight | number of chews |
        number of tablets | bodyweight | dog weight | dog size | size of dog | gewicht | körpergewicht |
        poids du chien |
        peso del perro | daily dose
    """
)

DAILY_VALUE = any_of(
    """
        daily value | daily values | percent daily value | % daily value | dv | % dv | %dv | nrv | % nrv | rda |
        reference intake | valor diario | valeurs nutritionnelles de référence | nährstoffbezugswerte
    """
)

# Headings that may stand in the middle of a printed line: behind an amount, the longer ones behind anything.
INLINE_HEADINGS = Phrases(
    {
        **dict.fromkeys(
            split(
                """
                    ingredients | active ingredients | key ingredients | directions | feeding guide | dosage | usage |
                    feeding instructions | warning | warnings | caution | allergens | storage | zusammensetzung |
                    zutaten | f\u00fctterungsempfehlung | dosierung | composition | mode d'emploi | composici\u00f3n |
                    modo de empleo | additives | zusatzstoffe | additifs | aditivos | servings per container |
                    analytical constituents | analytische bestandteile | constituants analytiques | posologie |
                    componentes anal\u00edticos | recommended use | how to use | anwendung |
                    ingr\u00e9dients | ingredientes
                """
            ),
            False,
        ),
        **dict.fromkeys(
            split(
                """
                    other ingredients | inactive ingredients | directions for use | suggested use | feeding directions |
                    weitere zutaten | sonstige zutaten | autres ingr\u00e9dients | otros ingredientes
                """
            ),
            True,
        ),
    }
)

# Titles of a panel, which may stand in one line with what is below them.
PANEL_TITLES = any_of(
    """
        supplement facts | nutrition facts | product facts | pet nutrition facts | guaranteed analysis |
        active ingredients | active ingredient | nutritional information | medicinal ingredients | wirkstoffe
    """
)

FOOTNOTE_MEANINGS = Phrases(
    by_meaning(
        {
            "daily_value_not_established": split(
                """
                    daily value not established | not established | no daily value | no reference value |
                    dv not established | kein referenzwert | valor diario no establecido |
                    not recognized as an essential | not recognised as an essential | not recognized as essential
                """
            ),
            "daily_value_basis": split(
                """
                    percent daily values are based | % daily values are based | based on a | daily values based
                """
            ),
            "tolerance": split(
                """
                    ± | averages | average values | typical values | mittelwerte | valeurs moyennes | valores medios
                """
            ),
        }
    )
)
