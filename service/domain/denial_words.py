"""The words with which labels say that something is not in it: one vocabulary for a phrase and for a list."""

from __future__ import annotations

SINGLE = frozenset(
    """no not without zero nor never neither exclude excludes excluding omit omits devoid doesnt dont sans sin ohne
    senza sem zonder geen kein keine keinen keiner keinerlei weder pas ni aucun aucune bez utan uden ilman nicht
    ningun ninguna nessun nessuna nessuno niet nooit nie niemals jamais nunca""".split()
)
PAIRS = frozenset(
    (
        *(("free", "from"), ("free", "of"), ("frei", "von"), ("vrij", "van"), ("fri", "for")),
        *(("libre", "de"), ("libres", "de"), ("exempt", "de"), ("exempts", "de"), ("exempte", "de")),
        *(("exento", "de"), ("exenta", "de"), ("depourvu", "de"), ("isento", "de"), ("isenta", "de")),
        *(("exentos", "de"), ("exentas", "de"), ("depourvue", "de"), ("exemptes", "de"), ("denue", "de")),
        *(("carece", "de"), ("carecen", "de"), ("desprovisto", "de"), ("ausencia", "de"), ("absence", "de")),
        *(("absence", "of"), ("assenza", "di"), ("no", "longer"), ("nicht", "mehr"), ("niet", "langer")),
        *(
            ("privo", "di"),
            ("priva", "di"),
            ("privi", "di"),
            ("non", "contiene"),
            ("non", "contengono"),
            ("instead", "of"),
        ),
    )
)
# They deny nothing: "not only garlic", "not from concentrate".
IDLE = (
    *(("not", "only"), ("not", "just"), ("not", "merely"), ("nicht", "nur"), ("niet", "alleen"), ("no", "solo")),
    *(("pas", "seulement"), ("non", "solo"), ("not", "from", "concentrate"), ("nicht", "aus", "konzentrat")),
    *(("niet", "uit", "concentraat"), ("pas", "a", "base", "de", "concentre"), ("non", "da", "concentrato")),
    *(("no", "a", "partir", "de", "concentrado"), ("nicht", "aus", "saftkonzentrat")),
)
# Behind another denial these only strengthen it: "sans aucun", "sin ning\u00fan".
STRENGTHENING = frozenset("aucun aucune ningun ninguna ni nessun nessuna nessuno".split())
# The Dutch "geen" is also a slip of "green" where what follows is spelt in English.
GREEN = "geen"
ENGLISH = frozenset(
    """tea teas coffee coffees onion onions grape grapes bean beans lipped apple apples pepper peppers clay algae leaf
    leaves mussel mussels chili chilli cabbage pea peas""".split()
)
# These deny what is said of a thing, not the thing: "never frozen garlic".
ADVERBS = frozenset("not never nicht nie niemals niet nooit jamais nunca".split())
# Said of how something was made, where the ending does not show it.
PROCESSED_ENGLISH = frozenset("frozen ground grown spun made burnt shaken sun-dried".split())
PROCESSED = frozenset(
    f"{stem}{ending}"
    for stems, endings in (
        ("congel irradi chauff blanchi raffin griff grill fum press tost", ("e", "ee", "es", "ees", "")),
        ("cuit frit blanchi torrefi", ("", "e", "s", "es", "ee")),
        ("congelad irradiad calentad blanquead refinad cocid frit tostad ahumad", ("o", "a", "os", "as")),
        ("congelat irradiat riscaldat sbiancat raffinat cott fritt tostat affumicat", ("o", "a", "i", "e")),
        ("bevroren verhit bestraald gebleekt gebakken geraffineerd gekookt gebrand", ("", "e")),
    )
    for stem in stems.split()
    for ending in endings
)
# What goes on behind such a word still belongs to the denial: "not sweetened with xylitol".
GOVERNING = frozenset("with by in on from mit met con avec aus durch von uit avec au aux de par da".split())
# Kinds of things that a denial speaks of: having denied them it has found what it denies.
KINDS = frozenset(
    """filler fillers preservative preservatives antioxidant antioxidants color colors colorant colorants sweetener
    sweeteners emulsifier emulsifiers stabilizer stabilizers thickener thickeners humectant humectants binder binders
    coating coatings lubricant lubricants additive additives zusatzstoff zusatzstoffe additifs aditivos seeds stems
    peels""".split()
)
LISTING = frozenset("such like namely wie comme como zoals come".split())
# "Garlic not added", "xylitol is not used", "ajo no incluido".
ABSENT = frozenset(
    """added included present contained used detected detectable found enthalten zugesetzt verwendet vorhanden
    nachweisbar toegevoegd aanwezig gebruikt ajoute ajoutee contenu contenue utilise utilisee presente detecte anadido
    anadida incluido incluida contenido agregado aggiunto aggiunta contenuto incluso""".split()
)
AUXILIARY = frozenset("is are was were been be has have wird werden wurde wurden ist sind est sont es son ne".split())
# "Xylitol: none".
NOTHING = frozenset(
    "none nil keine keines keiner kein aucun aucune ninguno ninguna nessuno nessuna geen no non".split()
)
# "Non" before anything else denies one word only: "non-dairy creamer with xylitol".
PREFIX = "non"
FREE_AFTER = frozenset(("free", "frei", "freie", "freies", "freier", "vrij", "fri", "frie"))
# "Glucosamine free base", "EPA (free fatty acid)" and "vitamins, free from ..." say nothing against the word before.
NOT_FREE_OF_IT = frozenset("base acid acids fatty form forms amino flowing range from of von van".split())
NEGATING_WORDS = (
    SINGLE
    | FREE_AFTER
    | {PREFIX, "privo", "priva", "privi", "none", "nil", "absence", "ausencia", "assenza", "carece", "carecen"}
    | {"libre", "libres", "exento", "exenta", "exempt", "depourvu", "desprovisto"}
)
# A phrase without any of these denies nothing.
BEGINNINGS = SINGLE | {first for first, _second in PAIRS} | {PREFIX, "none", "nil"}

AND = frozenset("and und et en y e i".split())
OR = frozenset("or nor oder noch ou ni ne o u".split())
# The Dutch "or" is an English word too: it joins behind a Dutch denial only.
DUTCH, DUTCH_OR = frozenset("geen zonder niet nooit vrij".split()), "of"
JOINING = AND | OR
# Words between a negation and what it negates that name nothing: "no added artificial ...", "sans ajout de ...".
TRANSPARENT = frozenset(
    """added add additional artificial artificially real any of from the a an such like kind kinds type types form
    forms source sources trace traces amount amounts ingredient ingredients additive additives harmful toxic
    dangerous hidden zusatz zusatze zugesetzt zugesetzte zugesetzter zugesetzten zugesetztes von der die das dem
    den irgendwelche kunstliche kunstlichen ajout ajoute ajoutes ajoutee de du des la le les d l artificiel
    artificiels anadido anadidos anadida adicion artificiales el los las di del della aggiunto aggiunta aggiunti
    aggiunte jegliche jegliches jeglicher jeglichen jeglichem irgendein irgendeine irgendeinen enig enige toevoeging
    adicional
    moindre quelconque alguno alguna contain contains
    containing contained include includes including enthalten enthalt contient contenir contiene contienen
    contener bevat bevatten toegevoegd toegevoegde use used uses does do is are""".split()
)
# What is denied of the way something was made, not of what is in it: "no GMO xylitol", "ohne Gentechnik".
CLAIMED = frozenset("gmo gmos gm gvo ogm gentechnik".split())
# What labels say that a product is free of and that is no ingredient; any other unknown word before "free" is a word
# that was not understood ("suggar free").
FREE_CLAIMS = CLAIMED | frozenset(
    """antibiotic antibiotics hormone hormones steroid steroids cruelty cage chemical chemicals pesticide pesticides
    herbicide herbicides allergen allergens guilt mess stress pain odor odour antibiotika hormon hormone steroid
    pestizid pestizide schadstoff allergene tierversuchs antibiotica hormoon""".split()
)
CONTAINING = frozenset(
    """contain contains contained containing contient contiennent contenir contiene contienen contengono contener
    enthalt enthalten bevat bevatten""".split()
)
LINKING = CONTAINING | frozenset("from of any the".split())
# Words that stand before "not" in a statement: "does not contain", "ne contient pas".
LEADING = frozenset("does do ne this".split())
# Words that begin a new statement once something has been negated: "no sugar, but with ...", "ohne Zucker, mit ...".
REOPENING = frozenset(
    """but with contains contain containing contained made sweetened flavored coated enriched fortified only just
    instead uses using added plus has includes include including aber mit enthalt gesusst aromatisiert sondern
    dafur mais avec contient edulcore pero con contiene edulcorado endulzado sino ma maar met bevat""".split()
)
