"""What the clients app says, through gettext: the paper form, flags, and what is still to ask."""

import datetime as dt

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from clients import intake_form
from library import tables, vocabulary_wording
from library import wording as library_words
from library.precautions import gestation

ANSWERS = {
    "no": gettext_lazy("No"),
    "yes": gettext_lazy("Yes"),
    "not_sure": gettext_lazy("Not sure"),
    "left_empty": gettext_lazy("Left empty"),
}
SIDES = {
    "left": gettext_lazy("Left"),
    "right": gettext_lazy("Right"),
    "both": gettext_lazy("Both"),
    "unknown": gettext_lazy("Not known"),
}
WHENS = {
    "date": gettext_lazy("On a date"),
    "long_ago": gettext_lazy("More than a year ago"),
    "unknown": gettext_lazy("Not known"),
}
DUE_HOW = {
    "due": gettext_lazy("Due date"),
    "weeks": gettext_lazy("Weeks on a day"),
    "unknown": gettext_lazy("Not known"),
}
# Group of conditions -> heading and question on the form.
GROUPS = {
    "bone_spine": (
        gettext_lazy("Bones, back and neck"),
        gettext_lazy("Is there, or was there, anything with your bones, your back or your neck?"),
    ),
    "shoulder_arm": (
        gettext_lazy("Shoulder, arm and hand"),
        gettext_lazy("Anything with a shoulder, an elbow, a wrist or a hand?"),
    ),
    "hip_knee_foot": (
        gettext_lazy("Hip, knee and foot"),
        gettext_lazy("Anything with a hip, a knee, an ankle or a foot? New joints and repairs too."),
    ),
    "general_msk": (
        gettext_lazy("Joints all over"),
        gettext_lazy("Anything that touches many joints or muscles at once?"),
    ),
    "cardio_metabolic": (
        gettext_lazy("Heart, blood, breath and sugar"),
        gettext_lazy(
            "Anything with your heart, blood pressure, blood vessels, lungs or blood sugar? Blood thinners too."
        ),
    ),
    "eyes_neuro": (
        gettext_lazy("Eyes, head and nerves"),
        gettext_lazy("Anything with your eyes, dizziness, fits, nerves or feeling? A blow to the head too."),
    ),
    "pregnancy_postnatal": (
        gettext_lazy("Pregnancy, birth, pelvic floor"),
        gettext_lazy("Are you pregnant, have you given birth, or is there anything with the pelvic floor?"),
    ),
    "abdomen_cancer_other": (
        gettext_lazy("Belly, cancer and the rest"),
        gettext_lazy(
            "Anything with your belly, a cancer or its treatment, a swollen limb, anxiety, "
            "or tiredness that rest does not mend?"
        ),
    ),
}
# What to date, for conditions that happened on a day. Where nothing is written here the table's words serve.
EVENTS = {
    "osteoporosis_vertebral_fracture": gettext_lazy("Last break of a vertebra"),
    "acute_low_back_pain": gettext_lazy("When the pain began"),
    "whiplash": gettext_lazy("When it happened"),
    "spinal_surgery": gettext_lazy("Operation"),
    "shoulder_instability": gettext_lazy("Last time it came out"),
    "rotator_cuff_repair": gettext_lazy("Operation"),
    "fracture_arm_recent": gettext_lazy("Break or operation"),
    "wrist_hand_injury_acute": gettext_lazy("When it happened"),
    "hip_replacement_posterior": gettext_lazy("Operation"),
    "hip_replacement_anterior": gettext_lazy("Operation"),
    "knee_replacement": gettext_lazy("Operation"),
    "acl_reconstruction": gettext_lazy("Operation"),
    "ankle_sprain": gettext_lazy("When it happened"),
    "fracture_leg_recent": gettext_lazy("Break or operation"),
    "meniscus_repair": gettext_lazy("Operation"),
    "cardiac_surgery_sternotomy": gettext_lazy("Operation"),
    "pacemaker_icd": gettext_lazy("When it was fitted"),
    "recent_clot": gettext_lazy("When the clot was found"),
    "retinal_detachment": gettext_lazy("Operation or tear"),
    "cataract_surgery": gettext_lazy("Operation"),
    "concussion_recent": gettext_lazy("When it happened"),
    "postnatal_vaginal": gettext_lazy("Birth of the baby"),
    "postnatal_caesarean": gettext_lazy("Birth of the baby"),
    "abdominal_surgery_recent": gettext_lazy("Operation"),
    "breast_surgery": gettext_lazy("Operation"),
}
TEXTS = {
    "hurts": gettext_lazy("Where it hurts or feels stiff"),
    "tablets": gettext_lazy("Tablets, sprays, patches"),
    "operations": gettext_lazy("Operations and accidents"),
    "anything": gettext_lazy("Anything else"),
    "wishes": gettext_lazy("What they would like to be able to do"),
    "home_other": gettext_lazy("Other things at home"),
}
CARE = {
    "touch": gettext_lazy("Helping with hands"),
    "home_equipment": gettext_lazy("What they have at home"),
    "stature_mm": gettext_lazy("Stature"),
    "mass_g": gettext_lazy("Mass"),
    "proportions": gettext_lazy("Proportions"),
}
WHYS = {
    "not_sure": gettext_lazy("not sure"),
    "nothing_named": gettext_lazy("yes, and nothing named"),
    "not_answered": gettext_lazy("not answered yet"),
}
DEMAND_GROUPS = {
    "trunk": gettext_lazy("Trunk"),
    "neck": gettext_lazy("Neck"),
    "position": gettext_lazy("Position"),
    "arm": gettext_lazy("Arm"),
    "leg": gettext_lazy("Leg"),
    "effort": gettext_lazy("Effort"),
    "balance": gettext_lazy("Balance"),
}
CAUTIONS = {
    "before_screening": gettext_lazy(
        "The questions help to choose movements. They are no medical examination and rule no illness in or out."
    ),
    "answer_honestly": gettext_lazy(
        "Answer for today. “Not sure” is a good answer: it counts as yes, and means that we ask."
    ),
    "clinician_first": gettext_lazy(
        "Limits from a doctor, midwife, physiotherapist or surgeon come before everything here. "
        "Bring them in writing if you can."
    ),
}


def record_note(day: dt.date) -> str:
    """Return the standing line under what a client told: whose word it is, and that nobody checked it."""
    words = _("As the client told it on %(day)s. Nobody has compared it with medical records.")
    return words % {"day": day_words(day)}


def day_words(day: dt.date) -> str:
    """Return a date in the language of the page."""
    return date_format(day, "DATE_FORMAT")


def group_heading(group: str) -> str:
    """Return the heading of a group of conditions; the table's own where the form has none."""
    return str(GROUPS[group][0]) if group in GROUPS else library_words.condition_group_label(group)


def group_question(group: str) -> str:
    """Return the question of a group as on the form."""
    return str(GROUPS[group][1]) if group in GROUPS else library_words.condition_group_label(group)


def event_words(condition: str) -> str:
    """Return what is dated for a condition, such as 'Operation'; empty where nothing is."""
    if condition in EVENTS:
        return str(EVENTS[condition])
    row = tables.rule_table().conditions.get(condition)
    return _(row["event_label"]) if row and row["event_label"] else ""


def about_label(about: str) -> str:
    """Return what a clinician's instruction is about: a demand, an exercise, or nothing sorted yet."""
    if about == intake_form.UNSETTLED:
        return _("A clinician’s limit from the form")
    if about in tables.rule_table().demands:
        return library_words.demand_label(about)
    fact = tables.exercises().get(about)
    return fact["name"] if fact else about


def flag_title(flag) -> str:
    """Return what a flag is: the condition, or what a clinician's word is about. Without the side."""
    return about_label(flag.about) if flag.about else library_words.condition_label(flag.condition)


def when_words(flag, today: dt.date) -> str:
    """Return the dates of a condition in words; empty where it has none."""
    if flag.due_on:
        return due_words(flag.due_on, today)
    if flag.when == "date" and flag.event_on:
        return f"{event_words(flag.condition)}: {day_words(flag.event_on)}"
    if flag.when in ("long_ago", "unknown"):
        question = intake_form.questions().get(flag.condition)
        if question and question.asks == "due":
            return _("due date not known")
        word = _("more than a year ago") if flag.when == "long_ago" else _("date not known")
        label = event_words(flag.condition)
        return f"{label}: {word}" if label else word
    return ""


def due_words(due: dt.date, today: dt.date) -> str:
    """Return a due date with the weeks it means today; past 42 weeks it says to ask about the birth."""
    weeks_days = gestation(due, today)
    if weeks_days is None:
        return _("due %(day)s") % {"day": day_words(due)}
    weeks, days = weeks_days
    if weeks >= 42:
        return _("due %(day)s: ask whether the baby is born") % {"day": day_words(due)}
    return _("due %(day)s, today %(length)s") % {"day": day_words(due), "length": weeks_words(weeks, days)}


def weeks_words(weeks: int, days: int) -> str:
    """Return a length of pregnancy, such as '13 weeks 1 day'."""
    parts = [ngettext("%(n)d week", "%(n)d weeks", weeks) % {"n": weeks}]
    if days:
        parts.append(ngettext("%(n)d day", "%(n)d days", days) % {"n": days})
    return " ".join(parts)


def table_note(note: str) -> str:
    """Return a remark of the rule table in the language of the page; empty for none."""
    return _(note) if note else ""


def said_words(flag) -> str:
    """Return who gave an instruction and when: 'A. Thornquill, 2 April 2026'; empty for a condition."""
    if not flag.about:
        return ""
    who = flag.clinician or _("who is not known")
    return f"{who}, {day_words(flag.dated)}" if flag.dated else who


def told_words(condition: str, told: dict) -> str:
    """Return one ticked condition of a form as it was recorded: name, side, date."""
    parts = [library_words.condition_label(condition)]
    side, when, on, due = (told.get(name) or "" for name in ("side", "when", "on", "due"))
    if side:
        parts.append(library_words.side_word(side))
    if due:
        parts.append(_("due %(day)s") % {"day": day_words(intake_form.date_of(due))})
        if "weeks" in told:
            parts.append(_weeks_words(told))
    elif on:
        parts.append(day_words(intake_form.date_of(on)))
    elif when:
        parts.append(str(WHENS.get(when, when)).lower())
    return ", ".join(parts)


def _weeks_words(told: dict) -> str:
    """Return a due date as it was told, in weeks on a day."""
    length = weeks_words(int(told["weeks"]), int(told.get("days") or 0))
    day = intake_form.date_of(told.get("weeks_on"))
    return _("told as %(length)s on %(day)s") % {"length": length, "day": day_words(day) if day else "–"}


def home_words(values) -> list[str]:
    """Return things at home in words; one outside the closed list shows as it was written."""
    known = vocabulary_wording.HOME_PROPS
    return [str(known.get(value, value)) for value in values or ()]


def home_choices() -> list[tuple[str, str]]:
    """Return the closed list of things at home as choices."""
    return [(value, vocabulary_wording.home_prop(value)) for value in tables.closed_list("home_prop")]


def condition_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return all conditions, grouped as on the form, for a select."""
    return [
        (group_heading(group), [(q.id, library_words.condition_label(q.id)) for q in conditions])
        for group, conditions in intake_form.groups()
    ]


def about_choices() -> list[tuple[str, list[tuple[str, str]]]]:
    """Return what an instruction may be about, for a select: demands by their groups, then exercises."""
    demands: dict[str, list] = {}
    for row in tables.rule_table().demands.values():
        heading = _("Movement: %(what)s") % {"what": DEMAND_GROUPS.get(row["group"], row["group"])}
        demands.setdefault(heading, []).append((row["id"], library_words.demand_label(row["id"])))
    exercises: dict[str, list] = {}
    for fact in tables.exercises().values():
        heading = _("Exercise: %(what)s") % {"what": vocabulary_wording.apparatus(fact["apparatus"])}
        exercises.setdefault(heading, []).append((fact["id"], fact["name"]))
    for rows in exercises.values():
        rows.sort(key=lambda row: row[1].casefold())
    return [*demands.items(), *exercises.items()]


def ask_words(ask: intake_form.Ask) -> str:
    """Return one thing still to ask: 'Ask about eyes, head and nerves: not sure'."""
    heading = group_heading(ask.group)
    return _("Ask about %(what)s: %(why)s") % {
        "what": heading[:1].lower() + heading[1:],
        "why": WHYS[ask.why],
    }
