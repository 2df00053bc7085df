from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.forms import Field
from django.utils.translation import gettext_lazy


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = "Studio"

    def ready(self):
        from studio import checks  # noqa: F401  (registers itself)
        from studio.guards import install_after_migrate

        post_migrate.connect(install_after_migrate, dispatch_uid="studio.guards")
        # One sentence for every empty field of every form, in the words of the house.
        Field.default_error_messages["required"] = gettext_lazy("Fill this in.")
