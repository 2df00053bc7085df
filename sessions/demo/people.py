"""Who works in the demo studio: invented, every one. Plain data."""

from sessions.demo.telling import Worker

# One passphrase for everybody, since nothing here is real. Short to type, and long enough for the house's rule.
PASSPHRASE = "left stays left"

STAFF = (
    Worker("linnet", "Linnet Ashgrove", "Linnet", ("is_owner", "is_instructor"), "owner, also teaches"),
    Worker("maris", "Maris Fennelcote", "Maris", ("is_instructor",), "instructor"),
    Worker("corin", "Corin Vanepost", "Corin", ("is_instructor",), "instructor"),
    Worker("averil", "Averil Stonecrop", "Averil", ("is_instructor",), "instructor"),
    Worker("juniper", "Juniper Oakmantle", "Juniper", ("is_front_desk",), "front desk"),
)
OWNER, MARIS, CORIN, AVERIL, DESK = (worker.sign_in_name for worker in STAFF)

# What the console prints: who, sign-in name, passphrase.
SIGN_INS = [(worker.words, worker.sign_in_name, PASSPHRASE) for worker in STAFF]
