"""JSON that never changes, read once: the same text gives the same value, shared and closed to changes."""

import json
from functools import lru_cache

from django.db import models
from django.db.models.fields.json import KeyTransform

# The library's versions several times over; a payload read is some sixty kilobytes. Past this many the oldest go.
KEPT = 1024


def _closed(self, *_args, **_kwargs):
    raise TypeError("What is read of a version is shared: copy it before you change it.")


class ClosedDict(dict):
    """A dict that cannot be changed; `{**it}`, `it | {...}` and a deep copy are plain ones."""

    __setitem__ = __delitem__ = __ior__ = clear = pop = popitem = setdefault = update = _closed

    def __deepcopy__(self, memo) -> dict:
        return json.loads(json.dumps(self))

    def __reduce__(self):
        return dict, (dict(self),)


class ClosedList(list):
    """A list that cannot be changed; `[*it]`, a slice and a deep copy are plain ones."""

    __setitem__ = __delitem__ = __iadd__ = __imul__ = append = clear = extend = _closed
    insert = pop = remove = reverse = sort = _closed

    def __deepcopy__(self, memo) -> list:
        return json.loads(json.dumps(self))

    def __reduce__(self):
        return list, (list(self),)


def closed(value):
    """Return a value of JSON with every dict and list in it closed."""
    if isinstance(value, dict):
        return ClosedDict((name, closed(one)) for name, one in value.items())
    if isinstance(value, list):
        return ClosedList(closed(one) for one in value)
    return value


@lru_cache(maxsize=KEPT)
def read(text: str):
    """Return what a JSON text says, closed and shared by all who ask for the same text."""
    return closed(json.loads(text))


class KeptJSONField(models.JSONField):
    """A JSONField for rows that are written once; to the database and to migrations it is one like any other."""

    def from_db_value(self, value, expression, connection):
        if value is None or (isinstance(expression, KeyTransform) and not isinstance(value, str)):
            return value
        try:
            return read(value)
        except json.JSONDecodeError:
            return value  # a part that is a text comes bare

    def deconstruct(self):
        name, _path, args, kwargs = super().deconstruct()
        return name, "django.db.models.JSONField", args, kwargs
