"""Measures, their changes, gaps and trends in words, through gettext.

Words that are data (how a measure is taken) are looked up as they stand in the data files. 'More than noise' is a
change or gap at or above the published limit, 'within noise' one below it; the rest cannot be told, with a reason.
"""

from decimal import ROUND_HALF_UP, Decimal

from django.utils.formats import date_format, number_format
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import measures
from library.measures import Change, Gap, Measure, Trend
from studio.wording import SIDES_AFTER_COMMA

REASONS = {
    "no_limit": gettext_lazy("No study gives the error of this measure."),
    "both_at_ceiling": gettext_lazy("Both values are at the top of the test."),
    "one_at_ceiling": gettext_lazy(
        "One value is at the top of the test, and the difference is below the limit."
    ),
    "not_comparable": gettext_lazy("They were not taken in the same way."),
    "nothing_done": gettext_lazy("Both sides are at nought: there is nothing to compare."),
    "one_side_nothing": gettext_lazy("One side is at nought, so there is no percentage."),
}
READ = {
    "abstract": gettext_lazy("read in the abstract"),
    "table": gettext_lazy("read in its table"),
    "text": gettext_lazy("read in the text"),
}
HUNDREDTH = Decimal("0.01")


def words(of: Measure) -> measures.Words:
    """What the measure is called and how it is taken, in the language of the page."""
    shipped = measures.words(of.id)
    return measures.Words(
        name=_(shipped.name),
        short=_(shipped.short),
        what=_(shipped.what),
        kit=_(shipped.kit),
        how=tuple(_(line) for line in shipped.how),
        same=_(shipped.same),
        stop=_(shipped.stop),
        bottom=_(shipped.bottom),
    )


def number(of: Measure, value: Decimal, *, signed: bool = False) -> str:
    """A value with as many decimals as the measure is read with; a plus where `signed` and above nought."""
    places = _places(of)
    shown = Decimal(value).quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP)
    text = number_format(abs(shown), places, use_l10n=True)
    sign = "−" if shown < 0 else "+" if signed and shown > 0 else ""
    return sign + text


def value_words(of: Measure, value: Decimal, *, signed: bool = False) -> str:
    """'8.5 cm', '44 s'."""
    return _("%(number)s %(unit)s") % {"number": number(of, value, signed=signed), "unit": of.unit}


def plain(of: Measure, value: Decimal) -> str:
    """A value as a number field takes it: with a point in every language, and a plain minus."""
    return str(value.quantize(Decimal(1).scaleb(-_places(of)), ROUND_HALF_UP))


def _places(of: Measure) -> int:
    return max(0, -of.step.as_tuple().exponent)


def limit_number(value: Decimal) -> str:
    """A limit as it was printed: '1.9', '4', '30.4'; a computed one to a tenth."""
    shown = value.quantize(Decimal("0.1"), ROUND_HALF_UP)
    whole = shown == shown.to_integral_value()
    return number_format(shown, 0 if whole else 1, use_l10n=True)


def reason_words(code: str) -> str:
    """Why there is no verdict, in a sentence; empty for no code."""
    return str(REASONS[code]) if code else ""


def change_words(of: Measure, change: Change) -> str:
    """'up 3.0 cm', 'up 0.5 cm, within noise', 'the same', or 'cannot tell'."""
    if change.kind == "cannot" and change.amount is None:
        return _("cannot tell")
    said = _("the same") if change.amount == 0 else _way(of, change.amount)
    if change.kind == "cannot":
        return _("%(change)s, cannot tell") % {"change": said}
    if change.kind == "noise" and change.amount != 0:
        return _("%(change)s, within noise") % {"change": said}
    return said


def _way(of: Measure, amount: Decimal) -> str:
    value = value_words(of, abs(amount))
    return (_("up %(value)s") if amount > 0 else _("down %(value)s")) % {"value": value}


def change_sentence(of: Measure, change: Change) -> str:
    """The change with what it means, in a sentence or two."""
    if change.kind == "cannot":
        return _("Cannot tell. %(reason)s") % {"reason": reason_words(change.reason)}
    limit = _limit(of, change.limit)
    if change.kind == "noise":
        if change.amount == 0:
            return _("The same as before.")
        return _("%(change)s: within noise, which reaches to %(limit)s.") % {
            "change": _capital(_way(of, change.amount)),
            "limit": limit,
        }
    meant = {"better": _("better"), "worse": _("less than before"), "changed": _("changed")}[change.direction]
    return _("%(change)s: more than noise, %(meant)s.") % {
        "change": _capital(_way(of, change.amount)),
        "meant": meant,
    }


def gap_words(of: Measure, gap: Gap) -> str:
    """'left 2.5 cm behind', '6 s apart, within noise', 'even', or 'cannot tell'."""
    if gap.kind == "cannot":
        return _("cannot tell")
    if gap.amount == 0:
        return _("even")
    apart = value_words(of, abs(gap.amount))
    if gap.kind == "even":
        return _("%(value)s apart, within noise") % {"value": apart}
    if gap.behind == "left":
        return _("left %(value)s behind") % {"value": apart}
    if gap.behind == "right":
        return _("right %(value)s behind") % {"value": apart}
    return _("%(value)s apart") % {"value": apart}


def gap_sentence(of: Measure, gap: Gap) -> str:
    """The gap with its limit, and a percentage where one may be shown."""
    if gap.kind == "cannot":
        return _("Cannot tell. %(reason)s") % {"reason": reason_words(gap.reason)}
    said = [_apart(of, gap), _gap_limit_words(of, gap)]
    if gap.reason:
        said.append(reason_words(gap.reason))
    if gap.percent is not None:
        said.append(_percent_words(gap))
    return " ".join(said)


def _apart(of: Measure, gap: Gap) -> str:
    if gap.amount == 0:
        return _("Both sides the same.")
    value = {"value": value_words(of, abs(gap.amount))}
    if gap.amount > 0:
        return _("Right %(value)s more than left.") % value
    return _("Left %(value)s more than right.") % value


def _gap_limit_words(of: Measure, gap: Gap) -> str:
    return _("A gap under %(limit)s is within noise.") % {"limit": _limit(of, gap.limit)}


def _percent_words(gap: Gap) -> str:
    percent = int(gap.percent.quantize(Decimal(1), ROUND_HALF_UP))
    if gap.amount > 0:
        return _("Left is %(percent)s %% of right.") % {"percent": percent}
    return _("Right is %(percent)s %% of left.") % {"percent": percent}


def gap_change_words(of: Measure, change: Change) -> str:
    """'gap 3.0 cm narrower', 'gap within noise of what it was', 'the sides changed places' or 'cannot tell'."""
    if change.kind == "cannot":
        return _("cannot tell")
    if change.kind == "noise":
        return _("gap within noise of what it was")
    value = {"value": value_words(of, abs(change.amount))}
    if change.direction == "crossed":
        return _("the sides changed places")
    return (
        _("gap %(value)s narrower") if change.direction == "narrower" else _("gap %(value)s wider")
    ) % value


def trend_words(of: Measure, trend: Trend) -> str:
    """The trend in a few words; a slope is named only where a trend is called."""
    if trend.kind == "too_few":
        return _("too few tests for a trend")
    if trend.kind == "none":
        return _("no clear trend")
    slope = number_format(abs(trend.slope_per_week).quantize(HUNDREDTH, ROUND_HALF_UP), 2, use_l10n=True)
    said = {"slope": slope, "unit": of.unit}
    if trend.kind == "rising":
        return _("rising, about %(slope)s %(unit)s a week") % said
    return _("falling, about %(slope)s %(unit)s a week") % said


def goal_words(goal) -> str:
    """'Knee to wall, left, 10 cm by 1 July 2027'; empty for a goal without a number.

    goal: anything with measure, side ('left', 'right', 'both'), target_value and target_on.
    """
    if not goal.measure or goal.measure not in measures.all_measures():
        return ""
    of = measures.measure(goal.measure)
    said = {
        "measure": words(of).short,
        "side": SIDES_AFTER_COMMA[goal.side],
        "value": _limit(of, goal.target_value),
    }
    if goal.target_on is None:
        return _("%(measure)s, %(side)s, %(value)s") % said
    said["day"] = date_format(goal.target_on, "DATE_FORMAT")
    return _("%(measure)s, %(side)s, %(value)s by %(day)s") % said


def limit_words(of: Measure) -> str:
    """What change counts, how sure that is, and for whom it was found."""
    figure = of.change_limit
    if figure is None:
        return reason_words("no_limit")
    said = {"limit": _limit(of, figure.value), "who": figure.population, "level": figure.level}
    if figure.level is None:
        return (
            _("A change or a gap under %(limit)s is within noise. Found in: %(who)s; level not stated.")
            % said
        )
    return (
        _("A change or a gap under %(limit)s is within noise. Found in: %(who)s, %(level)s %% level.") % said
    )


def source_words(key: str) -> str:
    """A source as a citation, with how much of it was read."""
    row = measures.source(key)
    return _("%(citation)s (%(read)s)") % {"citation": row["citation"], "read": READ[row["read"]]}


def _limit(of: Measure, value: Decimal) -> str:
    return _("%(number)s %(unit)s") % {"number": limit_number(value), "unit": of.unit}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
