"""Printing conditions by the names that people use: a profile's name stands for the condition that it was made for.

Sources: the names and conditions of published profiles (ECI: ISO Coated v2, PSO …; Idealliance: GRACoL, SWOP; WAN-IFRA), from
memory, as are the identifiers of the ICC's registry.
"""

from __future__ import annotations

import re

_CONDITIONS = {
    "FOGRA39": ("FOGRA39L", "ISO Coated v2", "ISO Coated v2 (ECI)", "ISO Coated v2 300 % (ECI)", "ISO Coated v2 300",
                "Coated FOGRA39"),
    "FOGRA51": ("FOGRA51L", "PSO Coated v3"),
    "FOGRA52": ("FOGRA52L", "PSO Uncoated v3", "PSO Uncoated v3 (FOGRA52)"),
    "FOGRA47": ("FOGRA47L", "PSO Uncoated ISO12647", "PSO Uncoated ISO12647 (ECI)"),
    "FOGRA29": ("FOGRA29L", "ISO Uncoated", "Uncoated FOGRA29"),
    "FOGRA45": ("FOGRA45L", "PSO LWC Improved", "PSO LWC Improved (ECI)"),
    "FOGRA46": ("FOGRA46L", "PSO LWC Standard", "PSO LWC Standard (ECI)"),
    "FOGRA41": ("FOGRA41L", "PSO MFC Paper", "PSO MFC Paper (ECI)"),
    "FOGRA42": ("FOGRA42L", "PSO SNP Paper", "PSO SNP Paper (ECI)"),
    "FOGRA40": ("FOGRA40L", "SC Paper", "SC Paper (ECI)"),
    "IFRA26": ("ISOnewspaper26v4", "ISO newspaper 26v4", "WAN-IFRAnewspaper26v5", "WAN-IFRA newspaper 26v5"),
    "CGATS TR 001": ("U.S. Web Coated (SWOP) v2", "US Web Coated SWOP v2", "US Web Coated SWOP", "SWOP v2"),
    "CGATS TR 003": ("SWOP2006_Coated3v2", "SWOP 2006 Coated 3", "SWOP Coated 3"),
    "CGATS TR 005": ("SWOP2006_Coated5v2", "SWOP 2006 Coated 5", "SWOP Coated 5"),
    "CGATS TR 006": ("GRACoL2006_Coated1v2", "GRACoL 2006", "GRACoL 2006 Coated 1", "Coated GRACoL 2006"),
    "CGATS21_CRPC6": ("GRACoL2013_CRPC6", "GRACoL 2013"),
    "CGATS21_CRPC5": ("SWOP2013C3_CRPC5", "SWOP 2013", "SWOP2013 CRPC5"),
    "CGATS21_CRPC3": ("GRACoL2013UNC_CRPC3", "GRACoL 2013 Uncoated"),
    "JC200103": ("Japan Color 2001 Coated",),
}


def _plain(name: str) -> str:
    """'CGATS TR 006' and 'CGATS TR006' are one name, and so are 'PSOcoated_v3' and 'PSO Coated v3'."""
    return re.sub(r"[\s_.%()\-]+", "", name.casefold().removesuffix(".icc"))


_MEANT = {_plain(name): _plain(known) for known, names in _CONDITIONS.items() for name in (known, *names)}


def same_condition(name: str) -> str:
    """What two names of one printing condition have in common."""
    plain = _plain(name)
    return _MEANT.get(plain, plain)
