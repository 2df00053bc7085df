from django.apps import AppConfig


class LibraryConfig(AppConfig):
    name = "library"
    verbose_name = "Library"

    def ready(self):
        from library.templatetags.library import review_words
        from studio.templatetags import controls

        # Below every sheet of reasons: who has reviewed the rules, or that nobody has.
        controls.STANDING.append(review_words)
