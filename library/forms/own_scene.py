"""The apparatus of a figure in number fields: a part of the form of the figure."""

from django.utils.translation import gettext as _

from library import own_figure as figures
from library import own_scene, scene_wording
from library.forms.own_fields import chosen, number


class FigureScene:
    """The fields of a scene in a FigureForm. `pose` is the base with what may be there as it was chosen."""

    def __init__(self, form, held):
        self.form, self.base = form, form.base["scene"]
        self.numbers = own_scene.numbers(self.base)
        self.choices = own_scene.choices(self.base)
        for one in self.numbers:
            self._add_number(one)
        for name, codes in self.choices.items():
            words = [(code, scene_wording.choice_word(name, code)) for code in codes]
            field = chosen(scene_wording.part_name(name), words, slot=f"scene-{name}")
            form.fields[figures.scene_field(name)] = field
        there = {name: held(figures.scene_field(name)) for name in self.choices}
        known = {name: code for name, code in there.items() if code in self.choices[name]}
        self.pose = {**form.base, "scene": own_scene.built(self.base, known)}

    def _add_number(self, one: own_scene.Number) -> None:
        label = scene_wording.number_label(one, self.base)
        slot, says = f"scene-{one.part}", scene_wording.bounds(one)
        field = number(label, one.most, says, least=one.least, slot=slot)
        field.required, field.error_messages["required"] = True, says
        field.widget.attrs["aria-label"] = scene_wording.full_label(one, self.base)
        self.form.fields[figures.scene_field(one.name)] = field

    def clean(self, data: dict) -> None:
        """Say what does not fit together: far ends before near ones, and what touches a box that is not there."""
        values = figures.scene_values(self.base, data)
        for one in own_scene.turned_about(self.base, values):
            self.form.add_error(figures.scene_field(one.name), scene_wording.turned_about())
        touches = any(
            data.get(f"{name}-t{place}-on") == "box"
            for name in self.form.phases
            for place in range(self.form.counts[name])
        )
        if "box" in self.choices and touches and not values.get("box"):
            says = _(
                "Something still touches the box. Take that contact out first, or let it touch something else."
            )
            self.form.add_error(figures.scene_field("box"), says)

    def slots(self) -> list[str]:
        return [f"scene-{part}" for part in own_scene.parts(self.base)]

    def slot_of(self, field: str) -> str:
        """Return the slot of a field: the row of its part."""
        name = field.removeprefix("scene-")
        found = next((one.part for one in self.numbers if one.name == name), name)
        return f"scene-{found}"

    def slot_of_thing(self, thing: str) -> str:
        """Return the slot of the part that says where a surface or a firm part is; '' where none does."""
        slot = f"scene-{own_scene.part_of(thing)}"
        return slot if slot in self.slots() else ""

    def slots_of_contact(self, phase: str, place: int) -> str:
        """Return the slot of what a contact is on, where it is elsewhere than in the drawing it began with."""
        slot = self.slot_of_thing(str(self.form[f"{phase}-t{place}-on"].value() or ""))
        return slot if slot and slot in self._changed() else ""

    def _changed(self) -> set[str]:
        at_first, changed = own_scene.initial(self.base), set()
        for name, before in at_first.items():
            field = figures.scene_field(name)
            now = self.form[field].value()
            if str(now) != str(before) and not _same(now, before):
                changed.add(self.slot_of(field))
        return changed

    def rows(self) -> list[dict]:
        """Return each part with its fields, in order."""
        found = []
        for part in own_scene.parts(self.base):
            names = [part] if part in self.choices else [one.name for one in self.numbers if one.part == part]
            found.append(
                {
                    "id": f"scene-{part}",
                    "name": scene_wording.part_name(part),
                    "choice": part in self.choices,
                    "fields": [self.form[figures.scene_field(name)] for name in names],
                }
            )
        return found


def _same(typed, before) -> bool:
    try:
        return float(typed) == float(before)
    except (TypeError, ValueError):
        return False
