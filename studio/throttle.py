"""How long a wrong passphrase makes one wait."""

# NIST SP 800-63B-4, 3.2.2: at most 100 failures in a row. The growing wait is the studio's own choice.
MOST_FAILURES = 100
_FREE = 3
_LONGEST_WAIT = 15 * 60


def wait_after(failures: int) -> int:
    """Return the seconds to wait after so many failures in a row: none, then 1, 2, 4 … up to 15 minutes."""
    if failures <= _FREE:
        return 0
    return min(_LONGEST_WAIT, 2 ** min(failures - _FREE - 1, 20))


def is_shut(failures: int) -> bool:
    """Return whether the passphrase is shut until the owner sets a new one."""
    return failures >= MOST_FAILURES
