"""The words with which labels say that something is not in it: one vocabulary for a phrase and for a list."""

from __future__ import annotations

SINGLE = frozenset(
    """no not without zero nor never neither exclude excludes excluding omit omits devoid doesnt dont sans sin ohne
    senza sem zonder geen kein keine keinen keiner keinerlei weder pas ni aucun aucune bez utan uden ilman nicht
    ningun ninguna""".split()
)
PAIRS = frozenset(
    (
        *(("free", "from"), ("free", "of"), ("frei", "von"), ("vrij", "van"), ("fri", "for")),
        *(("libre", "de"), ("libres", "de"), ("exempt", "de"), ("exempts", "de"), ("exempte", "de")),
        *(("exento", "de"), ("exenta", "de"), ("depourvu", "de"), ("isento", "de"), ("isenta", "de")),
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
# "Non" before anything else denies one word only: "non-dairy creamer with xylitol".
PREFIX = "non"
FREE_AFTER = frozenset(("free", "frei", "freie", "freies", "freier", "vrij", "fri", "frie"))
# "Glucosamine free base", "EPA (free fatty acid)" and "vitamins, free from ..." say nothing against the word before.
NOT_FREE_OF_IT = frozenset("base acid acids fatty form forms amino flowing range from of von van".split())
NEGATING_WORDS = SINGLE | FREE_AFTER | {PREFIX, "privo", "priva", "privi"}
# A phrase without any of these denies nothing.
BEGINNINGS = SINGLE | {first for first, _second in PAIRS} | {PREFIX}

AND = frozenset("and und et en y e i".split())
OR = frozenset("or nor oder noch ou ni ne o u".split())
JOINING = AND | OR
# Words between a negation and what it negates that name nothing: "no added artificial ...", "sans ajout de ...".
TRANSPARENT = frozenset(
    """added add additional artificial artificially real any of from the a an such like kind kinds type types form
    forms source sources trace traces amount amounts ingredient ingredients additive additives harmful toxic
    dangerous hidden zusatz zusatze zugesetzt zugesetzte zugesetzter zugesetzten zugesetztes von der die das dem
    den irgendwelche kunstliche kunstlichen ajout ajoute ajoutes ajoutee de du des la le les d l artificiel
    artificiels anadido anadidos anadida adicion artificiales el los las di del della aggiunto contain contains
    containing contained include includes including enthalten enthalt contient contenir contiene contienen
    contener bevat bevatten toegevoegd toegevoegde use used uses does do is are""".split()
)
# What is denied of the way something was made, not of what is in it: "no GMO xylitol", "ohne Gentechnik".
CLAIMED = frozenset("gmo gmos gm gvo ogm gentechnik".split())
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
