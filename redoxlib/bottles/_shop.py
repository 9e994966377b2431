"""Names of the shop that leave open which compound is meant: chlorine in granules, for the pool."""

from __future__ import annotations

import re

__all__ = ["scrap", "shop_name"]

_POOL = re.compile(
    r"(?:liquid )?(?:swimming[- ])?pool(?: (?:chlorine|shock|chemicals?|saniti[sz]er|disinfectant))?"
    r"(?: liquid)?|"
    r"liquid chlorine|chlorine liquid|(?:pool )?shock|"
    r"(?:stabili[sz]ed|unstabili[sz]ed|dry|pool grade|slow|fast|multi[- ]?function(?:al)?) chlorine",
    re.IGNORECASE,
)
_ONLY_LIQUID = re.compile(
    r"chlorine|(?:household |chlorine )?bleach|sodium hypochlorite|hypochlorite|NaClO|NaOCl", re.IGNORECASE
)
_LIME = re.compile(r"bleaching|chlorinated lime|chloride of lime", re.IGNORECASE)
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
_IN_LIME = (
    "it is calcium hypochlorite with lime and calcium chloride; write it with the available chlorine that "
    "the label states, for example 'calcium hypochlorite powder 35 % available chlorine'"
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
    if _LIME.fullmatch(text):
        return _IN_LIME
    if _POOL.fullmatch(text) or (solid and _ONLY_LIQUID.fullmatch(text)):
        return _CHLORINE if solid else f"{_CHLORINE}; {_LIQUID}"
    return ""
