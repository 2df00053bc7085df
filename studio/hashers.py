"""How passphrases are stored."""

from django.contrib.auth.hashers import Argon2PasswordHasher


class StudioArgon2(Argon2PasswordHasher):
    """Argon2id at 19 MiB, 2 passes, 1 lane: the floor of the OWASP password storage cheat sheet.

    Django's default takes 100 MiB a hash, too much for a small machine that serves several people.
    Django rehashes a stored value with other costs at the next sign-in.
    """

    time_cost = 2
    memory_cost = 19 * 1024
    parallelism = 1
