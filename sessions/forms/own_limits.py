"""How far a client goes in an exercise, as a number for each side: typed, or touched as a part of the way."""

from django import forms
from django.utils.text import capfirst
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from library import limit_wording
from library.body import limits as ranges
from library.body.shape import LARGEST_ANGLE
from sessions import own_limits
from studio.forms.widgets import Segmented, Stepper

# Parts of the way to touch instead of typing: per cent, and the word.
QUICK = (
    (25, gettext_lazy("A quarter")),
    (50, gettext_lazy("Half way")),
    (75, gettext_lazy("Three quarters")),
    (own_limits.MOST_PER_CENT, gettext_lazy("Whole way")),
)
_STEP, _HALF = 5, 50
_NAMES = {
    "left": gettext_lazy("Left, how far"),
    "right": gettext_lazy("Right, how far"),
    "both": gettext_lazy("How far"),
}
_WHOLE_NUMBER = gettext_lazy("Type a whole number, or leave it empty for the whole way.")


class LimitForm(forms.Form):
    """A number and what it counts, `number_left` and `by_left`, for each side; without sides `…_both`.

    pose: the drawing the limit is set by, or None. sided: whether left and right are set apart. limits: what is kept.
    `limits()` gives what is to be kept, once the form is valid.
    """

    version = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, data=None, *, pose, sided: bool, limits: dict, version: int = 0):
        super().__init__(data, initial={"version": version}, auto_id="id_limit_%s")
        self.pose, self.leading = pose, ranges.lead(pose) if pose else None
        self.sides = own_limits.SIDES if sided else ("both",)
        for side in self.sides:
            self._add(side, own_limits.of_side(limits, side))

    def _add(self, side: str, limit: dict | None) -> None:
        drawn_side = side if side in own_limits.SIDES else None
        self.fields[f"number_{side}"] = forms.IntegerField(
            label=_NAMES[side],
            required=False,
            initial=self._number(limit),
            widget=Stepper(min=None, step=_STEP, start=_HALF, side=drawn_side, small=True),
            error_messages={"invalid": _WHOLE_NUMBER},
        )
        counts = [(ranges.BY_SHARE, _("Per cent"))]
        if self.leading:
            counts.append((ranges.BY_DEGREES, capfirst(limit_wording.measure(self.leading.driver))))
        self.fields[f"by_{side}"] = forms.ChoiceField(
            label=_("Counted in"),
            choices=counts,
            required=False,
            initial=limit["by"] if limit and self._fits(limit) else ranges.BY_SHARE,
            widget=Segmented() if self.leading else forms.HiddenInput(),
        )

    def _fits(self, limit: dict) -> bool:
        return ranges.share_of(limit, self.leading) is not None

    def _number(self, limit: dict | None) -> int | None:
        if not limit or not self._fits(limit):
            return None
        if limit["by"] == ranges.BY_SHARE:
            return limit["value"]
        return round(limit_wording.shown(limit["value"], limit["of"], self.leading.start))

    def rows(self) -> list[dict]:
        """Return the fields of each side as the page lays them out, left on the left."""
        return [
            {"side": side, "number": self[f"number_{side}"], "by": self[f"by_{side}"], "quick": QUICK}
            for side in self.sides
        ]

    def clean(self) -> dict:
        cleaned = super().clean()
        for side in self.sides:
            number = cleaned.get(f"number_{side}")
            if number is not None:
                wrong = self._wrong(number, cleaned.get(f"by_{side}"))
                if wrong:
                    self.add_error(f"number_{side}", wrong)
        return cleaned

    def _wrong(self, number: int, by: str | None) -> str:
        if by != ranges.BY_DEGREES and not 1 <= number <= own_limits.MOST_PER_CENT:
            return _("A part of the way is 1 to 100 per cent. Leave it empty for the whole way.")
        if abs(number) > LARGEST_ANGLE:
            return _("Type degrees from -%(most)s to %(most)s.") % {"most": LARGEST_ANGLE}
        effect = ranges.effect_of(ranges.share_of(self._limit(number, by), self.leading))
        if effect == ranges.NOTHING_LEFT:
            start = limit_wording.shown(self.leading.start, self.leading.driver, self.leading.start)
            words = _(
                "Nothing is left of the movement: it starts at %(n)s. Go further, or leave the exercise out."
            )
            return words % {"n": limit_wording.degrees(start)}
        return ""

    def _limit(self, number: int | None, by: str | None) -> dict | None:
        if number is None:
            return None
        if by == ranges.BY_DEGREES and self.leading:
            return self.leading.limit(limit_wording.value_of(number, self.leading))
        return own_limits.share(number)

    def limits(self) -> dict:
        """Return what is to be kept; sides whose field is wrong go the whole way."""
        return own_limits.made(
            {
                side: self._limit(
                    self.cleaned_data.get(f"number_{side}"), self.cleaned_data.get(f"by_{side}")
                )
                for side in self.sides
            }
        )
