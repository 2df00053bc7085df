from django.apps import AppConfig


class SessionsConfig(AppConfig):
    # Django's own `sessions` app holds the plain label, so ours has another: commands take the label.
    name = "sessions"
    label = "studio_sessions"
    verbose_name = "Sessions"

    def ready(self):
        from sessions.actions.records import is_recording
        from studio.actions import locking

        locking.AT_WORK.append(is_recording)
