"""What a browser would send, for the forms of this app."""

from clients.intake_form import groups

CONTACT = {
    "full_name": "Sunniva Saltmarsh",
    "call_name": "Sunniva",
    "birth_date": "1980-05-03",
    "telephone": "07700 900555",
    "email": "",
    "emergency_name": "Rowan Fernhollow",
    "emergency_telephone": "01632 960200",
}


def contact(**changed) -> dict:
    """Return a contact form filled in; a value of None leaves the field out."""
    return {name: value for name, value in {**CONTACT, **changed}.items() if value is not None}


def intake(**changed) -> dict:
    """Return a paper form filled in, with 'no' to every group; a value of None leaves the field out."""
    form = {
        "given_by": "paper",
        "given_on": "2026-11-20",
        "contact_same": "on",
        **{f"group_{group}": "no" for group, _conditions in groups()},
    }
    return {name: value for name, value in {**form, **changed}.items() if value is not None}
