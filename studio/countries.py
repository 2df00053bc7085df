"""What is usual in a country: currency, units, paper and the way of writing dates, as guesses for the first page.

Plain: the machine's time zone, a table of zones and the browser's languages come in as arguments.

Sources: currencies ISO 4217 by country; paper and units as in the Unicode locale data (paperSize, measurementSystem:
US-Letter and US units); all three from memory. A guess stands in a field and is looked at before it is saved.
"""

import re
from dataclasses import dataclass

_EURO = "AD AT BE BG CY DE EE ES FI FR GR HR IE IT LT LU LV MC ME MT NL PT SI SK SM VA XK"
_OTHERS = (
    "AE:AED AR:ARS AU:AUD BD:BDT BH:BHD BR:BRL BW:BWP CA:CAD CH:CHF CL:CLP CN:CNY CO:COP CR:CRC CZ:CZK DK:DKK EG:EGP "
    "FJ:FJD GB:GBP GE:GEL GG:GBP GH:GHS GI:GIP GT:GTQ HK:HKD HU:HUF ID:IDR IL:ILS IM:GBP IN:INR IS:ISK JE:GBP JM:JMD "
    "JO:JOD JP:JPY KE:KES KR:KRW KW:KWD LI:CHF LK:LKR MA:MAD MU:MUR MX:MXN MY:MYR NA:NAD NG:NGN NO:NOK NZ:NZD OM:OMR "
    "PA:PAB PE:PEN PH:PHP PK:PKR PL:PLN PR:USD QA:QAR RO:RON RS:RSD SA:SAR SE:SEK SG:SGD TH:THB TN:TND TR:TRY TT:TTD "
    "TW:TWD TZ:TZS UA:UAH UG:UGX US:USD UY:UYU VN:VND ZA:ZAR ZM:ZMW"
)
CURRENCY = {**dict.fromkeys(_EURO.split(), "EUR"), **dict(pair.split(":") for pair in _OTHERS.split())}
LETTER = frozenset(["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"])
IMPERIAL = frozenset({"US", "LR", "PR"})
LOCALES = {"US": "en-us", "PR": "en-us", "PH": "en-us", "AU": "en-au", "NZ": "en-au"}


@dataclass(frozen=True)
class Usual:
    """Guesses for a studio; '' where nothing can be said. units: metric or imperial, paper: a4 or letter."""

    zone: str
    currency: str
    units: str
    paper: str
    locale: str


def usual(zone: str, table: str, languages: str) -> Usual:
    """Return what is usual where a machine stands.

    zone: its time zone, '' where not known. table: the text of zone.tab of the time zone database. languages: the
    browser's Accept-Language header. The zone goes before the header: many browsers say en-US wherever they are.
    """
    zones = _zones(table)
    country = next((code for code, names in zones.items() if zone in names), "") or _region(languages)
    only = zones.get(country, [])
    return Usual(
        zone=zone if zone in _all(zones) else (only[0] if len(only) == 1 else ""),
        currency=CURRENCY.get(country, ""),
        units="imperial" if country in IMPERIAL else "metric",
        paper="letter" if country in LETTER else "a4",
        locale=LOCALES.get(country, "en-gb"),
    )


def _zones(table: str) -> dict[str, list[str]]:
    """Return country -> its zones. Lines hold country, place, zone and sometimes words, with tabs between."""
    found: dict[str, list[str]] = {}
    for line in table.splitlines():
        parts = line.split("\t")
        if len(parts) >= 3 and not line.startswith("#"):
            found.setdefault(parts[0], []).append(parts[2])
    return found


def _all(zones: dict[str, list[str]]) -> set[str]:
    return {name for names in zones.values() for name in names}


def _region(languages: str) -> str:
    """Return the country of the first language that names one (RFC 9110, 12.5.4; RFC 5646, 2.2.4), or ''."""
    found = re.search(r"\b[a-zA-Z]{2,3}(?:-[a-zA-Z]{4})?-([a-zA-Z]{2})\b", languages)
    return found[1].upper() if found else ""
