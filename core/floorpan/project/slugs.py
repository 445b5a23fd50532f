"""A name for people made into a name for files on every system."""

import re
import unicodedata

_LONGEST = 60
_EMPTY = "untitled"
# Names that one widespread system keeps for its devices, whatever follows a dot.
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)$")


def slug(text: str) -> str:
    """A file name without an ending: lower-case letters, digits and single hyphens, 1 to 60 characters.

    Accents come off Latin letters; letters of other scripts stay, with the marks they need. Never empty,
    never a device name, no dot or space anywhere. slug(slug(x)) == slug(x).
    """
    lettered = "".join(_shown(text))
    joined = re.sub(r"-+", "-", unicodedata.normalize("NFC", lettered)).strip("-")
    name = joined[:_LONGEST].rstrip("-") or _EMPTY
    return f"{name}-1" if _RESERVED.match(name) else name


def _shown(text: str) -> list[str]:
    """Characters of the slug, decomposed; everything that is no letter, digit or needed mark is a hyphen."""
    decomposed = unicodedata.normalize("NFKD", unicodedata.normalize("NFKC", text).casefold())
    shown: list[str] = []
    for sign in decomposed:
        group = unicodedata.category(sign)[0]
        if group == "M":
            # A mark at the start of a word, or on a plain Latin letter, says nothing a file name needs.
            if shown and shown[-1] != "-" and not shown[-1].isascii():
                shown.append(sign)
        elif group in "LN":
            shown.append(sign)
        else:
            shown.append("-")
    return shown
