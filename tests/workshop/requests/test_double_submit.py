"""A form that is sent twice, such as by a double click, makes one entry."""

import io
import re
import threading
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.utils import timezone
from PIL import Image

from jobs.models import GoAhead, Job, Photo, WorkTime
from tests.conftest import signed_in
from tests.factories import JobFactory
from workshop.models import SentForm
from workshop.requests import double_submit

GO_AHEAD = {"how": "phone", "said_by": "Mara Quist", "on": "2026-01-05", "note": ""}


@pytest.fixture
def browser(owner):
    """A client of the owner that is held to the CSRF check, as browsers are."""
    return signed_in(Client(enforce_csrf_checks=True), owner)


@pytest.fixture
def job(owner):
    return JobFactory()


def token_of(client, url):
    return re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', client.get(url).text)[1]


def test_a_go_ahead_sent_twice_is_recorded_once(browser, job):
    url = f"/jobs/{job.number}/go-ahead/"
    data = GO_AHEAD | {"csrfmiddlewaretoken": token_of(browser, url)}
    first, second = browser.post(url, data), browser.post(url, data, follow=True)
    assert first["Location"] == job.get_absolute_url()
    assert second.redirect_chain == [(job.get_absolute_url(), 302)]
    assert double_submit.ALREADY in second.text
    assert GoAhead.objects.count() == 1


def test_a_watch_logged_by_a_double_click_is_one_job(browser):
    data = {"customer": "Mara Quist", "phone": "0151 2", "wish": "Quartz", "luminous": "none"}
    data["csrfmiddlewaretoken"] = token_of(browser, "/jobs/log/")
    led = {browser.post("/jobs/log/", data)["Location"] for _ in range(3)}
    assert led == {f"/jobs/{Job.objects.get().number}/logged/"}


def test_the_same_entry_from_a_new_page_is_a_second_one(browser, job):
    stage, url = f"/jobs/{job.number}/dial/", f"/jobs/{job.number}/dial/time/"
    for _ in range(2):
        browser.post(url, {"minutes": "5", "csrfmiddlewaretoken": token_of(browser, stage)})
    assert WorkTime.objects.count() == 2


def test_another_entry_from_the_same_page_is_taken(browser, job):
    token = token_of(browser, f"/jobs/{job.number}/dial/")
    for minutes in ("5", "6"):
        browser.post(f"/jobs/{job.number}/dial/time/", {"minutes": minutes, "csrfmiddlewaretoken": token})
    assert WorkTime.objects.count() == 2


def test_a_refused_form_may_be_sent_again(browser, job):
    url = f"/jobs/{job.number}/go-ahead/"
    data = GO_AHEAD | {"how": "", "csrfmiddlewaretoken": token_of(browser, url)}
    assert [browser.post(url, data).status_code for _ in range(2)] == [422, 422]
    assert not SentForm.objects.exists()


def test_what_htmx_sends_is_left_alone(browser, job):
    token = token_of(browser, f"/jobs/{job.number}/dial/")
    for _ in range(2):
        data = {"minutes": "5", "csrfmiddlewaretoken": token}
        browser.post(f"/jobs/{job.number}/dial/time/", data, headers={"HX-Request": "true"})
    assert WorkTime.objects.count() == 2


@pytest.mark.django_db(transaction=True)
def test_two_at_the_same_moment_make_one_entry(browser, job):
    url = f"/jobs/{job.number}/go-ahead/"
    data = GO_AHEAD | {"csrfmiddlewaretoken": token_of(browser, url)}
    clients, led = [Client(), Client()], []
    for one in clients:
        one.cookies = browser.cookies

    def send(client):
        led.append(client.post(url, data)["Location"])
        connection.close()

    threads = [threading.Thread(target=send, args=(one,)) for one in clients]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert led == [job.get_absolute_url()] * 2
    assert GoAhead.objects.count() == 1


def test_one_that_is_still_worked_on_says_so(browser, job, monkeypatch):
    monkeypatch.setattr(double_submit, "begin", lambda *, key: False)
    monkeypatch.setattr(double_submit, "wait_for", lambda *, key: "")
    data = GO_AHEAD | {"csrfmiddlewaretoken": token_of(browser, f"/jobs/{job.number}/go-ahead/")}
    assert double_submit.STILL in browser.post(f"/jobs/{job.number}/go-ahead/", data, follow=True).text
    assert not GoAhead.objects.exists()


@pytest.mark.django_db
def test_one_that_was_lost_with_the_power_may_be_sent_again():
    lost = timezone.now() - double_submit.LOST - timedelta(seconds=1)
    SentForm.objects.create(key="lost", at=lost)
    SentForm.objects.create(key="led", at=lost, location="/")
    assert (double_submit.begin(key="lost"), double_submit.begin(key="led")) == (True, False)
    SentForm.objects.filter(key="led").update(at=timezone.now() - double_submit.KEPT - timedelta(seconds=1))
    assert double_submit.begin(key="led")
    assert SentForm.objects.filter(key="led").count() == 1


def test_another_file_of_the_same_name_and_size_is_another_entry(browser, job):
    data = {"csrfmiddlewaretoken": token_of(browser, job.get_absolute_url())}
    for colour in ("#457", "#754", "#754"):
        photo = io.BytesIO()
        Image.new("RGB", (40, 30), colour).save(photo, "PNG", compress_level=0)
        file = SimpleUploadedFile("photo.png", photo.getvalue(), "image/png")
        browser.post(f"/jobs/{job.number}/photos/", data | {"photos": file})
    assert Photo.objects.count() == 2
