"""Settings of the firm: everything from the environment, safe when unset."""

from pathlib import Path
from urllib.parse import urlsplit

from firm import surroundings

BASE_DIR = Path(__file__).resolve().parent.parent
FIRM_HOME = surroundings.home(BASE_DIR)
FIRM_ADDRESS = surroundings.address()
FIRM_SMTP = surroundings.smtp()
FIRM_BROKER_URL = surroundings.broker()
FIRM_MAIL_FROM = surroundings.os.environ.get("FIRM_MAIL_FROM", "office@example.com")

SECRET_KEY = surroundings.secret_key(FIRM_HOME)
DEBUG = surroundings.switch("FIRM_DEBUG")
ALLOWED_HOSTS = [urlsplit(FIRM_ADDRESS).hostname or "", "127.0.0.1", "localhost"]
CSRF_TRUSTED_ORIGINS = [FIRM_ADDRESS]
IS_HTTPS = FIRM_ADDRESS.startswith("https://")

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "allauth.usersessions",
    "firm",
    "jobs",
    "quotes",
    "invoices",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "firm.middleware.SafeHeaders",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "firm.middleware.CleanText",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "firm.middleware.StaysOurs",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "allauth.usersessions.middleware.UserSessionsMiddleware",
]
ROOT_URLCONF = "firm.urls"
WSGI_APPLICATION = "firm.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "firm.queries.frame.frame",
            ],
        },
    }
]

FORM_RENDERER = "firm.forms.rendering.OurForms"

DATABASES = {"default": surroundings.database(FIRM_HOME)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "firm_cache",
    }
}

LANGUAGE_CODE = "en-gb"
TIME_ZONE = "Europe/London"
USE_TZ = True
USE_I18N = True

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = DEBUG
STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.AppDirectoriesFinder"]

AUTH_USER_MODEL = "firm.Person"
AUTHENTICATION_BACKENDS = ["allauth.account.auth_backends.AuthenticationBackend"]
PASSWORD_HASHERS = ["firm.hashing.MeasuredArgon2"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {
        "NAME": "django.contrib.auth.password_validation"
        ".UserAttributeSimilarityValidator"
    },
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "firm:today"
LOGOUT_REDIRECT_URL = "account_login"
ACCOUNT_ADAPTER = "firm.sign_in.OurDoor"
MFA_ADAPTER = "firm.sign_in.SecondFactor"
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*"]
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_USER_MODEL_EMAIL_FIELD = "email"
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_PREVENT_ENUMERATION = "strict"
ACCOUNT_REAUTHENTICATION_TIMEOUT = 300
ACCOUNT_LOGOUT_ON_GET = False
ACCOUNT_SESSION_REMEMBER = None
ACCOUNT_EMAIL_NOTIFICATIONS = False
ACCOUNT_EMAIL_UNKNOWN_ACCOUNTS = False
ACCOUNT_FORMS = {
    "login": "firm.forms.sign_in.SignIn",
    "change_password": "firm.forms.sign_in.ChangePassword",
    "reset_password": "firm.forms.sign_in.ForgottenPassword",
    "reset_password_from_key": "firm.forms.sign_in.NewPassword",
    "reauthenticate": "firm.forms.sign_in.PasswordAgain",
}
MFA_FORMS = {
    "authenticate": "firm.forms.sign_in.Code",
    "reauthenticate": "firm.forms.sign_in.CodeAgain",
    "activate_totp": "firm.forms.sign_in.FirstCode",
}
# The owner gives every person their address, so there is nothing to verify.
MFA_ALLOW_UNVERIFIED_EMAIL = True
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes"]
MFA_TOTP_ISSUER = "Plastering office"
MFA_TOTP_TOLERANCE = 0
PASSWORD_RESET_TIMEOUT = 1800

SESSION_ENGINE = "django.contrib.sessions.backends.db"
SESSION_COOKIE_AGE = 12 * 60 * 60
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = IS_HTTPS
# Browsers keep __Host- cookies only over https; the embedded home is loopback http.
SESSION_COOKIE_NAME = "__Host-session" if IS_HTTPS else "session"
CSRF_COOKIE_NAME = "__Host-csrf" if IS_HTTPS else "csrf"
SECURE_SSL_REDIRECT = IS_HTTPS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if IS_HTTPS else None
SECURE_HSTS_SECONDS = 63_072_000 if IS_HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = IS_HTTPS
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CSRF_FAILURE_VIEW = "firm.views.errors.form_went_stale"

# The tray sends by its own SMTP phases; Django's own mail (a forgotten
# password) leaves as a notice too, through the adapter in firm/sign_in.py.
EMAIL_BACKEND = "django.core.mail.backends.dummy.EmailBackend"
DEFAULT_FROM_EMAIL = FIRM_MAIL_FROM

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "line": {"format": "{asctime} {levelname} {name} {message}", "style": "{"}
    },
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {"firm": {"level": "INFO"}},
}
