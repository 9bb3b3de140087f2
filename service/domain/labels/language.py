"""Guesses the language of a label by words that only one language prints; silent where none or several speak."""

from __future__ import annotations

from service.domain.labels.plain_text import plain_text
from service.domain.labels.tokens import tokenise

# Words that English or another of these languages prints as well ("per", "sin", "con", "die") are left out.
_WORDS = {
    "de": frozenset(
        """je pro zusatze zusatzstoffe inhalt und ohne tabletten kautabletten fur hunde enthalt zutaten nettogewicht mit
        zusammensetzung analytische bestandteile futterungsempfehlung rohprotein rohasche rohfaser feuchtigkeit taglich
        messloffel davon aus der das erganzungsfuttermittel glucosaminhydrochlorid grunlippmuschel grunlippmuschelpulver
        glucosamin chondroitinsulfat teufelskralle fischol lachsol ernahrungsphysiologische korpergewicht kapseln
        tagesdosis entspricht hochstens mindestens""".split()
    ),
    "fr": frozenset(
        """par comprime comprimes chiens chien sans avec constituants analytiques additifs proteine brutes
        cendres humidite
        gelule gelules contenu poids jour dont chlorhydrate huile aliment complementaire moules chondroitine vitamine
        quantite nette mode emploi""".split()
    ),
    "es": frozenset(
        """por comprimido comprimidos perros perro componentes analiticos aditivos ingredientes proteina
        humedad capsulas
        contenido dia clorhidrato aceite pienso complementario compuestos oligoelementos quelato cenizas glucosamina
        condroitina sulfato vitamina cada peso neto""".split()
    ),
    "it": frozenset(
        """compressa compresse cani componenti analitici additivi ingredienti umidita olio solfato vitamina
        cloridrato""".split()
    ),
    "nl": frozenset(
        "honden hond zonder voor analytische bestanddelen toevoegingsmiddelen vocht tabletten en van".split()
    ),
}
_MOST_WORDS = 600
_LEAST_LEAD = 1


def language_of(text: str) -> str | None:
    """Guess the language of a label.

    Parameters
    ----------
    text
        The label.

    Returns
    -------
    str or None
        ``de``, ``es``, ``fr``, ``it`` or ``nl`` where words of one of them clearly prevail; ``None`` otherwise. English
        is never guessed: its labels print decimal points and grouping commas, which is also what no language says.
    """
    words = [token.fold for token in tokenise(plain_text(text[:8000])) if token.kind == "word"][:_MOST_WORDS]
    counts = sorted(
        ((sum(word in known for word in words), language) for language, known in _WORDS.items()), reverse=True
    )
    (best, language), (second, _) = counts[0], counts[1]
    return language if best >= 2 and best - second >= _LEAST_LEAD and best * 8 >= len(words) else None
