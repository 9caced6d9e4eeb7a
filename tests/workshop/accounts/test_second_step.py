"""The second step at signing in from the network: codes of an app, recovery codes, and who is not asked for one."""

import re
from datetime import UTC, datetime, timedelta

import pyotp
import pytest
from django.test import Client
from django.utils import timezone

from tests.factories import PASSWORD, UserFactory
from tests.reading import as_read
from workshop.accounts import links, second_step
from workshop.models import AccessEvent, CodeApp, RecoveryCode

pytestmark = pytest.mark.django_db
TABLET, OTHER, HERE = "192.168.7.20", "192.168.7.21", "127.0.0.1"
NOON = datetime(2026, 11, 27, 12, 0, 5, tzinfo=UTC)
SECRET = pyotp.random_base32()


@pytest.fixture
def clock(monkeypatch):
    """Stands at noon until it is moved on: clock(seconds=31)."""
    gone = []
    monkeypatch.setattr(timezone, "now", lambda: NOON + sum(gone, timedelta()))
    return lambda **span: gone.append(timedelta(**span))


@pytest.fixture
def ines(clock):
    """An account whose app is set up since the morning."""
    user = UserFactory(username="ines", is_superuser=True, is_staff=True)
    CodeApp.objects.create(user=user, secret=SECRET)
    return user


def code(seconds=0):
    """What the app shows at noon, or some seconds from it."""
    return pyotp.TOTP(SECRET).at(NOON + timedelta(seconds=seconds))


def with_password(address=TABLET, **more):
    client = Client(REMOTE_ADDR=address)
    client.answer = client.post("/sign-in/", {"username": "ines", "password": PASSWORD} | more)
    return client


def send(client, word):
    return client.post("/sign-in/second-step/", {"code": word})


def is_in(client):
    return client.get("/account/").status_code == 200


def test_the_codes_are_those_of_the_standard():
    """RFC 6238, appendix B, the rows for SHA-1, of which an app shows the last six digits."""
    app = pyotp.TOTP("GEZDGNBVGY3TQOJQGEZDGNBVGY3TQOJQ")
    shown = {59: "287082", 1111111109: "081804", 1234567890: "005924", 2000000000: "279037", 20000000000: "353130"}
    assert {at: app.at(at) for at in shown} == shown


def test_the_password_alone_opens_nothing_from_the_network(ines):
    client = with_password()
    assert client.answer["Location"] == "/sign-in/second-step/"
    assert not is_in(client)
    assert send(client, code())["Location"] == "/"
    assert is_in(client)


def test_where_one_wanted_to_go_and_the_trusted_device_are_remembered(ines):
    client = with_password(trusted="on", next="/parts/")
    assert send(client, code())["Location"] == "/parts/"
    assert client.cookies["dialside_workshop_session"]["max-age"] == 90 * 24 * 3600


@pytest.mark.parametrize(("seconds", "opens"), [(-31, True), (0, True), (30, True), (-61, False), (60, False)])
def test_the_codes_beside_the_one_of_now_count_too(ines, seconds, opens):
    client = with_password()
    send(client, code(seconds))
    assert is_in(client) == opens


def test_no_code_is_taken_twice_nor_an_older_one_after_it(ines):
    send(with_password(), code())
    for seconds in (0, -30):
        client = with_password()
        assert send(client, code(seconds)).status_code == 422
        assert not is_in(client)


def test_a_recovery_code_lets_in_once_however_it_is_written(ines):
    codes = second_step.new_recovery_codes(ines)
    assert len(set(codes)) == 10
    send(client := with_password(), f" {codes[3].upper()} ")
    assert is_in(client)
    send(client := with_password(), codes[3].replace("-", ""))
    assert not is_in(client)
    assert RecoveryCode.objects.filter(digest__contains=codes[0]).count() == 0
    assert RecoveryCode.objects.count() == 9


def test_anothers_recovery_code_opens_nothing(ines):
    codes = second_step.new_recovery_codes(UserFactory(username="tomas"))
    assert send(client := with_password(), codes[0]).status_code == 422
    assert not is_in(client)


def test_at_the_machine_itself_the_password_is_enough(ines):
    assert is_in(with_password(HERE))


def test_a_proxy_on_the_machine_is_the_network(ines):
    client = Client(REMOTE_ADDR=HERE, headers={"X-Forwarded-For": TABLET})
    answer = client.post("/sign-in/", {"username": "ines", "password": PASSWORD})
    assert answer["Location"] == "/sign-in/second-step/"


def test_guessing_is_slowed_down_and_the_password_known_to_the_guesser_does_not_help(ines):
    answers = []
    for _ in range(6):
        client = with_password()
        answers.append(send(client, "000000"))
    assert [answer.status_code for answer in answers] == [422] * 5 + [429]
    assert "Wait 30 seconds" in answers[-1].text
    assert send(client, code()).status_code == 429
    kinds = AccessEvent.objects.order_by("pk").values_list("kind", flat=True)
    assert list(kinds) == ["wrong-code"] * 5 + ["turned-away"]


def test_who_is_turned_away_again_and_again_does_not_flood_the_log(ines, clock):
    client = with_password()
    for _ in range(30):
        send(client, "000000")
    assert AccessEvent.objects.filter(kind="turned-away").count() == 1
    clock(minutes=16)
    for _ in range(8):
        send(with_password(), "000000")
    assert AccessEvent.objects.filter(kind="turned-away").count() <= 2


def test_ten_minutes_after_the_password_it_is_from_the_beginning(ines, clock):
    client = with_password()
    clock(minutes=10, seconds=1)
    assert send(client, code(601))["Location"] == "/sign-in/"
    assert not is_in(client)


def test_a_password_changed_in_between_is_asked_for_anew(ines):
    client = with_password()
    ines.set_password("quite another one")
    ines.save()
    assert send(client, code())["Location"] == "/sign-in/"


def test_a_password_link_does_not_go_round_it(ines):
    client = Client(REMOTE_ADDR=TABLET)
    new = {"new_password1": "brass and blued steel", "new_password2": "brass and blued steel"}
    answer = client.post(f"/choose-password/{links.new_link(ines)}/", new)
    assert answer["Location"] == "/sign-in/second-step/"
    assert not is_in(client)


@pytest.mark.parametrize("word", ["", "   ", "é", "１２３４５６", "x" * 41, "null\x00", "12345"])
def test_nonsense_is_refused_in_a_sentence(ines, word):
    answer = send(with_password(), word)
    assert answer.status_code == 422
    assert 'role="alert"' in answer.text or 'class="field-errors"' in answer.text


def test_who_has_none_is_led_to_it_and_may_go_on(clock):
    UserFactory(username="ines", is_staff=True)
    client = with_password(next="/parts/")
    assert client.answer["Location"] == "/account/second-step/"
    page = as_read(client.get("/account/second-step/").text)
    assert '<a class="button" href="/parts/">Later</a>' in page
    assert is_in(client)


def test_an_app_is_set_up_by_a_first_code_of_it(clock):
    user = UserFactory(username="ines", is_staff=True)
    client = with_password()
    page = client.get("/account/second-step/app/").text
    secret = re.search(r'class="link-text">([A-Z2-7 ]+)<', page)[1].replace(" ", "")
    wrong = client.post("/account/second-step/app/", {"code": "000000"})
    assert (wrong.status_code, CodeApp.objects.count()) == (422, 0)
    assert secret in wrong.text.replace(" ", "")
    done = client.post("/account/second-step/app/", {"code": pyotp.TOTP(secret).at(NOON)})
    codes = re.findall(r"<code>([a-z2-9]{5}-[a-z2-9]{5})</code>", done.text)
    assert (len(codes), CodeApp.objects.get().user) == (10, user)
    assert "no-store" in done["Cache-Control"]
    send(other := with_password(OTHER), codes[0])
    assert is_in(other)


def test_it_is_removed_with_the_codes_and_noted(ines):
    second_step.new_recovery_codes(ines)
    client = with_password()
    send(client, code())
    assert client.post("/account/second-step/app/remove/")["Location"] == "/account/second-step/"
    assert (CodeApp.objects.count(), RecoveryCode.objects.count()) == (0, 0)
    assert AccessEvent.objects.filter(kind="step-removed", by=ines).count() == 1


def test_without_a_second_step_there_are_no_recovery_codes(clock):
    UserFactory(username="ines", is_staff=True)
    client = with_password()
    assert client.post("/account/second-step/recovery-codes/")["Location"] == "/account/second-step/"
    assert not RecoveryCode.objects.exists()


def test_the_owner_removes_another_persons(ines):
    tomas = UserFactory(username="tomas")
    CodeApp.objects.create(user=tomas, secret=SECRET)
    second_step.new_recovery_codes(tomas)
    client = with_password(HERE)
    assert "set up" in client.get("/people/").text
    client.post(f"/people/{tomas.pk}/second-step/")
    assert list(CodeApp.objects.values_list("user__username", flat=True)) == ["ines"]
    assert not RecoveryCode.objects.exists()


def test_setting_up_asks_for_the_password_when_it_was_typed_long_ago(ines, clock):
    client = with_password(HERE)
    clock(minutes=16)
    answer = client.post("/account/second-step/app/remove/")
    assert "Your password once more" in answer.text
    assert CodeApp.objects.exists()
