"""Words folded for finding: without accents, case, strokes or punctuation marks. Plain computation."""

import unicodedata

# Letters whose stroke or ligature Unicode does not take apart. An apostrophe is dropped, a hyphen parts words.
_PLAIN = str.maketrans(
    {
        "ø": "o",
        "ł": "l",
        "đ": "d",
        "ð": "d",
        "ħ": "h",
        "ŧ": "t",
        "ı": "i",
        "æ": "ae",
        "œ": "oe",
        "þ": "th",
        **dict.fromkeys("'’‘ʼ`´", ""),
        **dict.fromkeys("-‐‑‒–—", " "),
    }
)


def fold(text: str) -> str:
    """Return the text in a form in which Zoë, ZOE and zoe are the same. Letters of other scripts stay."""
    apart = unicodedata.normalize("NFKD", text.casefold().translate(_PLAIN))
    plain = "".join(c for c in apart if not unicodedata.combining(c))
    return " ".join(plain.translate(_PLAIN).split())
