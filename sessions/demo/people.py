"""The people of the demo studio: invented, every one. Plain data.

Telephone numbers come only from 01632 960xxx and 07700 900xxx, which are kept free for fiction. Dates are told
in weeks before (or after) the Monday the demo is laid for.
"""

from dataclasses import dataclass, field
from datetime import date

# One passphrase for everybody, since nothing here is real. Short to type, and long enough for the house's rule.
PASSPHRASE = "left stays left"


@dataclass(frozen=True)
class Worker:
    """Somebody who works in the demo studio. roles: fields of Staff that are true."""

    sign_in_name: str
    full_name: str
    call_name: str
    roles: tuple[str, ...]
    words: str


STAFF = (
    Worker("linnet", "Linnet Ashgrove", "Linnet", ("is_owner", "is_instructor"), "owner, also teaches"),
    Worker("maris", "Maris Fennelcote", "Maris", ("is_instructor",), "instructor"),
    Worker("corin", "Corin Vane-Hollis", "Corin", ("is_instructor",), "instructor"),
    Worker("averil", "Averil Stonecrop", "Averil", ("is_instructor",), "instructor"),
    Worker("juniper", "Juniper Oakmantle", "Juniper", ("is_front_desk",), "front desk"),
)
OWNER, MARIS, CORIN, AVERIL, DESK = (worker.sign_in_name for worker in STAFF)

# What the console prints: who, sign-in name, passphrase.
SIGN_INS = [(worker.words, worker.sign_in_name, PASSPHRASE) for worker in STAFF]


@dataclass(frozen=True)
class Told:
    """A condition ticked on the paper form, and what became of the flag it suggests.

    weeks_ago: weeks from the event to Monday; long_ago: happened, no date wanted. due_in: weeks to the due
    date. becomes: the state an instructor gave it ('proposed' is left as it is).
    """

    condition: str
    side: str = ""
    weeks_ago: int | None = None
    long_ago: bool = False
    due_in: int | None = None
    becomes: str = "active"
    reason: str = ""


@dataclass(frozen=True)
class Limit:
    """What a clinician has said, and how an instructor sorted it."""

    words: str
    by: str
    weeks_ago: int
    about: str
    verdict: str
    side: str
    until_in: int


@dataclass(frozen=True)
class Aim:
    """A goal in the client's words with their numbers, one for each pair (weeks ago, 0 to 10)."""

    words: str
    ratings: tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Person:
    """A client of the demo studio. told is None where the paper form is still missing."""

    key: str
    full_name: str
    call_name: str
    born: date
    telephone: str
    emergency: tuple[str, str]
    told: tuple[Told, ...] | None = ()
    limit: Limit | None = None
    aims: tuple[Aim, ...] = ()
    touch: str = "yes"
    home: tuple[str, ...] = ()
    texts: dict = field(default_factory=dict)
    not_sure: tuple[str, ...] = ()
    size: tuple[int, int] | None = None
    instructor: str = MARIS
    form_weeks_ago: int = 6


CLIENTS = (
    Person(
        key="ottoline",
        full_name="Ottoline Brackwater",
        call_name="Ottoline",
        born=date(1971, 3, 9),
        telephone="07700 900101",
        emergency=("Lucan Brackwater, husband", "07700 900102"),
        told=(Told("frozen_shoulder", side="left", weeks_ago=30),),
        limit=Limit(
            words="No hanging on the left arm; overhead only as far as it goes without pain, nothing loaded",
            by="R. Tindlewell, physiotherapist",
            weeks_ago=7,
            about="overhead_reach",
            verdict="modify",
            side="left",
            until_in=9,
        ),
        aims=(
            Aim("Put the big pan back on the top shelf", ((6, 2), (3, 4), (1, 5))),
            Aim("Sleep on my left side again", ((6, 1), (1, 3))),
        ),
        touch="ask",
        home=("wall", "band", "towel"),
        texts={"hurts": "Left shoulder, behind and down the upper arm, mostly at night."},
        size=(1680, 71000),
    ),
    Person(
        key="imaru",
        full_name="Imaru Saltmarsh",
        call_name="Imaru",
        born=date(1993, 8, 22),
        telephone="07700 900103",
        emergency=("Sefton Saltmarsh, partner", "07700 900104"),
        told=(Told("pregnancy", due_in=20),),
        aims=(Aim("Carry the shopping home without my back complaining", ((5, 4), (2, 5))),),
        home=("wall", "sturdy_chair", "towel"),
        texts={"anything": "Midwife knows I come here and is glad of it."},
        instructor=CORIN,
    ),
    Person(
        key="wenna",
        full_name="Wenna Oakapple",
        call_name="Wenna",
        born=date(1957, 11, 2),
        telephone="01632 960105",
        emergency=("Perran Oakapple, son", "07700 900106"),
        told=(Told("osteoporosis"),),
        aims=(Aim("Get up off the floor without holding on", ((6, 3), (4, 4), (1, 6))),),
        home=("wall", "sturdy_chair", "towel"),
        texts={"tablets": "A weekly tablet for my bones, calcium."},
        not_sure=("cardio_metabolic",),
        size=(1590, 58000),
    ),
    Person(
        key="bashir",
        full_name="Bashir Lanternby",
        call_name="Bashir",
        born=date(1954, 6, 17),
        telephone="01632 960107",
        emergency=("Noor Lanternby, wife", "01632 960108"),
        told=(Told("hip_replacement_posterior", side="right", weeks_ago=11),),
        aims=(Aim("Walk to the harbour and back", ((5, 2), (3, 4), (1, 5))),),
        touch="yes",
        home=("wall", "sturdy_chair"),
        texts={"operations": "New right hip this autumn, done from behind."},
        instructor=AVERIL,
        form_weeks_ago=5,
    ),
    Person(
        key="teodor",
        full_name="Teodor Quillfeather",
        call_name="Teodor",
        born=date(1988, 1, 28),
        telephone="07700 900109",
        emergency=("Ida Quillfeather, sister", "07700 900110"),
        told=(Told("ankle_sprain", side="right", weeks_ago=11),),
        aims=(Aim("Ten kilometres without thinking about the ankle", ((5, 3), (2, 6))),),
        touch="no",
        home=("wall", "band", "towel"),
        texts={"hurts": "Right ankle, on uneven ground."},
        instructor=CORIN,
    ),
    Person(
        key="hollis",
        full_name="Hollis Tanager",
        call_name="Hollis",
        born=date(1982, 9, 5),
        telephone="07700 900111",
        emergency=("Bryn Tanager, husband", "07700 900112"),
        aims=(Aim("Teach my daughter a cartwheel and do one too", ((6, 5), (2, 7))),),
        home=("towel",),
        instructor=OWNER,
    ),
    Person(
        key="yusra",
        full_name="Yusra Penhollow",
        call_name="Yusra",
        born=date(1996, 4, 13),
        telephone="07700 900113",
        emergency=("Dov Marrowby, friend", "07700 900114"),
        told=(Told("hypermobility"),),
        aims=(Aim("Stop locking my knees when I stand all day", ((6, 3), (2, 5))),),
        touch="ask",
        home=("wall", "towel"),
    ),
    Person(
        key="dov",
        full_name="Dov Marrowby",
        call_name="Dov",
        born=date(1990, 12, 19),
        telephone="07700 900114",
        emergency=("Yusra Penhollow, friend", "07700 900113"),
        told=(Told("hypertension_controlled"),),
        aims=(Aim("Touch my toes, for once in my life", ((6, 1), (2, 3))),),
        home=("towel",),
        texts={"tablets": "One tablet for blood pressure in the morning."},
    ),
    Person(
        key="sunniva",
        full_name="Sunniva Thistlewick",
        call_name="Sunniva",
        born=date(1966, 7, 30),
        telephone="01632 960115",
        emergency=("Grete Thistlewick, daughter", "07700 900116"),
        told=(
            Told("knee_osteoarthritis", side="left"),
            Told(
                "tennis_elbow",
                side="right",
                becomes="ended",
                reason="Gone since the summer, she says; nothing left when tested.",
            ),
        ),
        aims=(Aim("Kneel in the garden for ten minutes", ((6, 3), (3, 3), (1, 5))),),
        home=("wall", "sturdy_chair", "towel"),
        instructor=OWNER,
        size=(1720, 80000),
    ),
    Person(
        key="petra",
        full_name="Petra Windrow",
        call_name="Petra",
        born=date(1979, 2, 14),
        telephone="07700 900117",
        emergency=("Anselm Windrow, brother", "01632 960118"),
        told=(
            Told("disc_flexion_intolerant"),
            Told("migraine", becomes="resting", reason="None for a year; rests until she has one again."),
            Told("reflux", becomes="proposed"),
        ),
        aims=(Aim("Tie my shoes in the morning without planning it", ((5, 2), (1, 4))),),
        touch="ask",
        home=("wall", "towel"),
        instructor=OWNER,
        form_weeks_ago=5,
    ),
    Person(
        key="zoe",
        full_name="Zoë Marchbanks",
        call_name="Zoë",
        born=date(2001, 5, 6),
        telephone="07700 900119",
        emergency=("Ffion Marchbanks, mother", "01632 960120"),
        told=None,
        form_weeks_ago=1,
    ),
)
BY_KEY = {person.key: person for person in CLIENTS}
