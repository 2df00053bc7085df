"""Who may do what, in the words of the studio."""

OWNER = "owner"
INSTRUCTOR = "instructor"
FRONT_DESK = "front_desk"

EVERYONE = frozenset({OWNER, INSTRUCTOR, FRONT_DESK})
# Health answers, flags, plans, records: the people who teach, and the owner.
HEALTH_READERS = frozenset({OWNER, INSTRUCTOR})
# Takes bookings and intake.
DESK_WRITERS = frozenset({OWNER, FRONT_DESK})
