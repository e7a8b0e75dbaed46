from django.apps import AppConfig


class QuotesConfig(AppConfig):
    name = "quotes"

    def ready(self) -> None:
        # Models are loaded only by now.
        from jobs.queries.job_page import register_section
        from quotes.queries.look_section import look_section

        register_section("look", 10, look_section)
