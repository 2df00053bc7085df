from django.apps import AppConfig
from django.db.models.signals import post_migrate


class StudioConfig(AppConfig):
    name = "studio"
    verbose_name = "Studio"

    def ready(self):
        from studio import checks  # noqa: F401  (registers itself)
        from studio.guards import install_after_migrate

        post_migrate.connect(install_after_migrate, dispatch_uid="studio.guards")
