"""From what is chosen to the folder: what stops it, what is cleared, what is taken out."""

import re

import pytest
from django.core.management import CommandError, call_command

from jobs.enquiries.reading import read
from jobs.models import Event, Shop, Window
from jobs.window import entries
from jobs.window.proposals import proposed_window_words
from jobs.window.publishing import NotShown, folder, publish, ready
from tests.factories import CustomerFactory


def pages():
    return {path.relative_to(folder()).as_posix(): path.read_text() for path in folder().rglob("*.html")}


def test_an_entry_has_its_pages_and_keeps_its_address(shown):
    entry = shown(story="It runs.\nAgain.", price_from=312, days=20)
    publish()
    path = f"pieces/{entry.code.lower()}.html"
    for words in ("<p>It runs.</p>", "<p>Again.</p>", "€312", "about 3 weeks"):
        assert words in pages()[path]
    entry.title = "Another title"
    entry.save()
    assert publish().new == []
    assert "Another title" in pages()[path]


def test_a_mail_about_an_entry_names_it_and_answers_what_the_shop_needs(shown):
    entry = shown(title="A grey dial & more")
    Window.objects.update_or_create(defaults={"email": "bench@weir.example", "languages": ["de"]})
    publish()
    path = f"pieces/{entry.code.lower()}.html"
    subject = (
        f"mailto:bench@weir.example?subject=About%20A%20grey%20dial%20%26%20more%2C%20{entry.code}&amp;body=Which%20"
    )
    assert subject in pages()[path]
    assert "Nach einer solchen Uhr fragen" in pages()[f"de/{path}"]
    assert read(f"Subject: Re: About A grey dial & more, {entry.code}\n\nYes")["code"] == entry.code


def test_nothing_is_shown_by_itself(finished, shown):
    finished()
    with pytest.raises(NotShown, match="Nothing is in the window"):
        publish()
    assert not folder().exists()
    shown()
    publish()
    assert len([path for path in pages() if path.startswith("pieces/")]) == 1


def test_what_is_taken_out_is_gone_from_the_site_and_can_be_put_back(shown, owner):
    first, second = shown("First"), shown("Second")
    publish()
    entries.show(entry=second, shown=False, by=owner)
    gone = publish().gone
    assert f"pieces/{second.code.lower()}.html" in gone
    assert len([path for path in gone if path.startswith("photos/")]) == 6
    assert "Second" not in "".join(pages().values())
    entries.show(entry=second, shown=True, by=owner)
    assert set(publish().new) == set(gone)
    kinds = list(Event.objects.filter(job=second.job).order_by("pk").values_list("kind", flat=True))
    assert kinds[-3:] == [Event.Kind.SHOWN, Event.Kind.TAKEN_OUT, Event.Kind.SHOWN]
    assert first.code != second.code


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ({"title": "The Marsh watch"}, "title"),
        ({"story": "Made for Orla Marsh."}, "about it"),
        ({"takes": "A ring\nA box from 7 Tansy Row"}, "what it takes"),
        ({"words": {"de": {"story": "Für Orla Marsh."}}}, "about it, German"),
    ],
)
def test_a_name_in_an_entry_stops_it_with_the_place_named(shown, words, place):
    Window.objects.create(languages=["de"])
    CustomerFactory(name="Orla Marsh", address="7 Tansy Row")
    entry = shown(**{"title": "A dial"} | words)
    with pytest.raises(NotShown) as refusal:
        publish()
    assert re.search(rf"“(Orla Marsh|Marsh|7 Tansy Row)” \(.*\) in {entry.code}, {place}[;.]", str(refusal.value))
    assert not folder().exists()
    with pytest.raises(CommandError, match=entry.code):
        call_command("publish")


def test_a_library_part_called_after_a_customer_stops_it(shown):
    entry = shown(customer=CustomerFactory(name="Orla Marsh"))
    entry.family.name = "Marsh 36"
    entry.family.save()
    [stop] = ready().check.stops
    assert (stop.hit.words, stop.place, stop.entry) == ("Marsh", "case family", entry)


def test_a_word_that_means_something_else_is_cleared_for_its_entry_alone(shown):
    CustomerFactory(name="Orla Marsh")
    first, second = shown("A watch from the Marsh"), shown("Marsh green")
    entries.clear(record_of=first, key="marsh", cleared=True)
    check = ready().check
    assert [(stop.entry, stop.place) for stop in check.stops] == [(second, "title")]
    assert [cleared.entry for cleared in check.cleared] == [first]
    entries.clear(record_of=second, key="marsh", cleared=True)
    assert publish().total
    entries.clear(record_of=first, key="marsh", cleared=False)
    assert [stop.entry for stop in ready().check.stops] == [first]


def test_the_files_are_the_second_look_and_the_sites_own_words_are_told(shown, monkeypatch):
    CustomerFactory(name="Newest Details")
    CustomerFactory(name="Orla Quenby")
    shown()
    check = ready().check
    assert (check.stops, check.passed_over) == ([], {"Newest"})
    monkeypatch.setattr("jobs.window.structured._without_gaps", lambda facts: facts | {"author": "Orla Quenby"})
    stops = ready().check.stops
    assert {stop.hit.words for stop in stops} == {"Orla Quenby"}
    assert all(stop.place.startswith("the file ") for stop in stops)


def test_a_photo_comes_in_the_widths_that_screens_ask_for(shown):
    entry = shown()
    publish()
    page = pages()[f"pieces/{entry.code.lower()}.html"]
    [first, *_] = re.findall(r"<img [^>]*>", page)
    assert re.search(r'srcset="\S+ 480w, \S+ 960w, \S+ 1200w"', first)
    assert 'width="1200" height="900"' in first
    assert 'alt="A dial, before the work"' in first
    assert "Quenby" not in page


def test_the_same_files_go_into_another_folder(shown, tmp_path, capsys):
    shown()
    other = tmp_path / "repository"
    call_command("publish", to=other)
    assert {path.name for path in other.iterdir()} == {path.name for path in folder().iterdir()}
    assert "has the same files" in capsys.readouterr().out


def test_without_an_address_there_is_no_feed_and_no_site_map(shown):
    shown()
    publish()
    assert not list(folder().rglob("*.xml"))
    assert "canonical" not in pages()["index.html"]


def test_a_site_without_a_name_says_where_to_give_it_one(shown):
    shown()
    Shop.objects.update(name="")
    with pytest.raises(NotShown, match="The site has no name"):
        publish()


def test_two_families_of_one_name_have_pages_of_their_own(shown):
    first, second = shown("First"), shown("Second")
    for entry in (first, second):
        entry.family.name = "Tollgate 40"
        entry.family.save()
    publish()
    cases = {path: html for path, html in pages().items() if path.startswith("cases/")}
    assert cases.keys() == {"cases/tollgate-40.html", f"cases/tollgate-40-{second.family_id}.html"}
    assert "First" in cases["cases/tollgate-40.html"]


def test_a_script_in_words_stays_words(shown):
    entry = shown("</script><script>alert(1)</script>", story="<b>&amp;</b>")
    publish()
    page = pages()[f"pieces/{entry.code.lower()}.html"]
    assert page.count("<script") == 1
    assert "&lt;b&gt;&amp;amp;&lt;/b&gt;" in page


def test_words_that_stand_as_we_propose_them_come_in_every_language(shown):
    proposed = proposed_window_words("en")
    Window.objects.create(languages=["fr"], tagline=proposed["tagline"], steps=proposed["steps"].replace("\n", "\r\n"))
    entry = shown(takes="New hands\r\nA box of oak")
    publish()
    home, page = pages()["fr/index.html"], pages()[f"fr/pieces/{entry.code.lower()}.html"]
    assert "Votre montre garde son visage et reçoit un nouveau mouvement." in home
    assert "Nous la mesurons" in home
    assert "Nouvelles aiguilles" in page
    assert '<li><span lang="en">A box of oak</span></li>' in page
