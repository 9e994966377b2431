"""Names of the shop that leave open which compound is meant: chlorine in granules, for the pool."""

from __future__ import annotations

import re

__all__ = ["shop_name"]

_POOL = re.compile(
    r"(?:swimming[- ])?pool(?: (?:chlorine|shock|chemicals?|saniti[sz]er|disinfectant))?|(?:pool )?shock|"
    r"(?:stabili[sz]ed|unstabili[sz]ed|dry|pool grade|slow|fast|multi[- ]?function(?:al)?) chlorine",
    re.IGNORECASE,
)
_SOLID = re.compile(
    r"(?:granul\w*|tablets?|tabs?|powder\w*|pellets?|sticks?|briquettes?|pucks?|solid|crystals?)",
    re.IGNORECASE,
)
_SCRAP = re.compile(
    r"\b(?:scrap|metals?|pipes?|wires?|swarf|turnings|filings|alloys?|brass|bronze|steel)\b", re.IGNORECASE
)
_CHLORINE = (
    "such products are calcium hypochlorite, trichloroisocyanuric acid (TCCA) or sodium dichloroisocyanurate "
    "(DCCNa), and they must never meet one another; read the compound on the label and write it, for example "
    "'calcium hypochlorite 65 % available chlorine'"
)
_LIQUID = "liquid pool chlorine is sodium hypochlorite: 'bleach 12.5 % trade'"


def scrap(name: str) -> str:
    """What would mend the name of a scrap that does not say its metal; empty where it is no scrap."""
    if _SCRAP.search(name) is None:
        return ""
    return (
        "name the metal, such as 'copper scrap' or 'iron turnings'; brass and other alloys hold several "
        "metals, each a conversion of its own, in the shares of an assay"
    )


def shop_name(name: str) -> str:
    """What would mend a name that is sold for several compounds; empty where the name is none of these.

    Parameters
    ----------
    name : str
        The words of a label without its strength, or what was given as an oxidant.
    """
    words = [word for word in name.replace(",", " ").split() if word]
    rest = [word for word in words if not _SOLID.fullmatch(word)]
    text = " ".join(rest)
    solid = len(rest) < len(words)
    if _POOL.fullmatch(text) or (solid and text.lower() == "chlorine"):
        return _CHLORINE if solid else f"{_CHLORINE}; {_LIQUID}"
    return ""
