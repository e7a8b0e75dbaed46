"""Every address of the office. Apps above are named as strings only."""

from allauth.account import views as account
from allauth.mfa.base import views as mfa
from allauth.mfa.recovery_codes import views as recovery_codes
from allauth.mfa.totp import views as totp
from allauth.usersessions import views as usersessions
from django.urls import URLPattern, URLResolver, include, path, re_path

from firm.views import firm, health, links, papers, people, tray
from firm.views.sign_in import forgets_this_device, refused_is_422

handler400 = "firm.views.errors.bad_request"
handler403 = "firm.views.errors.not_allowed"
handler404 = "firm.views.errors.not_found"
handler500 = "firm.views.errors.gone_wrong"

# allauth looks these names up itself, so they stand in no namespace. What is not
# listed here cannot be reached: signing up, other addresses, other providers.
sign_in: list[URLPattern | URLResolver] = [
    path("", refused_is_422(account.login), name="account_login"),
    path("out/", forgets_this_device(account.logout), name="account_logout"),
    path(
        "again/", refused_is_422(account.reauthenticate), name="account_reauthenticate"
    ),
    path(
        "password/",
        refused_is_422(account.password_change),
        name="account_change_password",
    ),
    path(
        "password/forgotten/",
        refused_is_422(account.password_reset),
        name="account_reset_password",
    ),
    path(
        "password/forgotten/sent/",
        account.password_reset_done,
        name="account_reset_password_done",
    ),
    re_path(
        r"^password/new/(?P<uidb36>[0-9A-Za-z]+)-(?P<key>.+)/$",
        refused_is_422(account.password_reset_from_key),
        name="account_reset_password_from_key",
    ),
    path(
        "password/new/done/",
        account.password_reset_from_key_done,
        name="account_reset_password_from_key_done",
    ),
    path("yours/", mfa.index, name="mfa_index"),
    path("code/", refused_is_422(mfa.authenticate), name="mfa_authenticate"),
    path("code/again/", refused_is_422(mfa.reauthenticate), name="mfa_reauthenticate"),
    path("app/", refused_is_422(totp.activate_totp), name="mfa_activate_totp"),
    path("app/off/", totp.deactivate_totp, name="mfa_deactivate_totp"),
    path(
        "spare-codes/",
        recovery_codes.view_recovery_codes,
        name="mfa_view_recovery_codes",
    ),
    path(
        "spare-codes/new/",
        recovery_codes.generate_recovery_codes,
        name="mfa_generate_recovery_codes",
    ),
    path(
        "spare-codes/file/",
        recovery_codes.download_recovery_codes,
        name="mfa_download_recovery_codes",
    ),
    path("devices/", usersessions.list_usersessions, name="usersessions_list"),
]

# The pages of the "firm" namespace. A list in an upper app is included as a string
# and carries no app_name of its own, so its names stand in this namespace too.
firm_pages: list[URLPattern | URLResolver] = [
    path("", include("firm.desk.urls")),
    path("firm/", firm.firm, name="firm"),
    path("firm/details/", firm.change_firm, name="firm-change"),
    path("firm/account/", firm.set_payee, name="payee"),
    path("firm/crews/new/", firm.new_crew, name="crew-new"),
    path("firm/time-off/", firm.time_off, name="time-off"),
    path("firm/figures/", firm.figures, name="figures"),
    path("firm/figures/<str:code>/", firm.change_figure, name="figure"),
    path("tray/", tray.tray, name="tray"),
    path("tray/went/", tray.went, name="tray-went"),
    path("tray/went/<int:before>/", tray.went, name="tray-went-before"),
    path("tray/<int:notice_id>/", tray.letter, name="letter"),
    path("tray/<int:notice_id>/hold/", tray.hold, name="letter-hold"),
    path("tray/<int:notice_id>/let-go/", tray.let_go, name="letter-let-go"),
    path("tray/<int:notice_id>/stop/", tray.stop, name="letter-stop"),
    path("tray/<int:notice_id>/now/", tray.send_now, name="letter-send-now"),
    path("tray/<int:notice_id>/arrived/", tray.arrived, name="letter-arrived"),
    path("tray/<int:notice_id>/again/", tray.send_again, name="letter-send-again"),
    path("papers/<int:paper_id>/", papers.paper, name="paper"),
    path("l/<str:token>/", links.open_door, name="link"),
    path("health/", health.health, name="health"),
    path("people/new/", people.new_person, name="person-new"),
    path("people/<int:person_id>/", people.change_person, name="person"),
    path("people/<int:person_id>/left/", people.show_out, name="person-out"),
    path("people/<int:person_id>/back/", people.let_back_in, name="person-back"),
]

urlpatterns = [
    path("sign-in/", include(sign_in)),
    path("", include((firm_pages, "firm"))),
    path("", include("jobs.urls")),
    path("", include("quotes.urls")),
    path("", include("invoices.urls")),
]
