"""Time zones to choose from: one name for each place, no clocks without a place and no old spellings."""

import zoneinfo

REGIONS = (
    "Africa",
    "America",
    "Antarctica",
    "Arctic",
    "Asia",
    "Atlantic",
    "Australia",
    "Europe",
    "Indian",
    "Pacific",
)


def choices(kept: str = "") -> list[tuple[str, str]]:
    """Return (name, label) of every zone named after a region and a place, sorted; `kept` stays among them.

    Names as in the IANA time zone database; its page "Theory and pragmatics" gives AREA/LOCATION as the form
    of a name and keeps the others (GB, EST5EDT, Factory) for old programs. From memory.
    """
    names = {name for name in zoneinfo.available_timezones() if name.partition("/")[0] in REGIONS}
    names |= {"UTC", kept} - {""}
    return [(name, name.replace("_", " ")) for name in sorted(names)]
