"""Statuses of answers that show the form again with what was typed; pages swap both in (templates/base.html)."""

# RFC 9110, 15.5.10 and 15.5.21.
CONFLICT = 409  # somebody else wrote first
UNFIT = 422  # what was typed does not fit
