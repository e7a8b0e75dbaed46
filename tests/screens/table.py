"""Who may open what: every address, everybody who may come, both verbs.

200 the page, 303 done, 302 sent on (to their own pages, or asked for the password
once more), "in" sent to the door to sign in, 403 not theirs to do, 404 not theirs to
know of, 405 not a thing that this address does, 422 refused with a sentence. A POST
carries one field that no form knows, so a form that may be filled in answers 422.

The roles are those of `firm.may`; "quote" and "bill" are customers whom a link let in.
"""

WHO = ("owner", "office", "lead", "crew", "books", "quote", "bill", "nobody")

TABLE = """
                                          own off lea cre boo quo bil nob
account_change_password              GET  200 200 200 200 200  in  in  in
                                     POST 422 422 422 422 422  in  in  in
account_login                        GET  302 302 302 302 302 200 200 200
                                     POST 302 302 302 302 302 422 422 422
account_logout                       GET  200 200 200 200 200 302 302 302
                                     POST 302 302 302 302 302 302 302 302
account_reauthenticate               GET  200 200 200 200 200  in  in  in
                                     POST 422 422 422 422 422  in  in  in
account_reset_password               GET  200 200 200 200 200 200 200 200
                                     POST 422 422 422 422 422 422 422 422
account_reset_password_done          GET  200 200 200 200 200 200 200 200
                                     POST 405 405 405 405 405 405 405 405
account_reset_password_from_key      GET  200 200 200 200 200 200 200 200
                                     POST 422 422 422 422 422 422 422 422
account_reset_password_from_key_done GET  200 200 200 200 200 200 200 200
                                     POST 405 405 405 405 405 405 405 405
firm:crew-new                        GET  200 404 404 404 404  in  in  in
                                     POST 422 404 404 404 404  in  in  in
firm:figure                          GET  200 404 404 404 404  in  in  in
                                     POST 303 404 404 404 404  in  in  in
firm:figures                         GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:firm                            GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:firm-change                     GET  200 404 404 404 404  in  in  in
                                     POST 422 404 404 404 404  in  in  in
firm:health                          GET  200 200 200 200 200 200 200 200
                                     POST 405 405 405 405 405 405 405 405
firm:letter                          GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:letter-arrived                  GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:letter-hold                     GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:letter-let-go                   GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:letter-send-again               GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:letter-send-now                 GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:letter-stop                     GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 403  in  in  in
firm:link                            GET  404 404 404 404 404 404 404 404
                                     POST 405 405 405 405 405 405 405 405
firm:paper                           GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:payee                           GET  422 404 404 404 404  in  in  in
                                     POST 422 404 404 404 404  in  in  in
firm:person                          GET  200 404 404 404 404  in  in  in
                                     POST 422 404 404 404 404  in  in  in
firm:person-back                     GET  405 405 405 405 405  in  in  in
                                     POST 303 404 404 404 404  in  in  in
firm:person-new                      GET  200 404 404 404 404  in  in  in
                                     POST 422 404 404 404 404  in  in  in
firm:person-out                      GET  405 405 405 405 405  in  in  in
                                     POST 303 404 404 404 404  in  in  in
firm:search                          GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:time-off                        GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
firm:today                           GET  200 200 302 302 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:tray                            GET  200 200 403 403 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:tray-went                       GET  200 200 403 403 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
firm:tray-went-before                GET  200 200 403 403 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
invoices:bill                        GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
invoices:bill-from-account           GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 422  in  in  in
invoices:bill-hold                   GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 403  in  in  in
invoices:bill-lift                   GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 403  in  in  in
invoices:bill-new                    GET  200 200 404 404 404  in  in  in
                                     POST 303 303 404 404 404  in  in  in
invoices:letter                      GET  404 404 404 404 404 404 200 404
                                     POST 405 405 405 405 405 405 405 405
invoices:letter-paper                GET  404 404 404 404 404 404 200 404
                                     POST 405 405 405 405 405 405 405 405
invoices:money                       GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
invoices:payment-back                GET  200 200 404 404 200  in  in  in
                                     POST 422 422 404 404 422  in  in  in
invoices:payment-new                 GET  200 200 404 404 200  in  in  in
                                     POST 422 422 404 404 422  in  in  in
jobs:booking-off                     GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:customer                        GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:customer-edit                   GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:customer-suggest                GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:customers                       GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:diary                           GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:enquiries                       GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:enquiry-new                     GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:finish                          GET  405 405 405 405 405  in  in  in
                                     POST 303 303 303 404 404  in  in  in
jobs:finish-undo                     GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:job                             GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:job-again                       GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:job-edit                        GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:job-lost                        GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:jobs                            GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:materials                       GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:merchant                        GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:merchant-new                    GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:merchant-price                  GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:merchants                       GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:note-new                        GET  405 405 405 405 405  in  in  in
                                     POST 422 422 422 422 404  in  in  in
jobs:order                           GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:order-arrived                   GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:order-new                       GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:order-off                       GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:order-send                      GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:other-trade-edit                GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:other-trade-late                GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:other-trade-new                 GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:other-trade-off                 GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:sheet                           GET  200 200 200 200 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:tomorrow                        GET  200 200 200 200 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:visit-book                      GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
jobs:visit-made                      GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:visit-off                       GET  405 405 405 405 405  in  in  in
                                     POST 303 303 404 404 404  in  in  in
jobs:visit-times                     GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
jobs:when                            GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
mfa_activate_totp                    GET  302 302 302 302 302  in  in  in
                                     POST 302 302 302 302 302  in  in  in
mfa_authenticate                     GET  302 302 302 302 302 302 302 302
                                     POST 302 302 302 302 302 302 302 302
mfa_deactivate_totp                  GET  404 404 404 404 404  in  in  in
                                     POST 404 404 404 404 404  in  in  in
mfa_download_recovery_codes          GET  404 404 404 404 404  in  in  in
                                     POST 404 404 404 404 404  in  in  in
mfa_generate_recovery_codes          GET  302 302 302 302 302  in  in  in
                                     POST 302 302 302 302 302  in  in  in
mfa_index                            GET  200 200 200 200 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
mfa_reauthenticate                   GET  302 302 302 302 302  in  in  in
                                     POST 302 302 302 302 302  in  in  in
mfa_view_recovery_codes              GET  404 404 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:letter                        GET  404 404 404 404 404 200 404 404
                                     POST 405 405 405 405 405 405 405 405
quotes:letter-accept                 GET  405 405 405 405 405 405 405 405
                                     POST 404 404 404 404 404 422 404 404
quotes:letter-decline                GET  405 405 405 405 405 405 405 405
                                     POST 404 404 404 404 404 422 404 404
quotes:letter-paper                  GET  404 404 404 404 404 200 404 404
                                     POST 405 405 405 405 405 405 405 405
quotes:look                          GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:look-change                   GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:look-finish                   GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:look-start                    GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:opening                       GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:opening-new                   GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:opening-remove                GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:quote                         GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:quote-accepted-by-phone       GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:quote-send                    GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:quote-write                   GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 403  in  in  in
quotes:rates                         GET  200 200 404 404 200  in  in  in
                                     POST 422 422 404 404 422  in  in  in
quotes:read                          GET  200 200 404 404 200  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:room                          GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:room-change                   GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:room-copy                     GET  405 405 405 405 405  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:room-new                      GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:room-remove                   GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:spec                          GET  200 200 404 404 404  in  in  in
                                     POST 405 405 405 405 405  in  in  in
quotes:wall                          GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
quotes:walls                         GET  200 200 404 404 404  in  in  in
                                     POST 422 422 404 404 404  in  in  in
usersessions_list                    GET  200 200 200 200 200  in  in  in
                                     POST 302 302 302 302 302  in  in  in
"""


def cells() -> dict[tuple[str, str, str], str]:
    """Return what is expected, by address, verb and who asks."""
    expected: dict[tuple[str, str, str], str] = {}
    name = ""
    for line in TABLE.splitlines()[2:]:
        name = line[:36].strip() or name
        verb, *answers = line[36:].split()
        for who, answer in zip(WHO, answers, strict=True):
            expected[name, verb, who] = answer
    return expected


def written(answers: dict[tuple[str, str, str], str]) -> str:
    """Write a table as people read it."""
    head = TABLE.splitlines()[1]
    lines = [head]
    for name in sorted({name for name, _, _ in answers}):
        for verb, label in (("GET", name), ("POST", "")):
            row = " ".join(f"{answers[name, verb, who]:>3}" for who in WHO)
            lines.append(f"{label:36} {verb:4} {row}")
    return "\n".join(lines)
