from django.apps import AppConfig


class QuotesConfig(AppConfig):
    name = "quotes"

    def ready(self) -> None:
        # Models are loaded only by now.
        from firm.actions.papers import register_press
        from firm.actions.tray import register_check
        from firm.queries.papers import register_reader
        from jobs.queries.job_page import register_section
        from quotes.actions.quote_letters import why_not_follow_up
        from quotes.documents.quote import quote_pdf
        from quotes.queries.look_section import look_section
        from quotes.queries.quote import paper_is_for
        from quotes.queries.quote_section import quote_section

        register_section("look", 10, look_section)
        register_section("quote", 20, quote_section)
        register_press("quote", quote_pdf)
        register_reader("quote", paper_is_for)
        register_check(
            "quote-follow-up",
            lambda notice, now: why_not_follow_up(notice.about_id, now=now),
        )
