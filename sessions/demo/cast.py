"""The clients of the demo studio: invented, every one. Plain data.

Telephone numbers come only from 01632 960xxx and 07700 900xxx, which are kept free for fiction.
"""

from sessions.demo import cast_arms, cast_backs, cast_bones, cast_legs, cast_whole

CLIENTS = (
    *cast_arms.CLIENTS,
    *cast_backs.CLIENTS,
    *cast_bones.CLIENTS,
    *cast_legs.CLIENTS,
    *cast_whole.CLIENTS,
)
BY_KEY = {person.key: person for person in CLIENTS}
