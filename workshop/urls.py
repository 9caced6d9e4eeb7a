"""The map of every address."""

from django.contrib import admin
from django.contrib.auth.models import Group, User
from django.urls import include, path

from workshop.views import access_log, account, calendar, errors, export, health, people, second_steps, sign_in

# Accounts have pages of their own, where none is deleted and an owner always stays.
admin.site.unregister([User, Group])

handler400 = errors.bad_request

urlpatterns = [
    path("", include("jobs.urls")),
    path("parts/", include("parts.urls")),
    path("first-start/", sign_in.first_start, name="first-start"),
    path("first-start/<str:token>/", sign_in.first_start, name="first-start"),
    path("choose-password/<str:token>/", sign_in.choose_password, name="choose-password"),
    path("sign-in/", sign_in.SignIn.as_view(), name="sign-in"),
    path("sign-in/second-step/", sign_in.ask_second_step, name="second-step"),
    path("sign-out/", sign_in.SignOut.as_view(), name="sign-out"),
    path("account/", account.account, name="account"),
    path("account/sign-out/", account.sign_out_device, name="account-device"),
    path("account/password/", account.password, name="password"),
    path("account/second-step/", second_steps.second_steps, name="second-steps"),
    path("account/second-step/app/", second_steps.code_app, name="code-app"),
    path("account/second-step/app/remove/", second_steps.code_app_remove, name="code-app-remove"),
    path("account/second-step/passkeys/", second_steps.passkey_add, name="passkey-add"),
    path("account/second-step/passkeys/<int:pk>/remove/", second_steps.passkey_remove, name="passkey-remove"),
    path("account/second-step/recovery-codes/", second_steps.recovery_codes, name="recovery-codes"),
    path("people/", people.people, name="people"),
    path("people/<int:pk>/", people.person, name="person"),
    path("people/<int:pk>/put-away/", people.put_person_away, name="person-away"),
    path("people/<int:pk>/link/", people.person_link, name="person-link"),
    path("people/<int:pk>/second-step/", people.remove_person_steps, name="person-steps"),
    path("people/<int:pk>/sign-out/", people.sign_person_out, name="person-out"),
    path("people/log/", access_log.access_log, name="access-log"),
    path("calendar/", calendar.address, name="calendar"),
    path("calendar/<str:token>/dialside.ics", calendar.feed, name="calendar-feed"),
    path("export/", export.export, name="export"),
    path("health/", health.health, name="health"),
    path("admin/", admin.site.urls),
]
