"""What a new part's files say beside the records, in the depot's language: what is wanted where, and the headings."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.records.depot import Language


@dataclass(frozen=True, slots=True, kw_only=True)
class Comments:
    """Each is a comment without its `#`, or an example's text; keys and the values of closed sets stay as records have them."""

    replace: str
    other_names: str
    purpose: str
    symptoms: str
    stops: str
    """With {request} and {stops}."""
    number_kind: str
    one_of: str
    place: str
    per_vehicle: str
    safety_role: str
    makers: str
    orientation: str
    without_these: str
    fire_reason: str
    checks: str
    """In place of checks where nothing is proposed."""
    proposed: str
    """Over checks that the model proposes; with {tolerance}."""
    proposed_count: str
    """With {count}."""
    wall: str
    """With {nominal}."""
    up: str
    ordered: tuple[tuple[str, str], ...]
    """What a purchaser states of a good piece: key with an example, and what is wanted."""
    proposed_names: Mapping[str, str]
    """By kind of feature; with {size}."""
    by_hand: str
    buy_at: str
    buy_where: str
    measured: str
    """With {request}."""
    feature: str
    """With {size}."""
    route: str
    events: tuple[str, ...]
    screening: tuple[str, ...]
    identical_reason: str
    happens: str
    likewise: tuple[str, str]
    regulation: str
    proposer: str
    own_answers: str
    fitting: str
    revision: str
    fleet: str
    vehicles: str
    material: str
    because: str
    on_shelf: str
    list_says: str
    """With {sizes}."""
    list_besides: str
    """With {said}."""
    model_measures: str
    """With {size}."""
    only_add: str
    letter_title: str
    """Of the letter that is taken over from a list."""

    def choice(self, choices: Iterable[str]) -> str:
        listed = ", ".join(choices)
        return f"{self.one_of}: {listed}" if listed else ""


_EN = Comments(
    replace="Replace every TODO. `spares check` lists what is still open, with its line.",
    other_names="what the fitters call it, another name",
    purpose="what it does on the vehicle, in a sentence",
    symptoms="how the old part fails, as a fitter says it",
    stops="how the old part fails; {request} says what stops without it: {stops}",
    number_kind="or maker's number, drawing number, stores number",
    one_of="one of",
    place="a place of that fleet, see fleets.yml",
    per_vehicle="how many there are on one vehicle",
    safety_role="none, or safety if it carries or affects a safety function",
    makers="who can print it, such as [bench]; see makers.yml",
    orientation="how it stands on the plate, such as flat, hook side up",
    without_these="Without these two the verdict stays 'Do not fit' or a wrong size is not noticed:",
    fire_reason="why this set, for this place",
    checks="what the part lives by, each with name, nominal_mm, plus_mm, minus_mm and feature",
    proposed="Proposed from the model, with the tolerance of {tolerance}: keep what the part lives by, with its own limits",
    proposed_count="{count} on the model",
    wall="half of the usual wall of the model, {nominal} mm: what is no thicker is then solid",
    up="the best pose by the geometry alone",
    ordered=(
        ("surface_texture: as printed", "the surface you order; or a parameter with its unit, such as Ra 12.5 µm"),
        ("repair: none", "which repair of a piece is permitted"),
        ("acceptable_imperfections: layer lines; no gap between walls", "what a good piece may have"),
    ),
    proposed_names={
        "square": "Square {size}",
        "flats": "Across the flats {size}",
        "thread": "Thread, over the crests {size}",
        "bore": "Hole {size}",
        "screw-hole": "Screw hole {size}",
        "d-bore": "D bore {size}",
        "slot": "Slot, width {size}",
        "outside": "Outside {size}",
    },
    by_hand="by hand: length, width, height",
    buy_at="central stores, 40.1187",
    buy_where="where one gets it, and under which number",
    measured="As measured on the old part, see {request}. Say what each is, such as bore, length, thickness; or take it out:",
    feature="Measured on the old part {size} mm",
    route="customer, or authority: a part with a safety role goes to the authority",
    events=(
        "What happened, oldest first. Only add at the end, best with `spares record` and `spares approve`:",
        "stage, waiting time and verdict are worked out from it.",
    ),
    screening=(
        "Screening of the change, an aid only: what people answered, each with role and day. Whether the change is significant",
        "is judged by the entity that manages it, never by this catalogue. Until all is answered and judged: Ask first.",
    ),
    identical_reason="turns the same latch by the same angle",
    happens="what happens",
    likewise=("likewise novelty (b), complexity (c),", "monitoring (d), reversibility (e), additionality (f)"),
    regulation="Regulation",
    proposer='the proposer\'s own judgement; "yes" needs a safety assessment report',
    own_answers="Where 'law' in depot.yml asks questions of its own, they are answered under own_answers, each by its id.",
    fitting="Fitting",
    revision="the letter on the label and the drawing",
    fleet="as in fleets.yml",
    vehicles='such as ["401-412"]; take the line out where it fits every vehicle of the fleet',
    material="as in materials/",
    because="bought, drawing only or scan to come",
    on_shelf="how many lie there",
    list_says="The list says: {sizes}.",
    list_besides="In the list besides: {said}",
    model_measures="The model measures {size} mm as modelled.",
    only_add="What happened, oldest first. Only add at the end, best with `spares record` and `spares take-over`.",
    letter_title="Approval letter",
)
_DE = Comments(
    replace="Jedes TODO ersetzen. `spares check` nennt, was noch offen ist, mit der Zeile.",
    other_names="wie die Monteure es nennen, ein weiterer Name",
    purpose="was es am Fahrzeug tut, in einem Satz",
    symptoms="wie das alte Teil versagt, in den Worten eines Monteurs",
    stops="wie das alte Teil versagt; {request} sagt, was ohne das Teil steht: {stops}",
    number_kind="oder maker's number, drawing number, stores number",
    one_of="eines von",
    place="ein Einbauort dieser Baureihe, siehe fleets.yml",
    per_vehicle="wie viele an einem Fahrzeug sind",
    safety_role="none, oder safety, wenn es eine Sicherheitsfunktion trägt oder beeinflusst",
    makers="wer es drucken kann, etwa [bench]; siehe makers.yml",
    orientation="wie es auf der Druckplatte steht, etwa flach, Haken nach oben",
    without_these="Ohne diese beiden bleibt es bei 'Gesperrt', oder ein falsches Maß fällt nicht auf:",
    fire_reason="warum dieser Satz, an diesem Einbauort",
    checks="wovon das Teil lebt, je mit name, nominal_mm, plus_mm, minus_mm und feature",
    proposed="Aus dem Modell vorgeschlagen, mit der Toleranz von {tolerance}: behalten, wovon das Teil lebt, mit eigenen Grenzen",
    proposed_count="{count} am Modell",
    wall="die Hälfte der üblichen Wand des Modells, {nominal} mm: was nicht dicker ist, wird dann voll",
    up="die beste Lage allein nach der Form",
    ordered=(
        ("surface_texture: wie gedruckt", "welche Oberfläche bestellt wird; oder Kenngröße mit Einheit, etwa Ra 12.5 µm"),
        ("repair: keine", "welche Ausbesserung eines Stücks erlaubt ist"),
        ("acceptable_imperfections: Schichtlinien; kein Spalt zwischen Wänden", "was ein gutes Stück haben darf"),
    ),
    proposed_names={
        "square": "Vierkant {size}",
        "flats": "Schlüsselweite {size}",
        "thread": "Gewinde, über die Spitzen {size}",
        "bore": "Bohrung {size}",
        "screw-hole": "Schraubenloch {size}",
        "d-bore": "D-Bohrung {size}",
        "slot": "Langloch, Breite {size}",
        "outside": "Außen {size}",
    },
    by_hand="von Hand: Länge, Breite, Höhe",
    buy_at="Zentrallager, 40.1187",
    buy_where="wo man es bekommt, und unter welcher Nummer",
    measured="Am alten Teil gemessen, siehe {request}. Sagen, was jedes ist, etwa bore, length, thickness; oder es herausnehmen:",
    feature="Am alten Teil gemessen {size} mm",
    route="customer, oder authority: ein Teil mit Sicherheitsfunktion geht an die Behörde",
    events=(
        "Was geschah, das Älteste zuerst. Nur am Ende anfügen, am besten mit `spares record` und `spares approve`:",
        "Stand, Wartezeit und Urteil ergeben sich daraus.",
    ),
    screening=(
        "Vorprüfung der Änderung, nur eine Hilfe: was Leute geantwortet haben, je mit Rolle und Tag. Ob die Änderung signifikant ist,",
        "beurteilt, wer sie verantwortet, nie dieser Katalog. Bis alles beantwortet und beurteilt ist: Erst fragen.",
    ),
    identical_reason="dreht denselben Riegel um denselben Winkel",
    happens="was geschieht",
    likewise=("ebenso novelty (b), complexity (c),", "monitoring (d), reversibility (e), additionality (f)"),
    regulation="Verordnung",
    proposer='das eigene Urteil des Vorschlagenden; "yes" verlangt einen Sicherheitsbewertungsbericht',
    own_answers="Stellt 'law' in depot.yml eigene Fragen, stehen die Antworten unter own_answers, jede unter ihrer id.",
    fitting="Einbau von",
    revision="der Buchstabe auf Etikett und Zeichnung",
    fleet="wie in fleets.yml",
    vehicles='etwa ["401-412"]; die Zeile herausnehmen, wo es an jedes Fahrzeug der Baureihe passt',
    material="wie in materials/",
    because="bought, drawing only oder scan to come",
    on_shelf="wie viele dort liegen",
    list_says="Die Liste sagt: {sizes}.",
    list_besides="Außerdem in der Liste: {said}",
    model_measures="Das Modell misst {size} mm, wie es konstruiert ist.",
    only_add="Was geschah, das Älteste zuerst. Nur am Ende anfügen, am besten mit `spares record` und `spares take-over`.",
    letter_title="Freigabeschreiben",
)
_DA = Comments(
    replace="Erstat hvert TODO. `spares check` nævner, hvad der stadig er åbent, med linjen.",
    other_names="hvad montørerne kalder den, et andet navn",
    purpose="hvad den gør på køretøjet, i én sætning",
    symptoms="hvordan den gamle del svigter, som en montør siger det",
    stops="hvordan den gamle del svigter; {request} siger, hvad der står stille uden den: {stops}",
    number_kind="eller maker's number, drawing number, stores number",
    one_of="en af",
    place="et sted på den serie, se fleets.yml",
    per_vehicle="hvor mange der er på ét køretøj",
    safety_role="none, eller safety, hvis den bærer eller påvirker en sikkerhedsfunktion",
    makers="hvem der kan printe den, f.eks. [bench]; se makers.yml",
    orientation="hvordan den står på pladen, f.eks. fladt, med krogen opad",
    without_these="Uden disse to forbliver svaret 'Forbudt', eller et forkert mål opdages ikke:",
    fire_reason="hvorfor dette sæt, på dette sted",
    checks="det, delen lever af, hvert med name, nominal_mm, plus_mm, minus_mm og feature",
    proposed="Foreslået ud fra modellen, med tolerancen fra {tolerance}: behold det, delen lever af, med egne grænser",
    proposed_count="{count} på modellen",
    wall="halvdelen af modellens sædvanlige væg, {nominal} mm: hvad der ikke er tykkere, bliver så massivt",
    up="den bedste stilling alene efter formen",
    ordered=(
        ("surface_texture: som printet", "hvilken overflade der bestilles; eller parameter med enhed, f.eks. Ra 12.5 µm"),
        ("repair: ingen", "hvilken udbedring af et stykke der er tilladt"),
        ("acceptable_imperfections: laglinjer; intet gab mellem vægge", "hvad et godt stykke må have"),
    ),
    proposed_names={
        "square": "Firkant {size}",
        "flats": "Nøglevidde {size}",
        "thread": "Gevind, over toppene {size}",
        "bore": "Hul {size}",
        "screw-hole": "Skruehul {size}",
        "d-bore": "D-hul {size}",
        "slot": "Aflangt hul, bredde {size}",
        "outside": "Udvendig {size}",
    },
    by_hand="i hånden: længde, bredde, højde",
    buy_at="centrallageret, 40.1187",
    buy_where="hvor man får den, og under hvilket nummer",
    measured="Målt på den gamle del, se {request}. Sig, hvad hvert er, f.eks. bore, length, thickness; eller tag det ud:",
    feature="Målt på den gamle del {size} mm",
    route="customer, eller authority: en del med sikkerhedsrolle går til myndigheden",
    events=(
        "Hvad der skete, det ældste først. Føj kun til sidst, helst med `spares record` og `spares approve`:",
        "trin, ventetid og svar regnes ud af det.",
    ),
    screening=(
        "Screening af ændringen, kun en hjælp: hvad folk svarede, hver med rolle og dag. Om ændringen er signifikant,",
        "vurderer den, der har ansvaret for den, aldrig dette katalog. Indtil alt er besvaret og vurderet: Spørg først.",
    ),
    identical_reason="drejer den samme rigel den samme vinkel",
    happens="hvad der sker",
    likewise=("ligeså novelty (b), complexity (c),", "monitoring (d), reversibility (e), additionality (f)"),
    regulation="Forordning",
    proposer='forslagsstillerens egen vurdering; "yes" kræver en sikkerhedsvurderingsrapport',
    own_answers="Stiller 'law' i depot.yml egne spørgsmål, besvares de under own_answers, hvert ved sin id.",
    fitting="Montering af",
    revision="bogstavet på etiketten og tegningen",
    fleet="som i fleets.yml",
    vehicles='f.eks. ["401-412"]; tag linjen ud, hvor den passer på hvert køretøj i serien',
    material="som i materials/",
    because="bought, drawing only eller scan to come",
    on_shelf="hvor mange der ligger der",
    list_says="Listen siger: {sizes}.",
    list_besides="Desuden i listen: {said}",
    model_measures="Modellen måler {size} mm, som den er konstrueret.",
    only_add="Hvad der skete, det ældste først. Føj kun til sidst, helst med `spares record` og `spares take-over`.",
    letter_title="Godkendelsesbrev",
)
_ALL = {Language.ENGLISH: _EN, Language.GERMAN: _DE, Language.DANISH: _DA}


def comments(language: Language = Language.ENGLISH) -> Comments:
    return _ALL[language]
