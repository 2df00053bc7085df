from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.forms import Field
from django.utils.translation import gettext_lazy


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = "Studio"

    def ready(self):
        from django.contrib.auth.signals import user_logged_in

        from studio import checks  # noqa: F401  (registers itself)
        from studio.actions import locking
        from studio.guards import install_after_migrate

        post_migrate.connect(install_after_migrate, dispatch_uid="studio.guards")
        # Whatever way somebody came in, the sign-in has its row.
        user_logged_in.connect(locking.begin, dispatch_uid="studio.locking")
        # One sentence for every empty field of every form, in the words of the house.
        Field.default_error_messages["required"] = gettext_lazy("Fill this in.")
