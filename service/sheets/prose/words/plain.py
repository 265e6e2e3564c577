"""The closed vocabulary of a plain demand: words that change nothing about a value that stands between them.

Folded stems, English, German and French: what any demand on a file may say, and what one on a block of the sheet says besides.
A word that is not here may narrow the demand, or make it one on something else: whoever reads it does not know.
"""

from __future__ import annotations

import re
from functools import lru_cache

from service.sheets.prose.words.vocabulary import french, german

_ANY = (
    # English
    r"the|an|any|all|each|every|both|this|that|these|it|its|they|them|their|you|your|yours|we|our|us|which|is|are|be|been"
    r"|being|has"
    r"|have|having|must|should|shall|need|needs|needed|requir\w*|please|only|always|never|ensure|sure|make|made|making"
    r"|necessary"
    r"|essential|mandatory|important|strictly|use|used|using|set|setup|up|creat(?:e|ed|ing)|suppl(?:y|ied|ying)|submit\w*"
    r"|send|sent"
    r"|sending|provid\w*|deliver\w*|prepar\w*|design\w*|sav(?:e|ed|ing)|export\w*|includ\w*|add|added|adding|plac(?:e|ed|ing)"
    r"|keep"
    r"|kept|leave|allow|contain\w*|convert\w*|built|build|accept|accepted|check|of|in|on|at|to|for|from|by|with|within|into|as"
    r"|and|or|plus|per|than|so|also|then|no|not|do|don|without|avoid|minimum|min|least|maximum|max|more|less|greater|higher"
    r"|lower"
    r"|over|below|files?|pdfs?|documents?|artworks?|art|data|layouts?|print|prints|printed|printing|press|printer|ready|final"
    r"|finished|formats?|pages?|sizes?|sized|quality|high|hi|res|low|full|standard|mode|elements?|objects?|content|contents"
    r"|images?"
    r"|pictures?|photos?|photographs?|graphics?|logos?|text|texts|type|fonts?|colou?rs?|resolution|dpi|ppi|cmyk|bleeds?|mm|cm"
    r"|inch"
    r"|inches|pts?|points?|percent|scale|actual|recommend\w*|prefer\w*|suggest\w*|ideal\w*|optim\w*|best|better|results?"
    r"|correct"
    r"|correctly|proper|properly|adobe|indesign|illustrator|photoshop|application|software|professional\w*|customers?"
    r"|clients?|specified|request\w*|ask|before|prior|such|but|strongly|entire|whole|individual|ads?|adverts?"
    r"|advertisements?|advertising|magazine|publication|products?|items?|cards?|removed?|allowed|permitted|acceptable"
    r"|additional|accura\w*"
    r"|consisten\w*|clarity|sharp\w*|crisp|working|works|start\w*|edit|receive|output|upload\w*|anywhere|note|anywhere|note"
    r"|everything|anything|nothing|none|either|welcome|can|cannot|may|two|three|four|one|first|out|off|up|under|above|between"
    r"|takes?|taken|get|gets|come|there|yourself|rejected|refused?|reproduction|target|throughout|effective|stay|go|like|stuff"
    r"|given|gives?|offered|available|possible|follow\w*|according|accordance|settings?|options?|select\w*|choose|cho[so]\w+|appl(?:y|ies|ied)|option|via|through|during"
    r"|guides?|guidelines?|specs?|specifications?|instructions?|terms|jobs?|orders?|projects?|pieces?|submissions?|works?"
    r"|vital|crucial|critical|imperative|compulsory|obligatory|advis\w+|appropriate|suitable|sufficient|enough|good|great|same"
    r"|produc(?:e|ed|ing)|generat\w*|mak(?:es|ing)|made|ha(?:d|ving)|am|been|let|must|ought|kindly|always|who|whose|what|how"
    r"|attach\w*|compos\w*|assign\w*|defin\w*|ensur\w*|guarantee\w*|assur\w*|verif\w*|double-?check\w*|look|looks"
    r"|appear\w*|show|shown|visible|present|remain|stays?|sits?|fall|lies?|runs?|comes?|held|hold|store|stored"
    r"|inside|wherever|everywhere|here|now|just|very|too|well|still|even|already|again|yet|however|therefore|thus|hence|thank\w*"
    r"|themselves|itself|ourselves|five|six|eight|ten|zero|single|whole|complete|exact|own|mind|remember|fail\w*|reason"
    r"|images?|imagery|photo|photographic|pictures?|illustrations?|graphical|artworks?|pdfs?|media|printable"
    r"|(?!(?:usual|general|normal|typical|common|most|rare|occasional|possib|potential|probab|especial|particular|specific"
    r"|partial|part|near|previous|original|initial|separate|individual|manual|automatical|digital|alternative|exclusive"
    r"|approximate|rough|app|supp|fami|assemb|reply|f|on|ear|late|temporari|double|sing)ly\b)[a-z]{2,12}[a-z]ly"
    r"|fine|exactly|most|belongs?|rather|spaces?|embed\w*|outlined|crop|marks?|included"
    # German
    r"|der|die|das|den|dem|des|ein\w{0,2}|alle\w?|jede\w?|ihr\w{0,2}|sie|wir|unser\w{0,2}|uns|es|dies\w{0,2}|ist|sind|sein"
    r"|haben|hat"
    r"|werden|muss|mussen|sollte\w?|sollen?|bitte|nur|immer|unbedingt|mindestens|mind|wenigstens|maximal|notig|notwendig"
    r"|erforderlich|zwingend|ausschlie(?:ss|ß)lich|grundsatzlich|generell|und|oder|sowie|als|auch|mit|ohne|im|am|auf|aus|von"
    r"|vom|zu"
    r"|zum|zur|fur|nach|nicht|kein\w{0,2}|verwend\w*|nutzen|benotig\w*|anlegen|angelegt\w*|anzulegen|legen|erstell\w*|liefern"
    r"|geliefert|angeliefert|anliefern|speichern|gespeichert|abspeichern|betragen|betragt|beinhalten|enthalten|platzier\w*"
    r"|achten"
    r"|beachten|stellen|sicher|senden|angeben|empf[eio]\w*hl\w*|idealerweise|moglichst|vorzugsweise|datei\w*|daten|druckdat\w*"
    r"|druck|dokument\w*|layout\w*|vorlagen?|formate?|endformat\w*|seiten?|bild|bilder\w*|fotos?|grafik\w*|texte?n?|schrift\w*"
    r"|farben?|elemente?n?|objekte?n?|inhalte?n?|logos?|auflosung\w*|qualitat|gro(?:ss|ß)e\w?|originalgro\w+|anzeigen?|soll"
    r"|fertig\w{0,2}|druckfertig\w*|arbeiten|arbeitet|ubermitteln|zugesendet|geeignet\w*|besten?|bestenfalls|deine?"
    r"|du|legst|jeweils|pro|konvertiert|bzw|innerhalb|statt|gilt|karten?|statt|gilt|karten?|vorher|umwandeln|wandeln"
    r"|umgewandelt\w*|aber|weniger|genau|akzeptiert\w*|angenommen|eingebettet\w*|einbetten|embedded|interior|bevorzug\w*"
    r"|nehmen|druckunterlagen|besser|noch|drucken|lassen|halten|setzen|liegen|stehen"
    r"|bleiben|durfen|darf|vermeiden|unter|uber|zwischen|wie|dass|hochstens|moglich|zwei|um"
    # French
    r"|le|la|les|un|une|du|de|aux?|en|dans|sur|par|pour|avec|et|ou|tous|tout|toutes?|vos|votre|nos|notre|vous|nous|il|ils|est"
    r"|sont"
    r"|etre|soit|soient|doi\w*|devez|faut|veuillez|merci|toujours|uniquement|seulement|moins|ne|pas|sans|obligatoire\w*"
    r"|imperati\w*|necessaire\w*|fichiers?|documents?|maquettes?|visuels?|textes?|polices?|couleurs?|fourni\w*|fournir"
    r"|utilis\w*"
    r"|prevo\w*|ajout\w*|cree\w*|creer|enregistr\w*|converti\w*|plac(?:e[rz]?|es|ees)|laisse[rz]?|garde[rz]?|respecte[rz]?"
    r"|qualite"
    r"|haute|impression|imprime\w*|souhait\w*|conseill\w*|preconis\w*|travaill\w*|final\w*|finis?|presente?s?|inclu\w*"
    r"|adapte\w*|comporter|ainsi|graphiques?|illustrations?|carte|illustrations?|carte|ni|que|ce|se|veillez|evite[rz]|trouver"
    r"|avoir|faire|demandons|acceptons|accepte\w*|seul|deux|rien|aucune?|partir|dessous"
    r"|minimale?s?|definition|puis|jamais|non|fonds|envoye[rz]|mais|moins|perdus?|traits?|coupe|incorpore\w*|integre\w*"
    r"|vectorise\w*|entre|definition"
)
_OF: dict[str, str] = {
    "bleed": (
        r"bleeding|edges?|trim\w*|cut|cutting|sides?|around|round|beyond|past|extend\w*|extra|additional|backgrounds?|outside"
        r"|outer|line"
        r"|lines|top|bottom|left|right|amount|areas?|along|larger|runs?|off|anschnitt\w*|beschnitt\w*|rundum|rundherum"
        r"|umlaufend\w*"
        r"|rand\w*|kanten?|schnitt\w*|zugabe|uberfull\w*|hintergr\w*|abfallend\w*|allseitig\w*|hinaus\w*|uber|fonds?|perdus?"
        r"|bords?"
        r"|debord\w*|coupe|rogn\w*|cotes?|autour|chaque|quatre|four|allowance|between|most"
    ),
    "margin": (
        r"free|bleeding|cropp\w*|addresses|phone|telephone|numbers?|figures|words?|wordings?|headings?|headlines?|titles?|captions?|prices?|dates?|details"
        r"|folios?|signs?|signatures?|faces?|heads?|people|read|meaning|contact|company|key|main|major|principal|significant|valuable"
        r"|essential|crucial|relevant|vital|planned|intended|physical|perimeter|boundary|borders?|frame|guillotined?|knife|blades?"
        r"|cutters?|guides?|creas\w*|score|scored|die|dies|dielines?|shape|shapes|sheets?|labels?|paper|stickers?|card|ring|circle"
        r"|buffer|gap|room|blank|unprinted|white|minimum|extra|further|back|well|never|not|nothing|anything|beyond|outside|locat\w*"
        r"|position\w*|far|farther|closest|nearest|reach\w*|touch\w*|extend\w*|exten[ds]\w*|cropped|trimmed|guideline|guidelines"
        r"|dotted|dashed|red|green|blue|pink|corner|corners|backgrounds?|non|typographic|visual|portion|body|copy|zone|internal|amount"
        r"|left|right|top|bottom|and|all|design|important|printed|run|running|height|width|indent\w*|inset|inwards?|placement|piece"
        r"|minimal|matter|measured|visible|readable|legib\w*|branding|brand|bar|codes?|qr|barcodes?|"
        r"safe\w*|margins?|zones?|areas?|edges?|trim\w*|cut|cutting|lines?|inside|inner|away|close\w*|critical|vital"
        r"|information|live"
        r"|quiet|clear\w*|distance|sides?|around|borders?|near\w*|wording|sicher\w*|abstand\w*|mindestabstand|rand\w*|kanten?"
        r"|wichtig\w*|innen|entfernt|schnitt\w*|marges?|securite|bords?|interieur|distance|coupe|rogn\w*|importants?|blanche"
        r"|autour|cotes?|printable|target|rounded|keeping|intended|put|outer|copy|etc|endformates|minimale|recommandee?"
        r"|minimale|recommandee?|sit|matter|lettering|names?|eloigne\w*|interieure?|trait|tranquille|naher|weg|frei"
        r"|formatrand|innenabstand"
        r"|gesetzt|quarter|positioned|space|rather|empty"
    ),
    "color": (
        r"patterned|multi-?channel|duotones?|hexachrome|hex|websafe|web|palettes?|settings?|converted|conversion|process|pantones?|cmky"
        r"|blacks?|greys?|grays?|solid|reproduc\w*|mixed|separations?|plates?|inks?|machine|building|swatches|artworks?|lab|cie\w*"
        r"|photographs?|elements?|bitmaps?|vectors?|work|combination|representation|values?|breakdowns?|build|builds|names?|named"
        r"|mono|monochrome|colored|coloured|screen|cyan|magenta|yellow|key|primary|libraries|library|other|custom|additional|type|defined"
        r"|available|set|code|codes|numbers?|equivalents?|percentages?|gamut|workspaces?|workflow|specifically|exclusively|"
        r"cmjn|cymk|rgb|rvb|process|four|full|colou?r\w*|spots?|pantones?|pms|gr[ae]yscale|inks?|spaces?|srgb|farb\w+|modus"
        r"|graustufen"
        r"|vierfarb\w*|sonderfarb\w*|schmuckfarb\w*|euroskala|kanal|channel|bits?|quadri\w*|niveaux?|gris|tons?|directs?|espace"
        r"|colorimetri\w*|coverage|total|gesamt\w*|flachendeckung|encrage|taux|black|cyan|magenta|yellow|rich|tints?|noir|riche"
        r"|jaune|schwarz|gelb|tiefschwarz|limit\w*|separat\w*|swatch\w*|schemes?|backgrounds?|palette|model\w*|indexed|lab"
        r"|profil\w*|fogra|iso|coated|euroscale|canal|raster|vector|composite"
        r"|scales?|icc|modell|farbmod\w*|bildmodus|extra|management|off|turned|insert|embed\w*|turned|insert|embed\w*"
        r"|changed?|special|tac|transparenc\w*|flachen|cmyk\w+|volltonfarben|addition|encres?|metallic|white"
    ),
    "file": (
        r"complian\w*|compli\w+|distill\w*|job|presets?|press|higher|later|newer|older|earlier|iso|certified|standardi[sz]ed|compatible"
        r"|portable|single|one|multi-?page|combined|preferably|encrypted|nor|level|lower|composited?|non|version|pre-?separated|"
        r"versions?|acrobat|compatib\w*|standards?|pdfx?|layers?|flatten\w*|transparen\w*|password\w*|secur\w*|protect\w*"
        r"|composite"
        r"|separat\w*|profiles?|icc|complian\w*|conform\w*|comply|corresponding|norms?|norme?|entsprech\w*|ebenen?|version\w*"
        r"|calques?"
        r"|passwort\w*|kennwort\w*|verschlussel\w*|aplati\w*|fusionn\w*|megabytes?|mb|gb|upload\w*|fonts?|embed\w*"
        r"|empfohlen\w*|distiller|druckoptimiert\w*|pre|merge\w*|reduzier\w*|vorsepar\w*|separe\w*|separier\w*|farbsepar\w*"
        r"|composites?|norm|distiller|druckoptimiert\w*|pre|norm|incorpor\w*|exige|remain|encrypt\w*|unencrypted|ordinary"
    ),
    "fonts": (
        r"embed\w*|outlin\w*|curv\w*|paths?|links?|linked|subset\w*|typefaces?|vector\w*|either|fully|shapes?|pfade?n?|kurven"
        r"|vektor\w*"
        r"|zeichenwege?|einbett\w*|eingebettet\w*|umwandel\w*|umgewandelt|umzuwandeln|wandeln|gewandelt\w*|konvertier\w*"
        r"|vectoris\w*"
        r"|incorpor\w*|inclu\w*|courbes?|trac\w*|integr\w*|teil|used"
    ),
    "images": (
        r"waste|exceeding|scans?|scanned|bit|depth|mode|pixels?|inch|linked|true|print|native|max\w*|resampled|upsampled|interpolated"
        r"|resized|enlarged|reduced|type|drawn|text|fine|compressed|quality|compression|"
        r"raster\w*|bitmaps?|line|lineart|lines?|drawings?|gr[ae]yscale|halftones?|effective|scanned|tiff?|jpe?gs?|eps|psd"
        r"|png|bits?"
        r"|monochrome|black|white|exceed\w*|strich\w*|graustufen\w*|halbton\w*|pixel\w*|trait|taille|reelle|minimale?"
        r"|photographies?"
        r"|illustrations?|or|mal|optimal\w*|betragen|embedded|placed|impression|embedded|placed|impression|work|linework"
        r"|traits?|dessins?|scans?"
    ),
    "lines": (
        r"single|colou?r|colou?red|one|vector|keylines?|strength|detail\w*|drawn|draw|reversing|point|minimum|bold|medium|hair|printing"
        r"|artwork|frames?|boxes|used|contours?|type|any|thinnest|smallest|visible|screened|rule|"
        r"lines?|rules?|strokes?|hairlines?|thickness|weights?|width|thick|thinner|thin|smaller|fine\w*|positive|negative"
        r"|reversed?|knock\w*"
        r"|linien?|linienstarke\w*|strich\w*|starke|dick\w*|dunn\w*|negativ\w*|positiv\w*|traits?|filets?|epaisseurs?"
        r"|inferieur\w*"
        r"|white|solid|black|white|solid|black|haarlinien?|hold|stark|thinnest|feinste|delicate|feine\w*|thin\w*"
        r"|mindestlinienstarke|reserve|larger"
    ),
    "text": (
        r"single|colou?r|one|ink|inks|set|setting|typeset|height|heights|point|bigger|bold|plain|regular|holds?|lettering|wording"
        r"|written|read\w*|legib\w*|letters?|characters?|numerals?|digits|fine|overprint\w*|typefaces?|faces?|printing|letterforms?"
        r"|anything|smallest|finest|under|below|only|positives?|reversed|out|colou?red|terms|disclaimers?|visible|"
        r"small\w*|smaller|reverse\w*|negative|positive|copy|lettering|body|knock\w*|black|white|sans|serif|bold|grad\w*"
        r"|punkt\w*"
        r"|negativ\w*|positiv\w*|klein\w*|corps|caracteres?|taille|noirs?|reserve|negatif|blanc|schwarz\w*|wei(?:ss|ß)\w*"
        r"|legib\w*|einfarbig"
        r"|alone|solid|out|mindestschrift\w*|lesbar\w*|dunkl\w*|dark|grund|rev|pos|minimal|inferieur\w*|tiny|larger|readable"
        r"|defonce|fond|light|background|backgrounds|gro(?:ss|ß)|hintergrund"
    ),
    "marks": (
        r"finish\w*|verzicht\w*|ausgeben|druckermarken|schneidezeichen|enabled?|slugs?|job|colou?r|yes|optional|visible|digital|turn(?:ed)?|off|on|press|passwords?|passwort|ja|oui|einzelseiten"
        r"|fold\w*|creas\w*|centre|center|trademark|labels?|away|edges?|line|lines|sides?|guides?|templates?|die|frames?|borders?"
        r"|information|swatches|control|strips?|stars?|targets?|gr[ae]y|step|wedges?|page|document|thin|hairlines?|black|inch|offset"
        r"|extend\w*|beyond|box|boxes|tick\w*|switch\w*|activat\w*|disabl\w*|unless|default|layers?|transparen\w*|flatten\w*|end|"
        r"crop\w*|trim\w*|marks?|printers|registration|bars?|cut|cutting|outside|offset|other|marken|schnittmark\w*|passer\w*"
        r"|passkreuz\w*"
        r"|passmark\w*|beschnitt\w*|schnitt\w*|falz\w*|druckmark\w*|traits?|coupe|reperes?|hirondelles?|croix|montage|around"
        r"|appl(?:y|ied)|positioned|areas?|versehen|incluez|remove"
    ),
    "pages": (
        r"steps|number|even|divided?|divisible|multiples|sheets|folded|stapled|stitched|inner|inside|sides?|sided|yes|consecutive"
        r"|pagination|paginated|order|ordered|readers?|printers?|facing|side|by|one|file|document|pdf|continuous|scroll\w*|layouts?"
        r"|separated|joined|adjacent|centred|centered|pairs?|separately|individually|upright|way|cover|covers|including|counting|total"
        r"|minimum|maximum|text|self|"
        r"single|singles|spreads?|multi\w*|multiple|reading|order|side|double|consecutive\w*|imposed|reader|one|individual"
        r"|sequen\w*"
        r"|einzelseiten?|einseitig\w*|doppelseiten?|fortlaufend\w*|mehrseitig\w*|montiert\w*|ausgeschossen\w*|ausschie\w*"
        r"|planches?|simples?"
        r"|doubles?|seule?|ordre|boxes|box|crop|trim|media|imposition|arranged|successively|separate|inside|time|sided|nombre"
        r"|multiples?|divisible|number|total|teilbar\w*|seitenzahl"
        r"|seitenanzahl|zahl|durch|vier|four|quatre|durch|vier|four|quatre|steps?|fours|umfang|vielfaches|extent|count|even"
        r"|pair|divides?|numerical|singly|individually|facing|vis"
        r"|separees|recto|verso|einzeln|druckb[oö]gen|bogen|brochures?|greyscale"
    ),
    "trim": (
        r"after|before|finished|upright|same|way|round|page|orientation|actual|trimmed|cut|size|format|inner|outer|overall|"
        r"trim\w*|net|dimensions?|portrait|landscape|width|height|wide|tall|closed|open|flat|hochformat|querformat|breite"
        r"|hohe|geschlossen\w*"
        r"|offen\w*|ouvert|ferme|largeur|hauteur|portrait|paysage|din|corners?|radius|measur\w*|cards?"
    ),
    "finishes": (
        r"cut|cutting|die|lines?|dielines?|layers?|spots?|separate\w*|named?|called|swatch\w*|strokes?|magenta|overprint\w*"
        r"|own|vector|path|kontur\w*|stanz\w*"
        r"|volltonfarb\w*|sonderfarb\w*|namen?|bezeichne\w*|ebenen?|uberdrucken|einer|decoupe|calques?|ton|direct|nomme\w*"
        r"|surimpression|varnish|foil"
        r"|white|lack|wei(?:ss|ß)\w*|vernis|dorure|lack|wei(?:ss|ß)\w*|vernis|dorure|draw|itself|vectors|cutter|vektor\w*"
        r"|stands?|creas\w*|folds?|perfor\w*|partiell\w*|trace|kiss|emboss\w*|rillung\w*|falz\w*|nut|pragung\w*|gaufrage"
        r"|refente|rainage|gestellt|inks?"
    ),
    "papers": r"inks?|most|taux|at|exceed\w*|uberschreiten|depasser|coated|uncoated|coverage|total|papers?|stocks?"
        r"|farbauftrag|gestrichen\w*|ungestrichen\w*|papiere?|encrage|couches?",
    "levels": r"forms?|fields?|champs?|formulaires?|commentaires?|lines?|linien|filets?|knock\w*|comments?|annotations?"
        r"|overprint\w*|uberdruck\w*|black|schwarz\w*|kommentare?|formularfelder|surimpression|noirs?",
    "transparency": r"transparen\w*|flatten\w*|live|layers?|reduzier\w*|reduziert|verflach\w*|aplati\w*|effects?|ebenen?",
}
_EDGES = (
    r"binding|bound|gutter|spine|inside|inner|outside|outer|head|top|foot|tail|bottom|fore|folds?|bund\w*|innen|aussen|außen"
    r"|heft\w*|oben|unten|kopf\w*"
    r"|fu(?:ss|ß)\w*|falz\w*|reliure|dos|fond|interieure?|exterieure?|tete|haut|pied|bas|gouttiere|from|ab|bis|pages?|seiten"
    r"|stege?"
)
_OF_KEYS: tuple[tuple[str, str, str], ...] = (
    (r"(?:margin|bleed)\.(?:binding|head|foot|outer|inner|by_pages)", "edge", _EDGES),
    (r"margin\.frame", "frame", r"borders?|frames?|thick\w*|dick|epais\w*|keylines?|stands?|rahmen|rander|umrandung\w*"
        r"|cadres?|bordures?|wide|breit|large"),
    (r"trim\.scales", "scale", r"scales?|drawn|ma(?:ss|ß)stab\w*|echelle"),
    (r"trim\.corner", "corner", r"corners?|radius|radii|rounded|round|ecken\w*|abgerundet\w*|radien|coins?|arrondis?|rayon"),
    (r"file\.screening", "screening", r"halftones?|screens?|screening|transfer|curves?|functions?|raster\w*|transferkurven"
        r"|trames?|courbes?|transfert"),
    (r"pages\.rot", "rotation", r"rotat\w*|turned|gedreht\w*|drehen|pivote\w*|tourne\w*"),
    (r"images\.jpeg", "jpeg", r"compress\w*|komprimier\w*|lossy|verlust\w*|pertes?"),
    (r"fonts\.formats", "formats", r"opentype|truetype|postscript|type|open|true"),
    (r"papers\.", "paper", r"gsm|weights?|pages?|seiten|grammage"),
)
"""What a demand on one key of a block says, and one on another key of it does not."""
_ALWAYS = re.compile("|".join((_ANY, german.ANY, french.ANY)))
_IN_BLOCK = {
    block: re.compile("|".join(words for words in (ours, german.OF.get(block, ""), french.OF.get(block, "")) if words))
    for block, ours in _OF.items()
}
_ON_KEY = {name: re.compile(words) for _, name, words in _OF_KEYS}
_ADDRESS = re.compile(r"\S+@\S+|\b(?:https?://|www\.)\S+")
_WORD = re.compile(r"[a-zß]{2,}")


def strange_words(text: str, path: str) -> list[str]:
    """Of folded `text`, those that a plain demand of `path` ('bleed.minimum') does not have."""
    block = path.split(".", 1)[0]
    name = next((name for paths, name, _ in _OF_KEYS if re.match(paths, path)), "")
    known = block if block in _OF else ""
    return [word for word in _WORD.findall(_ADDRESS.sub(" ", text)) if not _is_plain(word, known, name)]


@lru_cache(maxsize=8192)  # sentences share most of their words
def _is_plain(word: str, block: str, name: str) -> bool:
    known = (_ALWAYS, _IN_BLOCK.get(block), _ON_KEY.get(name))
    return any(words is not None and words.fullmatch(word) is not None for words in known)
