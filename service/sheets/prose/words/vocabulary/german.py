"""German words of plain demands, folded: 'ANY' of any demand on a file, 'OF' of a block of the sheet besides.

No word that may narrow a demand stands here: no product, paper or process, no 'wenn', 'falls', 'sofern' or 'ausser', no 'kann'.
"""

from __future__ import annotations

ANY = (
    # who asks whom, and how firmly
    r"bitten|mind\w*|wunschen|ersuchen|gewunscht|benotigt|erwartet|vorausgesetzt|verlangt|gefordert|vorgeschrieben|verpflichtend"
    r"|stets|jederzeit|lediglich|exklusiv\w*|allein|mussten|sollst|musst|musste|durfte|beachte[nt]?|beachtet|beachtung|achte[nt]?"
    r"|sorgen"
    r"|sicherstellen|sichergestellt|gewahrleist\w*|gilt|gelten|einhalten|eingehalten|einzuhalten|berucksichtig\w*|vermieden"
    r"|zulassig\w*|unzulassig\w*|erlaubt|gestattet|akzeptier\w*|annehmen|nimmt|entgegen|wichtig|zwingende?|unbedingte?"
    r"|obligatorisch\w*|absolut|mindestma(?:ss|ß)\w*|minimal\w*|minimum|maximum|mindest\w*|hochst\w*|genauer?|exakt\w*"
    # what is done with a file
    r"|aufweisen|aufweist|besitzen|besitzt|verfugen|verfugt|bestehen|vorliegen|vorliegt|vorhanden|liegt|steht|stellt"
    r"|abgeben|abgegeben|abgabe|abzugeben|ubergabe|ubergeben|ubermittelt|ubermittlung|ubermittel\w*|anlieferung\w*|lieferung"
    r"|zuliefern|zugeliefert|liefert|abliefern|bereitstell\w*|bereitgestellt|bereitzustellen|einreichen|eingereicht"
    r"|schicken|geschickt|zuschicken|zusenden|sende[nt]?|gesendet|hochlad\w*|hochgeladen|mitliefern|mitgeliefert"
    r"|aufbereit\w*|vorbereit\w*|erzeug\w*|generier\w*|gestalte\w*|gestaltet|gestaltung\w*|abspeicher\w*|abgespeichert"
    r"|speicherung|ausgeb\w*|ausgegeben|ausgabe|belichte[nt]\w*|einrichten|eingerichtet|einstell\w*|eingestellt|einzustellen"
    r"|anleg\w*|legt|gelegt|definier\w*|festgelegt|gewahlt|wahlen|auswahlen|ausgewahlt|einfug\w*|eingefugt|eingebunden\w*"
    r"|einzubinden|einbinden|einzubetten|integriert\w*|importier\w*|verknupft\w*|hinterlegt|hinzufug\w*|hinzugefugt"
    r"|umzuwandeln|umwandlung|konvertier\w*|konvertierung|gewandelt\w*|wandle|entspr[ie]ch\w*|entsprechend\w*|bearbeit\w*"
    r"|weiterverarbeit\w*|weiterverarbeitung|verarbeit\w*|prufen|uberpruf\w*|kontrollier\w*|scann?\w*|eingescannt\w*"
    r"|verwendung|genutzt|benutz\w*|einsetz\w*|eingesetzt\w*|gesetzt|positionier\w*|angeordnet|vorsehen|vorgesehen"
    r"|vorzusehen|einplanen|eingeplant|planen|rechnen|berechnet|zugeben|zuzugeben|geben|gegeben|dargestellt|wiedergegeben"
    # things that every file has, and its parts
    r"|\w*bild(?:er|ern|es|e|s|daten|dateien|material\w*|motiv\w*|element\w*|objekt\w*|vorlage\w*|gro\w+|teile?n?|inhalt\w*)?"
    r"|abbildung\w*|foto\w*|grafik\w*|graphik\w*|illustration\w*|zeichnung\w*|motiv\w*|gestaltungselement\w*"
    r"|textelement\w*|texten?|inhalt\w*|objekt\w*|element\w*|bestandteil\w*|information\w*|angaben?|daten\w*|druckvorlage\w*"
    r"|vorlage\w*|reinzeichnung\w*|druckfile|dokument\w*|pdf\w*|druckseite\w*|einzelnen?|auftrag\w*|drucksache\w*"
    r"|druckprodukt\w*|druckerzeugnis\w*|druckunterlagen|unterlagen|druckmaterial\w*|produktion|druckerei|druckvorstufe"
    r"|anzeigenmotiv\w*|programm\w*|anwendung\w*|software|kunden\w*|auftraggeber\w*|originalgro\w+|originalformat"
    r"|abbildungsgro\w+|ausgabegro\w+|ausgabeformat|druckgro\w+|endgro\w+|nutzformat|reproduktion|druckergebnis\w*|ergebnis\w*"
    r"|druckqualitat|bildqualitat|qualitativ|optimal\w*|bestmoglich\w*|einwandfrei\w*|sauber\w*|hochauflosend\w*|hochwertig\w*"
    # small words
    r"|vorgaben?|anforderung\w*|richtlinien?|hinweise?n?|technische\w*|spezifikation\w*|checkliste|\w*unterlagen"
    r"|cd|dvd|usb|stick|datentrager|folgende\w?|kriterien|kriterium|erfull\w*|gelieferten?|angelieferten?|e|mail|halte[nt]?|gib"
    r"|gebt|lass|lasst|wahle|nutze"
    r"|speichere|schicke|prufe|druckfahig\w*|druckreif\w*|eignet|eignen|sich|anzahl|jedoch|ferner|weiterhin|au(?:ss|ß)erdem|zudem"
    r"|grundsatzlich\w*|prinzipiell|generell\w*|millimetern?|zentimetern?|prozent"
    r"|entwurfe?n?|adressen?|vor|beim|bereits|dabei|dazu|dafur|daher|deshalb|somit|damit|darauf|darin|darum|hier|hierbei|hierfur"
    r"|dann|ebenso"
    r"|ebenfalls|gleichfalls|zusatzlich\w*|insbesondere|besonders|vor allem|samtlich\w*|gesamt\w*|komplett\w*|vollstandig\w*"
    r"|einheitlich\w*|korrekt\w*|richtig\w*|entweder|sondern|jedoch|sonstige\w*|wieder|etwa|circa|ca|inkl|inklusive"
    r"|einschlie(?:ss|ß)lich|bzw|beziehungsweise|usw|etc|sog|sogenannt\w*|gut|gute\w?|wird|wurde|wurden|worden|dein\w{0,2}"
    r"|dir|dich|euch|eure\w?|sodass|da|denn|diejenigen|deren|dessen|welche\w?|beide\w?|achtung|drei|vier|eins|einmal|je|ab"
    r"|gleicherma(?:ss|ß)en|genauso|zugleich|gleichzeitig|beschriebene\w?|genannte\w?|erwahnte\w?|weise|siehe|ggfs?"
    r"|gegebenenfalls|sorgfaltig\w*|dringend"
    r"|daran|hierauf|deswegen|folglich|nochmals|aufgrund|wegen|infolge|grunde?n?|hinsichtlich|bezuglich|gema(?:ss|ß)|laut|zwecks"
    r"|mithilfe|hilfe|jegliche\w?"
    r"|irgendwelche\w?|man|schon|durch|dass|geht|kommt|bleib\w*|jeweilige\w?|spatere\w?|spater|nachtraglich\w*|zumindest"
    r"|verbindlich\w*|ratsam|sinnvoll|raten"
    # why, and how well
    r"|ausgleich\w*|auszugleichen|entsteh\w*|entstand\w*|auftret\w*|abweichung\w*|toleranz\w*|technisch|bedingt\w*"
    r"|\w{5,}bedingt\w*|maschinelle?\w*|produktionstechnisch\w*"
    r"|verhinder\w*|sicherheit|ordnungsgema(?:ss|ß)\w*|fehlerfrei\w*|problemlos\w*|einfach\w?|schnell\w*|erforderliche\w?"
    r"|notwendige\w?|perfekt\w*"
    # what else is done with a file
    r"|plaz\w*|ausgegebene\w?|ausgelieferte\w?|entwerf\w*|einbauen|eingebaut|eingeben|eingegeben|aktivier\w*|anzuliefern|erhalten"
    r"|brauchen|gestellt|geachtet"
    r"|bestehend\w?|enthalt|gepruft|auswahl|menu|dialog|optionen|reiter|endprodukt\w*|produkte?n?s?|\w*auflosung\w*|zuschnitt\w*"
    r"|zuschneiden|beschneiden"
)

_LISTED = (
    r"|beschnitt\w*|anschnitt\w*|schnittmarke\w*|schneidemarke\w*|passermarke\w*|passmarke\w*|druckmarke\w*|passwort\w*"
    r"|kennwort\w*|transparenz\w*|ebenen?|farbmodus|farbraum|farbprofile?|sicherheitsabstand|eingebettete\w?|schriften"
    r"|kommentar\w*|formularfeld\w*"
    r"|linienst\w+|sonderfarben?"
)
"""What a list of demands names beside the one."""

OF: dict[str, str] = {
    "bleed": (
        r"bis|bei|beschnitten\w*|angeschnitten\w*|randabfallend\w*|abfallende?\w*|formatabfallend\w*|endformat\w*|formatrand\w*"
        r"|format\w*|schneid\w*|geschnitten|schnittkante\w*|schnittlinie\w*|schneidetoleranz\w*|schnittdifferenz\w*|blitzer\w*"
        r"|uberstand|uberstehen\w*|uberfull\w*|uberlapp\w*|erweiter\w*|vergro(?:ss|ß)er\w*|verlanger\w*|ragen|reichen|gezogen"
        r"|ziehen|hinausgehen|hinausgezogen|herauslauf\w*|auslaufen\w*|flache\w*|hintergrund\w*|farbflache\w*|vollflachig\w*"
        r"|seitenrand\w*|auf(?:ss|ß)en\w*|links|rechts|oben|unten|umlaufend\w*|ringsum|rings|herum|allseits|beschnittrand"
        r"|druckbeschnitt|seite|kanten?|papierrand\w*|druckrand\w*|oberen|unteren|linken|rechten|seitlich\w*|beidseitig\w*"
        r"|durchgehend\w*|abgeschnitten\w*"
        r"|weggeschnitten\w*|anzuschneiden|hinein\w*|heraus\w*|verlaufen\w*|ungewollt\w*|unerwunscht\w*|unschon\w*|storend\w*"
        r"|sichtbar\w*|bereiche?s?|farbig\w*"
        r"|wei(?:ss|ß)e\w?|geringe\w*|eventuelle\w?|stanz(?:e|kontur|linie|form)\w*|randlos\w*|unmittelbar\w*|direkt\w*"
    ),
    "margin": (
        r"bei|ubrige\w?|kartenrand\w*|innenrand\w*|rander\w*|beschnitt\w*|beschnitten\w*|angeschnitten\w*|anzuschneiden"
        r"|anschneiden|anschnitte?|abgeschnitten\w*|weggeschnitten"
        r"|geschnitten|schneid\w*|endformat\w*|format\w*|seitenrand\w*|papierrand\w*|druckrand\w*|blattrand\w*|seitenkant\w*"
        r"|textabstand|schriftabstand|freiraum|entfernung|relevant\w*|beschnittrelevant\w*|au(?:ss|ß)en\w*|formatrelevant\w*"
        r"|wesentlich\w*"
        r"|bildwichtig\w*|textwichtig\w*|andere\w?|weitere\w?|unabsichtlich\w*|ungewollt\w*|versehentlich\w*|gestalterisch\w*"
        r"|stanzkontur\w*|stanzlinie\w*|stanzkante\w*|gestanzt\w*|kontur|schnittkontur\w*|schnittlinie\w*|schnittkante\w*"
        r"|zwischen|nach|hin|bis|innerhalb|innen\w*|allseits|umlaufend\w*|rundum|rundherum|rings\w*|jeweils|oben|unten|links"
        r"|rechts|toleranz\w*|ecken|name|adresse|beruhren|reichen|ragen|platz|einger\w+ckt|hineinrag\w*|herangehen|heran|nahe"
        r"|schriftzug\w*|schriftzuge|textkasten|druckrelevant\w*|druckbare\w?|unterschr\w*|rahmen|stanze|stanzform|bereiche?s?"
        r"|hinaus\w*|hinein\w*|heraus\w*|uberstehen\w*"
        r"|unerwunscht\w*|unschon\w*|geringe\w*|eventuelle\w?|oberen|unteren|linken|rechten|seitlich\w*|inneren?|unmittelbar\w*"
        r"|direkt\w*|ausseren?|beschriebene\w?"
    ),
    "color": (
        r"vor|farb\w*|\w*farben|\w*farbig\w*|hks|pantone\w*|prozess\w*|skala|skalen\w*|iso|grundfarben|cyan|magenta|yellow"
        r"|cmyk\w*|rgb\w*|srgb|lab\w*|vierfarb\w*|mehrfarb\w*|graustufe\w*|schwarz\w*|wei(?:ss|ß)|farbraum\w*|farbsystem\w*"
        r"|farbmodell\w*|farbprofil\w*|kanale?|echtfarb\w*|volltone?|euroskalen\w*|eingefarbt\w*|separation\w*"
        r"|sonder\w*|schmuck\w*|aufgelost|auflosen|aufzulosen|bestehend|zusammengesetzt|druckfarben"
        f"{_LISTED}"
    ),
    "file": (
        r"offene\w?|vor|iso|norm\w*|kompatib\w*|erzeugt|distiller|druckausgabequalitat|ebene|kennwortschutz|passwortschutz"
        r"|kennwortgeschutzt\w*|passwortgeschutzt\w*|schutz|geschutzt\w*|beschrankung\w*|sicherheitseinstellung\w*|zugriff\w*"
        r"|farbseparation\w*|vorseparationen|verflacht\w*|zusammengefasst|zusammenfassen|zusammengefugt|fehler\w*"
        r"|druckpdf|einziges?|eine[rs]?|mehrseitig\w*|composit\w*|unsepariert\w*"
        f"{_LISTED}"
    ),
    "fonts": (
        r"zeichenwegen?|pfad\w*|vektor\w*|vektorisiert\w*|kurve\w*|schriftart\w*|schriftschnitt\w*|zeichensatze?|outlines?"
        r"|font\w*|mitgeliefert\w*|inkludier\w*|zeichen|buchstaben"
        f"{_LISTED}"
    ),
    "images": (
        r"bei|halbton\w*|strich\w*|bitmap\w*|einfarbig\w*|farb\w*|schwarz\w*|wei(?:ss|ß)\w*|line|scans?|pixel\w*|pro|zoll"
        r"|unterschritten|scharf\w*|unscharf\w*|brillant\w*|verhaltnis|punkte?|abgebildet\w*|abgedruckt\w*"
        r"|vektorisiert\w*|vierfarb\w*|echtfarben\w*|tonwert\w*|raster\w*|prozent|ma(?:ss|ß)stab|unterschreit\w*|liegen"
    ),
    "lines": (
        r"bei|unterschritten|gedruckt|flachen?|punkt\w*|kontur\w*|haarlinie\w*|linie\w*|linienbreite\w*|linienst\w*"
        r"|strichbreite\w*|breite|breit|unterschreit\w*"
        r"|negativlinie\w*|positivlinie\w*|fein\w*|dunn\w*|druckbar\w*|sichtbar\w*|hell\w*|dunk\w*|hintergrund\w*"
        r"|grund|wei(?:ss|ß)\w*|schwarz\w*|einfarbig\w*"
    ),
    "text": (
        r"bei|unterschritten|druckbar\w*|schlecht|kaum|mehr|lesbar\w*|lesen|punkt\w*|schrift\w*|unterschreit\w*|buchstabe\w*"
        r"|negativschrift\w*|positivschrift\w*|hell\w*|lesbarkeit"
        r"|hintergrund\w*|flache\w*|untergrund|versalhohe|schwarzer?|prozent|kanal|schwarzkanal|fliesstext\w*|flie(?:ss|ß)text\w*"
        f"{_LISTED}"
    ),
    "marks": (
        r"nein|ja|schneidemarke\w*|schneidmarke\w*|schneidzeichen|schnittzeichen|druckmarke\w*|farbkontrollstreifen"
        r"|kontrollstreifen"
        r"|farbbalken|beschnittzeichen|beschnittmarke\w*|eckmarke\w*|hilfszeichen|versatz|abstand|endformat\w*|au(?:ss|ß)erhalb"
        r"|anschnitt\w*|druckkontroll\w*|falz|stehen|hineinragen|ragen|druckzeichen|passkreuze?|hilfslinien?|schneid|jegliche\w?"
        r"|eingeblendet\w*"
        f"{_LISTED}"
    ),
    "pages": (
        r"bis|zweiseitig\w*|zweiseiter|vorderseite|reihenfolge|reihenfolgerichtig\w*|nacheinander|aufeinanderfolgend\w*"
        r"|hintereinander|seitenweise|seitenzahl\w*|seite"
        r"|druckbogen|doppelseitig\w*|montage\w*|bogenmontage\w*|umfang\w*|gesamtseitenzahl|gesamtumfang|vielfach\w*|dividier\w*"
        r"|broschure\w*|mehrseiter|seitenumfang|seitenanordnung|drehung\w*|din|schie(?:ss|ß)en|auszuschie(?:ss|ß)en|vorder"
        r"|ruckseite|leseseiten|rechte|linke"
        r"|angeordnet|zusammengefugt\w*|ausgeschossen\w*"
        f"{_LISTED}"
    ),
    "trim": (
        r"beschnitten\w*|endformat\w*|nettoformat|netto|nettogro\w+|beschnittformat|abmessung\w*|ma(?:ss|ß)e?|produktgro\w+"
        r"|fertigformat|papierformat|seitenformat"
        f"{_LISTED}"
    ),
    "finishes": (
        r"bezeichnung\w*|bezeichnet\w*|benannt\w*|benenn\w*|vollton|volltone?|farbfeld\w*|eigene\w?|separate\w?|extra|zusatzlich"
        r"|stanz\w*|perforation\w*|perforier\w*|rill\w*|rilllinie\w*|nutung|nutlinie\w*|kontur\w*|schneid\w*|schnitt\w*|uv"
        r"|lackform|lackierung\w*|spotlack|relieflack|folie\w*|hei(?:ss|ß)folie\w*|pragung|blindpragung|eingefarbt\w*"
        r"|eingeschaltet|aktiviert|uberdruckend|uberdruckt|farbkanal|kanal|farbton|hinterlegt|definition|gestrichelt\w*"
        r"|wei(?:ss|ß)druck|deckwei(?:ss|ß)|linie|stanze|sofern|falls|wenn|gedruckt|mitgedruckt|offene\w?|geschlossene\w?"
        r"|druckmotiv"
        f"{_LISTED}"
    ),
    "levels": r"schwarz\w*|textelement\w*|uberdruck\w*|aussparen|ausgespart|formularfeld\w*|notiz\w*|anmerkung\w*",
    "transparency": r"vor|effekt\w*|schatten\w*|schlagschatten|verrechnet|aufgelost|transparente\w*|reduzierung",
}
