"""Parts of a page that follow from the values they are given and from the language alone: drawn once, then kept.

A page of the day draws some two hundred of them, and few differ.
"""

import json
from functools import lru_cache, wraps

from django.template.loader import get_template
from django.utils.functional import Promise
from django.utils.safestring import mark_safe
from django.utils.translation import get_language

# A part is two kilobytes or so. Past this many those go that were asked for longest ago.
KEPT = 2048


def drawn(name: str, values: dict) -> str:
    """Return a template filled in with plain values: texts, numbers, truth values, None, lists and dicts of them.

    It is drawn from its key, which holds template, language and values, and from nothing else: so what is kept
    under a key is what drawing it anew would give. Texts lose their mark of being escaped already. Raises
    TypeError for any other value, a day for instance, whose words depend on more than the language.
    """
    return _drawn(name, get_language(), json.dumps(values, default=_words))


def _words(value) -> str:
    if isinstance(value, Promise):
        return str(value)
    raise TypeError(f"A part that is kept takes plain values, not {value!r}.")


@lru_cache(maxsize=KEPT)
def _drawn(name: str, _language: str | None, values: str) -> str:
    return mark_safe(get_template(name).render(json.loads(values)))


def kept_tag(register, template: str, name: str | None = None):
    """Register a function as a tag that draws a template with what it returns; like `inclusion_tag`, but kept.

    The template sees these values only: no request, no names of the page around it.
    """

    def decorate(values_of):
        @wraps(values_of)
        def tag(*args, **kwargs):
            return drawn(template, values_of(*args, **kwargs))

        register.simple_tag(tag, name=name or values_of.__name__)
        return values_of

    return decorate
