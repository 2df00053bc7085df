"""One test for a whole table: it goes on after a row that fails and names every one that does.

For generated rows by the hundred, where a test for each would cost more than what it looks at.
"""

import functools
import inspect
from collections.abc import Callable, Iterable


def each(names: str, rows: Iterable | Callable, ids: Iterable[str] | Callable | None = None):
    """Decorate ``check(<names>, <fixtures>)``, as pytest's parametrize does, but for one test over all rows.

    ``names``: the arguments that a row fills, by commas; with one name a row is its value. ``rows``: the table, or a
    function that gives it when the test runs, where that takes a while. ``ids``: what a row is called where it
    fails; without, its values. Put one over another and each row of the upper is
    asked with each of the lower. Fixtures are made once for all rows. A table without rows is refused.
    """
    names = [name.strip() for name in names.split(",")]
    table = None if callable(rows) else _table(names, rows, ids)

    def decorate(check):
        wanted = inspect.signature(check).parameters.values()

        @functools.wraps(check)
        def test(*args, **fixtures):
            asked, failures = table or _table(names, rows(), ids), []
            for name, row in asked:
                try:
                    check(*args, **fixtures, **dict(zip(names, row, strict=True)))
                except Exception as error:
                    kind = "" if isinstance(error, AssertionError) else f"{type(error).__name__}: "
                    failures.append(f"{name}: {kind}{error}")
            if failures:
                raise AssertionError(f"{len(failures)} of {len(asked)} fail\n" + "\n".join(failures))

        # What is left to be asked of pytest: the fixtures, and not what a row fills.
        test.__signature__ = inspect.Signature([one for one in wanted if one.name not in names])
        del test.__wrapped__
        return test

    return decorate


def _table(names: list[str], rows: Iterable, ids) -> list[tuple[str, tuple]]:
    """Return (what it is called, its values) of every row."""
    rows = [(row,) if len(names) == 1 else tuple(row) for row in rows]
    if not rows:
        raise ValueError("a table without rows checks nothing")
    if callable(ids):
        ids = [ids(*row) for row in rows]
    return list(zip(ids or ["-".join(map(str, row)) for row in rows], rows, strict=True))
