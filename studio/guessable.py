"""Whether a long passphrase is still one of the first that anybody would try.

NIST SP 800-63B-4, 3.1.1.2: compare the whole passphrase with common and breached ones and with words of the place.
"""

import re
import unicodedata
from collections.abc import Collection, Iterable

# Well-known phrases of fifteen characters and more, letters and digits only. From memory.
_LISTED = """
correcthorsebatterystaple iloveyousomuch iloveyouforever iwillalwaysloveyou letmeinletmein
letmeinplease thisismypassword thisismypassphrase mypasswordispassword changemeplease
changethispassword passwordpassword passphrasepassphrase administrator1 superadministrator
youshallnotpass maytheforcebewithyou tobeornottobe tobeornottobethatisthequestion onceuponatime
onceuponatimethere thequickbrownfox thequickbrownfoxjumpsoverthelazydog happybirthdaytoyou
twinkletwinklelittlestar maryhadalittlelamb godsavetheking godsavethequeen
ourfatherwhoartinheaven loveyouforever iamtheonewhoknocks winteriscoming1 opensesame12345
fourplainwords fourordinarywords fourorfiveordinarywords onetwothreefour onetwothreefourfive
abcdefghijklmno abcdefghijklmnopqrstuvwxyz qwertyuiopasdfgh qwertyuiopasdfghjkl
qwertyuiopasdfghjklzxcvbnm asdfghjklqwertyuiop zxcvbnmasdfghjkl azertyuiopqsdfgh
qwertzuiopasdfgh
"""
PHRASES = frozenset(_LISTED.split())
# Said of every studio with this program in it.
HOUSE_WORDS = ("evenside", "pilates", "studio", "reformer", "owner", "instructor", "frontdesk", "reception")
ROWS = ("abcdefghijklmnopqrstuvwxyz", "01234567890", "qwertyuiop", "asdfghjkl", "zxcvbnm")
_SHORTEST_WORD = 3
_PADDING = 4


def flat(text: str) -> str:
    """Return small letters and digits only, without accents."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    return "".join(c for c in plain if c.isalnum())


def words_of(*names: str) -> set[str]:
    """Return every name as a whole and each of its words, as they would turn up in a passphrase."""
    parts = {flat(part) for name in names for part in (name, *re.split(r"[\W_]+", name))}
    return {part for part in parts if len(part) >= _SHORTEST_WORD}


def is_pattern(text: str) -> bool:
    """Return whether a text is a few signs over and over, or a run along the alphabet or the keys."""
    if not text:
        return True
    if any(text == (text[:n] * len(text))[: len(text)] for n in range(1, min(4, max(len(text) // 2, 1)) + 1)):
        return True
    return any(text in way * 3 for row in ROWS for way in (row, row[::-1]))


def _is_common(text: str, common: Collection[str]) -> bool:
    if text in PHRASES or text in common or is_pattern(text):
        return True
    for cut in range(4, len(text)):
        head, tail = text[:cut], text[cut:]
        if head in common and (is_pattern(tail) or tail in common and tail == head):
            return True
    return False


def why(passphrase: str, place: Iterable[str], common: Collection[str]) -> str | None:
    """Return "common", "place" or None.

    place: words of this place (see words_of). common: known passwords in small letters. A word of the place is
    only held against a passphrase that is nothing else but such words and a little padding.
    """
    text = flat(passphrase)
    if passphrase.casefold() in common or (_is_common(text, common) if text else len(set(passphrase)) == 1):
        return "common"
    rest = text
    for word in sorted({*HOUSE_WORDS, *place}, key=len, reverse=True):
        rest = rest.replace(word, "")
    if rest != text and (len(rest) <= _PADDING or is_pattern(rest)):
        return "place"
    return None
