"""Words around the names of colour modes that ask for them, or say that the sentence is about something else."""

from __future__ import annotations

import re

UNASKED_CMYK = re.compile(
    r"\b(?:rather than|instead of|statt|anstatt|anstelle|plutot qu\w*|au lieu d\w*|from|differen\w*|between|vs\.?|versus"
    r"|unterschied\w*|convert\w* from|an? rgb|press(?:es)? uses?|(?:tell us|let us know|know|state) (?:if"
    r"|whether)\b[^.;:]{0,30}|(?:us|we)\b[^.;:]{0,20}\bconversion to)\b[^.;:]{0,14}$"
    r"|\b(?:s?rgb|rvb)\w* (?:or|oder|ou|and|und|et) $|\b(?:unter|under|over|uber|on top of|beneath|below|sur|sous"
    r"|(?<!achten )(?<!achten sie )auf)(?: den| das| der| the| la| le)? $"
    r"|\b(?:profil\w*(?! (?:should|must|needs to) be)|values?|werte?|breakdown|equivalent\w*|percent\w*)\b[^.;:]{0,20}$"
)
TEXT_IN_CMYK = re.compile(
    r"(?<!bilder, )(?<!bilder und )(?<!images, )(?<!images and )(?<!images et )\b(?:texts?|type|texte\w*|schrift\w*"
    r"|black|schwarz\w*|noirs?)\b[^.;:,-]{0,60}$"
)
WITH_ALL_ELSE = re.compile(r"\b(?:elements?|objects?|images?|pictures?|photos?|graphics?|logos?|illustrations?|vectors?)\b")
"""'Pictures, logos and text must be CMYK' is said of everything; 'small text in CMYK' is not."""
_C = r"(?:c\.?m\.?[yj]\.?[kn]|cymk|cmky)"
ASKED_CMYK = re.compile(
    rf"\b(?:in|to|into|as|zu|nach|en|im|mode|using|use|with|only|modi|nur|als|be|require\w*|with|mit|sind|ist|soit"
    rf"|in den|auf|au|dpi|ppi|ppp|sie|wahle|nutze|verwende|utilisez|choisissez|select|choose"
    rf"|supply|send|are|is|we print|couleurs?|colorimetrique|mussen|muss|doivent etre|doit etre|soient|farbraum|farbmodus"
    rf"|farbmodell|colorimetrie|modele de couleurs?"
    rf"|druckfarben|and|und|et|accept|specify|colou?rs?|must be|images?|pictures|photos|artwork|files|four[- ]colou?r"
    rf"|4-farb\w*|reine\w*|standard)"
    rf"[ (/:\"'-]{{1,3}}(?:the |den |das |der |le |mode |modus |format |full |process |four[- ]colou?r |colou?r |printing |only "
    rf"|process colou?rs? \(|(?:4|four)[- ]colou?r \(?|swop \(?|prozessfarben |farbmodus |farbraum |espace |standard "
    rf"|geraeteabhangigen |gerateabhangigen |process color \(|einem |reinem |den gerateabhangigen ){{0,3}}(?:{_C}|process|four|4"
    rf"|euros[kc]ala)"
    rf"|\b{_C}[- ]?(?:only|colou?rs?|mode|format|process|modus|farb\w*|nur|uniquement|selected|values?|files?|images?|{_C}"
    rf"|swatches|spectrum|ink|druck|daten|bilder)"
    rf"|^[^a-z]*{_C}|(?:mode|space|device){_C}\b|\b(?:in|as|als|en) (?:pms|pantone|spot|gr[ae]y ?scale|graustufen"
    rf"|niveaux de gris)(?: colou?rs?)? (?:or|and|oder|und|ou|et|/) {_C}"
    rf"|^(?:gr[ae]y ?scale|graustufen|niveaux de gris) ?(?:or|and|oder|und|ou|et|/) ?{_C}|(?:[:|>=,;+/-] ?|   )(?:nur "
    rf"|only |in |swop |mode )?(?:{_C}|four|4|process)|\b(?:process colou?rs?"
    rf"|(?:4-?c[ -]{{1,3}})?euros[kc]ala\w*|vierfarb\w*|quadri\w*|four[- ]colou?r process|4-?farb\w*|cmyk\w+|process inks"
    rf"|four (?:process )?inks|4/[0-4])\b"
)
"""What stands before or after the word where it is asked for."""
OF_SOMETHING_ELSE = re.compile(
    r"\b(?:sonderfarb\w*|schmuckfarb\w*|tons? directs?|spot colou?rs|pantones?(?:-?farb\w*)?|hks(?:-?farb\w*)?)(?:\b"
    r"|-)[^.;]{0,80}\b(?:in (?:den )?|into |en |vers )(?:cmyk"
    r"|cmjn|quadri)"
    r"|\breproduction en\b|\bsomme des (?:\w+ )?(?:couleurs|encres)\b|\btotal (?:cmjn|quadri)|\b(?:rich black|tiefschwarz"
    r"|noir (?:soutenu|enrichi|profond)|total ink|ink (?:coverage"
    r"|density|limit)"
    r"|farbauftrag"
    r"|tonwertsumme|taux d'encrage|encrage"
    r"|percentages?|proportions?|kein reines|rgb (?:is|ist|est)(?! (?:not|never|nicht|pas)\b)|the difference|unterschied"
    r"|difference entre|instead of cmyk"
    r"|(?<!using )(?<!with )(?<!corresponding )(?<!suitable )icc[- ]profil\w*|text(?:e|en)? (?:in|en|must|muss|mussen))\b"
    r"|\bblack (?:text|type)\b|\bschwarz\w* (?:text|schrift)\w*|\btextes? noirs?\b"
)
EITHER_MODE = re.compile(r"rgb (?:or|nor|and|/) cmyk\b")
"""'… rather than an RGB or CMYK build' is of a black."""
RGB_AND_SPOTS = re.compile(
    r"\b(?:rgb|rvb)-?(?:\w+)? ?(?:-|,|/|and|und|oder|or|et|ou|sowie)+ (?:les |alle |all )?(?:couleurs? )?(?:spot|sonder|schmuck"
    r"|pantone|hks|tons? directs?|vollton)"
)
"""'Convert RGB and spot colours to CMYK' is said of both."""
ONLY_COMPARED = re.compile(
    r"\bvs\b|\bversus\b|\bdifferen\w*|\bunterschied\w*|\brather than\b|\bbuild\b|\bwhy\b|\bwarum\b|\bpourquoi\b|\bspaces\b"
    r"|\bscreens?\b|\bmonitor\w*|\becran\w*|\bbildschirm\w*"
)
TAKES = re.compile(
    r"\b(?:accept\w*|allow\w*|fine|ok|okay|welcome|may|can|either|possible|also|too|both|supply|send|supplied|akzeptier\w*"
    r"|moglich|erlaubt|zulassig|auch|konnen|liefern"
    r"|sowohl|accepte\w*|autoris\w*|possibles?|peuvent|peut|aussi|egalement|soit)\b"
)
