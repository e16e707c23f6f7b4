"""The ten zones of the dog, and which of them a clause speaks of."""

import re
from types import MappingProxyType

ZONES = MappingProxyType(
    {
        "head": "Head",
        "neck": "Neck",
        "forequarters": "Forequarters",
        "body": "Body",
        "topline": "Topline",
        "hindquarters": "Hindquarters",
        "feet": "Feet",
        "tail": "Tail",
        "coat": "Coat",
        "whole": "Whole dog",
    }
)
"""Zone key → English label, in the order in which a dog is gone over."""

_WORDS = {
    "head": """head headpiece skull stop muzzle foreface nose nostril lip flews jaw cheek eye eyelid ear mouth
        bite tooth dentition scissor incisor canine undershot overshot occiput expression brow chin""",
    "neck": "neck nape throat dewlap crest ewe",
    "forequarters": """forequarter front shoulder blade layback scapula humerus arm upper-arm elbow forearm
        foreleg wrist knee pastern carpus""",
    "body": """body chest rib ribcage brisket forechest prosternum sternum loin flank tuck-up belly underline
        coupling coupled""",
    "topline": "topline back wither croup backline roach dip",
    "hindquarters": """hindquarter hindleg quarter thigh stifle hock pelvis buttock breech sickle
        cow-hocked""",
    "feet": "foot toe pad nail claw dewclaw paw",
    "tail": "tail brush set-on gay",
    "coat": """coat hair undercoat topcoat fur colour color marking saddle mask pigment texture fringe
        feathering fawn brindle""",
    "whole": """general appearance temperament character characteristic behaviour behavior size height weight
        proportion balance movement gait action trot stride sex type outline substance condition""",
}
_PHRASES = {
    "rear pastern": "hindquarters",
    "hind pastern": "hindquarters",
    "hind leg": "hindquarters",
    "hind foot": "feet",
    "fore foot": "feet",
    "upper arm": "forequarters",
    "height at the withers": "whole",
    "height at withers": "whole",
    "root of the tail": "tail",
    "set of tail": "tail",
    "colour of eye": "head",
    "tuck up": "body",
}
_IRREGULAR = {"teeth": "tooth", "feet": "foot"}
_ZONE_OF = {word: zone for zone, words in _WORDS.items() for word in words.split()}
_TOKEN = re.compile(
    "|".join(re.escape(phrase) + r"s?\b" for phrase in sorted(_PHRASES, key=len, reverse=True))
    + r"|[a-z]+(?:-[a-z]+)*"
)
_TITLE_WEIGHT = 3


def suggest_zone(section_title: str, clause_text: str) -> str:
    """The key of the zone that a clause belongs to, by the anatomical words in it.

    A zone named in the section's title counts three; each different word of the clause counts one. Among
    equal zones the one that the clause names first wins, else the first of the title. "whole" where neither
    names any.
    """
    in_title, in_text = _zones_named(section_title), _zones_named(clause_text)
    mentioned = [*in_text.values(), *in_title.values()]
    if not mentioned:
        return "whole"
    weight = dict.fromkeys(mentioned, 0)
    for zone in set(in_title.values()):
        weight[zone] += _TITLE_WEIGHT
    for zone in in_text.values():
        weight[zone] += 1
    return max(weight, key=weight.__getitem__)  # the first among equals, in order of mention


def _zones_named(text: str) -> dict[str, str]:
    """Each anatomical word of `text` once, in order, with its zone."""
    named: dict[str, str] = {}
    for token in _TOKEN.findall(text.lower()):
        word, zone = _known(token)
        if zone:
            named.setdefault(word, zone)
    return named


def _known(token: str) -> tuple[str, str | None]:
    for phrase in (token, token.removesuffix("s")):
        if phrase in _PHRASES:
            return phrase, _PHRASES[phrase]
    for word in (token, _IRREGULAR.get(token, ""), token.removesuffix("s"), token.removesuffix("es")):
        if word in _ZONE_OF:
            return word, _ZONE_OF[word]
    return token, None
