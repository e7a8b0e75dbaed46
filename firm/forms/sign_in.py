"""allauth's forms in the firm's words, without words standing inside a field."""

from typing import Any, ClassVar

from allauth.account import forms as account
from allauth.mfa.base import forms as mfa
from allauth.mfa.totp import forms as totp
from django import forms

LABELS = {
    "login": "Email address",
    "email": "Email address",
    "password": "Password",
    "remember": "Stay signed in on this device for twelve hours",
    "oldpassword": "Your password now",
    "password1": "New password",
    "password2": "The new password again",
    "code": "Code",
}
HINTS = {
    "password1": "Twelve characters or more. Three or four unrelated words do well.",
    "code": "Six digits from the app on your phone, or one of your spare codes.",
}
EMPTY = {
    "login": "Type your email address.",
    "email": "Type your email address.",
    "password": "Type your password.",
    "oldpassword": "Type the password you have now.",
    "password1": "Type a new password.",
    "password2": "Type the new password a second time.",
    "code": "Type the code.",
}


class OurWords(forms.Form):
    hints: ClassVar[dict[str, str]] = HINTS

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, field in self.fields.items():
            field.label = LABELS.get(name, field.label)
            field.help_text = self.hints.get(name, "")
            field.widget.attrs.pop("placeholder", None)
            if name in EMPTY:
                field.error_messages["required"] = EMPTY[name]
        if "code" in self.fields:
            self.fields["code"].widget.attrs["inputmode"] = "numeric"


class SignIn(OurWords, account.LoginForm):
    pass


class ChangePassword(OurWords, account.ChangePasswordForm):
    pass


class ForgottenPassword(OurWords, account.ResetPasswordForm):
    pass


class NewPassword(OurWords, account.ResetPasswordKeyForm):
    pass


class PasswordAgain(OurWords, account.ReauthenticateForm):
    pass


class Code(OurWords, mfa.AuthenticateForm):
    pass


class CodeAgain(OurWords, mfa.ReauthenticateForm):
    pass


class FirstCode(OurWords, totp.ActivateTOTPForm):
    hints: ClassVar[dict[str, str]] = {"code": "The six digits that the app shows now."}
