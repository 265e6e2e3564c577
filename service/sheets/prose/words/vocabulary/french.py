"""French words of plain demands, folded: 'ANY' of any demand on a file, 'OF' of a block of the sheet besides.

No word that may narrow a demand stands here: no product, paper or process, no 'si', 'lorsque', 'sauf' or 'selon', no 'peut'.
"""

from __future__ import annotations

ANY = (
    # who asks whom, and how firmly
    r"devra|devront|devriez|devrait|devraient|priere|prions|prie|demande\w*|exige\w*|requi(?:s|se|ses|ert)|indispensable\w*"
    r"|primordial\w*|conserve[rz]?|conserves?|garde[rz]?|garantir|assure[rz]?|veille[rz]?|veiller|pense[rz]?|penser|songe[rz]"
    r"|noublie[rz]|oublie[rz]|oublier|attention|imperatif|obligation|strictement|exclusivement|absolument|systematiquement"
    r"|recommand\w*|conseil|ideal\w*|optimal\w*|prefer\w*|proscri\w*|interdi\w*|banni\w*|exclu\w*|refuse\w*|admis\w*"
    r"|autoris\w*|tolere\w*|souhait\w*|necessit\w*|minimum|maximum|mini|maxi|minimal\w*|maximal\w*|maximum"
    # what is done with a file
    r"|mettre|mettez|mis|mise|mises|faites|fait|realise\w*|realiser|realisation|prepar\w*|conce\w*|concu\w*|exporte\w*|exporter"
    r"|export|sauvegarde\w*|sauvegarder|sauvegarde|enregistre\w*|enregistrer|enregistrement|generer|genere\w*|livre[rz]?|livres?"
    r"|livraison|remett\w*|remettre|remis\w*|remise|transmett\w*|transmettre|transmi\w*|transmission|envoy\w*|renvoy\w*|envoi"
    r"|deposer"
    r"|depose\w*|telecharg\w*|joindre|joigne\w*|joints?|adresse[rz]|contenir|contien\w*|comport\w*|possed\w*|figurer|figure"
    r"|apparaitre|subsister|rester|reste|presente\w*|present\w*|situe\w*|situer|positionn\w*|dispose\w*|insere\w*|inserer"
    r"|import\w*|lier|liees?|utilisation|employe\w*|employer|choisi\w*|choisir|selectionn\w*|regle[rz]?|defini\w*|definir"
    r"|configure\w*|parametre\w*|convert\w*|conversion|transform\w*|passe[rz]?|passer|numeris\w*|scann\w*|scan|montes?|monter"
    r"|verifie\w*|verifier|controle\w*|controler|travail\w*|composer|compose\w*|trait\w*|fourniture|fournisse\w*|fourni\w*"
    r"|prevu\w*|prevoir|compter|compte[rz]?|tenir|tienne\w*|maintenir|accompagne\w*|supprime[rz]?|supprimer|utilise\w*"
    # things that every file has, and its parts
    r"|images?|photos?|visuels?|logos?|logotypes?|illustrations?|dessins?|graphismes?|elements?|objets?|contenus?|donnees"
    r"|informations?|compositions?|creations?|mise en page|pages?|fichiers?|pdf|maquettes?|documents?|gabarits?|typograph\w*"
    r"|imprimeur|imprimerie|imprimable\w*|impressions?|reproduction|rendu|rendus|resultats?|production|fabrication|projets?"
    r"|commandes?|travaux|clients?|logiciels?|prepresse|supports?|formats?|finis?|final\w*|definitif\w*|reel\w*|echelle"
    r"|resolution\w*|qualite|qualites|couleur\w*|annonces?|annonceurs?|publicites?|publicitaires?|encre\w*|produits?"
    # small words
    r"|techniques?|specifications?|exigences?|caracteristiques|contraintes|consignes?|hd|fiche|points?|suivante?s?"
    r"|remplir|conditions|suit|mail|etant|etre|imprimons|imprime|travaillons|montees?|millimetres?|centimetres?|cette?|ces|cet"
    r"|celui|celle|celles|ceux|ses|leurs?|afin|ainsi|alors|donc|aussi|egalement|notamment|bien|tres|trop|entre"
    r"|avant|apres|lors|depuis|jusqu|jusque|comme|tels?|telles?|chacune?|chaque|toute?s?|tous|ensemble|integralite|totalite"
    r"|entier\w*|entierement|correctement|parfaitement|directement|separement|plus|mieux|bonne?s?|meilleure?s?|haute?"
    r"|superieure?s?|egale?s?|autres?|etc|via|dont|ou|soit|qui|quelque|environ|compris|inclus|rapport|niveau|type|mode|autour"
    r"|elle|elles|eux|on|me|ma|mon|mes|ont|ayant|sera|seront|prets?|prete|pret|dernier\w*|premiere?|trois|quatre|cent|cents"
    r"|ayez|avez|tenu|raison|cause|car|puisque|parce|cela|ceci|ci|ensuite|enfin|suffisamment|suffisante?s?|assez|correcte?s?"
    r"|bons?|simplement|unite|evite|exceder"
    # why, and how well
    r"|tolerances?|ecarts?|imprecisions?|mecaniques?|machines?|decalages?|legers?|legeres?|eventuele?s?|eventuelles?|apparition"
    r"|apparaissent|empecher|permettre|permet"
    r"|obtenir|sinon|sous|peine|defaut|impeccables?|parfaite?s?|nettete|motifs?|faconnage|finitions?|finaux|colorimetriques?"
    r"|espace"
    r"|viennent|restent|figurent|comprise?s?"
)

_LISTED = (
    r"|fonds?|perdus?|traits?|coupe|reperes?|hirondelles?|polices?|incorporees?|integrees?|incluses?|vectorisees?|cmjn|dpi"
    r"|transparences?|calques?|mot|mots|passe|marges?|securite|resolution|aplaties?|fusionnes?|commentaires?|annotations?"
    r"|formulaires?"
)
"""What a list of demands names beside the one."""

OF: dict[str, str] = {
    "bleed": (
        r"impossibles?|depass\w*|deborde\w*|prolong\w*|etend\w*|agrandi\w*|elargi\w*|rallong\w*|ajout\w*|supplementaire\w*"
        r"|supplement|arriere"
        r"|plans?|aplats?|fond|contours?|peripherie|perimetre|haut|bas|gauche|droite|au|dela|delas?|exterieur|exterieure?s?"
        r"|franc\w*|bord|bordures?|petite?s?|coupee?s?|couper|decoupes?|pourtour|tournante?s?|visibles?|blanche?|interieurs?"
        r"|massicot\w*|refente|finition\w*|blancs?|lisere\w*|filet"
    ),
    "margin": (
        r"gauche|droite|bas|basses?|exterieures?|visages?|visibles?|lisibilite|exterieurs?|interieurs?|bordures?|libres?|long"
        r"|distants?|distante?s?|tampon"
        r"|couper|coupes?|coupee?s?|rogner|rogne\w*|massicot\w*|trop|pres|proches?|intern\w*|tournante?s?|techniques?|minima"
        r"|libre|vide|vierge|zone|zones|securitaire|protection|retrait|depass\w*|risque|titres?|folios?|numeros?|paginations?"
        r"|essentiel\w*|significati\w*|vitaux|vitales?|utiles?|sensibles?|lisibles?|decoupe|trace|ligne|traits|entourage"
        r"|numerotation|rognage|ecriture\w*|typographiques?"
    ),
    "color": (
        r"rvb|cmjn|cmyk|quadri\w*|quatre|colorimetrie|gamme|euro|primaires|encres?|teintes?|nuances?|nuancier|modele|profils?"
        r"|chromie|indexees?|index|monochrome|bichromie|niveau|noirs?|blanc|synthese|soustractive|process|cmjn\w*|direct|direct"
        r"|composees?|decompose\w*|fluo\w*|metallis\w*|bits?|aplats?"
        f"{_LISTED}"
    ),
    "file": (
        r"natifs?|ouverts?|normes?|normalises?|compatibles?|compatibilite|certifies?|standards?|optimise\w*|proteg\w*"
        r"|protection\w*|securite\w*"
        r"|securis\w*|verrouill\w*|mot|mots|passe|restrictions?|chiffr\w*|crypt\w*|calque|couches?|aplat\w*|fusion\w*|version"
        r"|natif|hd|separation\w*|separees?|composite|presse|avant"
        f"{_LISTED}"
    ),
    "fonts": r"caracteres?|typos?|fontes?|courbes?|trace|vecteurs?|jeux|jeu|incorporation|vectorisation|embarque\w*" f"{_LISTED}",
    "images": (
        r"numerisees?|scannees?|tramees?|demi|teintes?|simili\w*|bitmaps?|ppp|pixels?|points?|pouces?|par|niveaux|gris|couleur"
        r"|echelle|reel|nette?s?|floue?s?|pixellise\w*|tailles?|dimensions?|inferieure?s?|importees?|incorporees?|bits?|dpi"
        r"|lineaires?|cent|taille|matriciel\w*"
    ),
    "lines": (
        r"proscri\w*|positifs?|negatifs?|fins?|fines?|finesse|contours?|lignes?|maigres?|grosseur|largeur|noirs?|couleur|pleins?"
        r"|reserves?|defonce\w*|point"
    ),
    "text": (
        r"simples?|positifs?|negatifs?|points?|pts?|corps|caractere|lisibilite|lisibles?|reserves?|reserve|blanche?s?|grande?s?"
        r"|fonces?"
        r"|sombres?|aplats?|typo|petits?|petite|composes?|police|seule|encre|couche"
        f"{_LISTED}"
    ),
    "marks": (
        r"rogne|rognage|massicot|decales?|decalage|decalees?|gammes?|barres?|controle|mires?|montage|pliage|repere|couleurs?"
        r"|place\w*|hors|exterieur|zone|angles?"
    ),
    "pages": (
        r"plies?|pliees?|piquees?|agrafees?|simples?|planches?|suivi\w*|suivantes?|continu\w*|folio\w*|lecture|cahiers?|multiple"
        r"|pairs?|impairs?|nombre|total\w*|paires?|impose\w*"
        r"|amalgame\w*|divise\w*|ton|ta|tes|separement|individuel\w*|consecutive\w*|interieures?|separees?|dissociees?|ordre|une"
        r"|recto|verso|cote"
        f"{_LISTED}"
    ),
    "trim": r"francaise|italienne|simples?|planches?|ouverts?|fermes?|fini|finie|rogne|coupe|dimension\w*|mesur\w*|taille"
    r"|largeur|hauteur|plie\w*|deplie\w*" f"{_LISTED}",
    "finishes": (
        r"selectif\w*|vectoriel\w*|vectorielle|vecteur|tracee?s?|traces|decoupes?|decouper|raineuse|rainages?|perforations?|nom"
        r"|appele\w*|intitule\w*|denomme\w*|couche\w*|surimprim\w*|spot|contours?|epaisseur|filet|nuancier|separe|supplementaire"
        r"|dore\w*|marquage|chaud|gaufr\w*|soutien|blanc|cinquieme"
        f"{_LISTED}"
    ),
    "papers": r"satine\w*|mats?|brillants?|offset|recycle\w*",
    "levels": r"commentaire|annotation\w*|formulaire|reserve|notes?",
    "transparency": r"avant|effets?|ombres?|portees?|transparents?|aplatissement|aplatisse\w*|aplatir|calques?",
}
