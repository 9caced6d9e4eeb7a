"""Customers' papers in every language, read back by an independent reader."""

import io
import re
from functools import cache

import pytest
from babel.dates import format_date
from django.utils import timezone
from pypdf import PdfReader

from jobs.language.choices import CODES, language_name
from jobs.models import PaperOut
from jobs.papers.invoice import invoice_pdf
from jobs.papers.making import keep_paper, paper_pdf
from jobs.quotes import versions
from jobs.quotes.texts import texts_of
from jobs.quotes.ways import ways_of
from tests import catalogue
from tests.reading import pdf_words

pytestmark = [pytest.mark.django_db, pytest.mark.alike]

MONEY = {"en": "€1,234.50", "de": "1.234,50 €", "fr": "1 234,50 €", "es": "1.234,50 €", "ja": "€1,234.50"}
"""By hand: group sign, decimal sign and place of the currency's sign as each language writes them."""
RATE = {"en": "0.37 sec", "de": "0,37 Sek", "fr": "0,37 sec", "es": "0,37 seg", "ja": "0.37秒"}
"""Two places with the language's decimal sign."""
FOOT = {"en": "page 1 of", "de": "Seite 1 von", "fr": "page 1 sur", "es": "página 1 de", "ja": "1 / "}
SAID = {
    "receipt": {
        "en": ("Receipt for your watch, job", "Value you declared", "Crystal worn", "Movement runs yes"),
        "de": ("Annahmeschein für Ihre Uhr", "Von Ihnen angegebener Wert", "Uhrglas Gebrauchsspuren", "Werk läuft ja"),
        "fr": ("Reçu de dépôt de votre montre", "Valeur que vous avez déclarée", "Verre traces d’usure"),
        "es": ("Resguardo de depósito de su reloj", "Valor que ha declarado", "Cristal desgaste"),
        "ja": ("時計のお預かり証", "ご申告の価格", "風防 使用による傷み", "ほかに1枚の写真を撮りました。"),
    },
    "quote": {
        "en": ("Quote", "Option 1: Quartz movement with date", "New hands", "The date window will stay blank."),
        "de": ("Angebot", "Variante 1: Quarzwerk mit Datum", "Neue Zeiger", "Das Datumsfenster bleibt leer."),
        "fr": ("Devis", "Option 1 : Mouvement à quartz avec date", "Nouvelles aiguilles", "cercle d’encageage"),
        "es": ("Presupuesto", "Opción 1: Movimiento de cuarzo con fecha", "Agujas nuevas", "aro de encaje"),
        "ja": ("お見積書", "プラン1： クオーツムーブメント、日付あり", "新しい針", "中枠"),
    },
    "handover": {
        "en": ("Your watch, job", "It loses about", "That is within the maker's limits."),
        "de": (
            "Ihre Uhr, Auftrag",
            "Sie geht etwa",
            "innerhalb der Grenzen des Herstellers",
            "Stunden seit der ersten",
        ),
        "fr": ("Votre montre, dossier", "Elle retarde d’environ", "dans les limites du fabricant"),
        "es": ("Su reloj, trabajo", "Atrasa unos", "dentro de los límites del fabricante"),
        "ja": ("お客様の時計", "1日におよそ", "メーカーの許容範囲内です。"),
    },
    "invoice": {
        "en": ("Invoice", "Price with tax", "Tax, 20 % of"),
        "de": ("Rechnung", "Preis mit MwSt.", "MwSt., 20 % auf", "Zahlbar bis"),
        "fr": ("Facture", "Prix TTC", "TVA, 20 % sur", "Échéance"),
        "es": ("Factura", "Precio con IVA", "IVA, 20 % sobre", "Vencimiento"),
        "ja": ("請求書", "税込価格", "お支払い期限"),
    },
    "credit": {
        "en": ("Credit note", "is set off against invoice"),
        "de": ("Rechnungskorrektur", "wird mit der Rechnung"),
        "fr": ("Avoir", "est imputé sur la facture"),
        "es": ("Factura rectificativa", "se compensa con la factura"),
        "ja": ("返金伝票", "と相殺するか"),
    },
    "label": {"en": ("for",), "de": ("zum",), "fr": ("pour le",), "es": ("para el",), "ja": ("お渡し予定",)},
}


def fonts_of(reader):
    """The names of the fonts that a PDF carries, without the marks of what is left out of them."""
    fonts = [font for page in reader.pages for font in page["/Resources"]["/Font"].values()]
    return {font.get_object()["/BaseFont"].split("+")[-1] for font in fonts}


@pytest.fixture
def papers(invoiced, quoted):
    """Makes every paper for customers in one language: (kind, bytes)."""

    def make(language):
        invoice, credit = invoiced(language)
        job, quote = invoice.job, quoted(language)
        more = {"quote": {"quote": quote, "job": quote.job}, "handover": {"sees_money": True}}
        billed = {"invoice": invoice, "credit": credit}
        for kind in SAID:
            if kind in billed:
                yield kind, invoice_pdf(billed[kind])
            else:
                yield kind, paper_pdf(**{"job": job, "kind": kind, "address": "http://192.0.2.7/"} | more.get(kind, {}))

    return make


@cache
def english():
    """The sentences and words of the catalogue that no other language writes in the same way."""
    pieces = []
    for message, _ in catalogue.messages():
        for text in [message] if isinstance(message, str) else message:
            plain = re.split(r"%\(\w+\)s|%%|\{[a-z_ ]+\}|<[^>]*>", text)
            pieces += (piece.strip(" .,:;\n") for piece in plain if len(piece.split()) > 2)
    return pieces


@pytest.mark.parametrize("language", CODES)
def test_every_paper_speaks_the_customers_language(papers, language):
    today = timezone.localdate()
    day = format_date(today, "long", locale={"en": "en_GB"}.get(language, language))
    for kind, content in papers(language):
        words, reader = pdf_words(content), PdfReader(io.BytesIO(content))
        assert reader.trailer["/Root"]["/Lang"] == language
        missing = [part for part in SAID[kind][language] if part not in words]
        assert missing == [], (kind, words)
        if kind != "label":
            assert day in words, (kind, words)
            assert FOOT[language] in words, (kind, words)
        if kind in ("receipt", "quote", "invoice"):
            assert MONEY[language] in words, (kind, words)
        if kind == "handover":
            assert RATE[language] in words, words
        if language == "ja":
            assert "VL-PGothic" in fonts_of(reader)
        if language != "en":
            there = [piece for piece in english() if piece in words]
            left = [piece for piece in there if re.search(rf"\b{re.escape(piece)}\b", words)]
            assert left == (["KEEP CLOSED: old luminous paint"] if kind == "label" else []), kind


def test_a_picture_is_described_in_the_papers_language(papers):
    for kind, content in papers("de"):
        described = " ".join(_alternatives(PdfReader(io.BytesIO(content)).trailer["/Root"]["/StructTreeRoot"]))
        assert not [piece for piece in english() if piece in described], (kind, described)
        if kind == "quote":
            assert "Das künftige Zifferblatt" in described
        if kind == "handover":
            assert "5 Ablesungen in 96,0 Stunden; Gang −0,30 ±0,12 s/Tag" in described


def _alternatives(node):
    node = node.get_object()
    if isinstance(node, list):
        for each in node:
            yield from _alternatives(each)
    elif hasattr(node, "get"):
        if "/Alt" in node:
            yield node["/Alt"]
        if "/K" in node:
            yield from _alternatives(node["/K"])


def test_a_paper_is_made_in_another_language_for_once(quoted, owner):
    quote = quoted("de")
    kept = keep_paper(job=quote.job, kind="quote", address="", by=owner, quote=quote, language="fr")
    with kept.file.open("rb") as file:
        words = pdf_words(file.read())
    assert kept.language == "fr"
    assert "Nouveau mouvement à quartz" in words
    assert "Neues Quarzwerk" not in words
    quote.refresh_from_db()
    assert (quote.language, quote.parts.first().title) == ("de", "Quarzwerk mit Datum")


def test_an_unknown_language_falls_back(quoted, shop):
    quote = quoted("de")
    assert "Angebot" in pdf_words(paper_pdf(job=quote.job, kind="quote", address="", quote=quote, language="tlh"))
    shop.language, quote.language, quote.job.customer.language = "es", "xx", "xx"
    shop.save()
    assert "Presupuesto" in pdf_words(paper_pdf(job=quote.job, kind="quote", address="", quote=quote))


def test_the_bench_keeps_its_language(whole_job):
    job = whole_job("ja")
    for kind in ("sheet", "measure", "template"):
        content = paper_pdf(job=job, kind=kind, address="http://192.0.2.7/")
        assert PdfReader(io.BytesIO(content)).trailer["/Root"]["/Lang"] == "en"
    assert "Hands Fit the hands" not in pdf_words(paper_pdf(job=job, kind="sheet", address=""))


def test_what_the_bench_reads_of_a_quote_is_in_its_own_language(quoted, owner):
    quote = quoted("ja")
    second = quote.parts.last()
    said = {"said_by": "Q. Zorn", "how": "phone", "on": timezone.localdate(), "by": owner}
    versions.accept(quote=quote, part=second, taken=set(), **said)
    assert any(order.text.startswith("New mechanical movement") for order in quote.job.orders.all())
    assert "The date window will stay blank." in pdf_words(paper_pdf(job=quote.job, kind="sheet", address=""))


def test_a_watch_without_a_name_is_one_in_every_language(whole_job, owner):
    job = whole_job("fr")
    job.watch = ""
    job.save()
    assert ": montre, numéro de série" in pdf_words(paper_pdf(job=job, kind="receipt", address=""))
    assert versions.empty_draft(job=job, by=owner).title == "montre"
    assert job.title == "watch"


def test_the_warning_on_a_label_is_in_the_language_of_the_bench(whole_job, shop):
    job = whole_job("ja")
    assert "KEEP CLOSED: old luminous paint" in pdf_words(paper_pdf(job=job, kind="label", address=""))
    shop.language = "de"
    shop.save()
    assert "NICHT ÖFFNEN: alte Leuchtmasse" in pdf_words(paper_pdf(job=job, kind="label", address=""))


def test_what_went_out_stays_as_it_went_out(quoted, owner):
    quote = quoted("de")
    kept = keep_paper(job=quote.job, kind="quote", address="", by=owner, quote=quote)
    with kept.file.open("rb") as file:
        before = file.read()
    quote.job.customer.language = "ja"
    quote.job.customer.save()
    with PaperOut.objects.get(pk=kept.pk).file.open("rb") as file:
        assert file.read() == before
    assert "Angebot" in pdf_words(paper_pdf(job=quote.job, kind="quote", address="", quote=quote))


def test_the_next_version_is_in_the_language_that_the_customer_has_now(quoted, owner):
    quote = quoted("de")
    line = quote.parts.first().lines.first()
    line.text = "Uhr öffnen, vorsichtig"
    line.save()
    quote.job.customer.language = "fr"
    quote.job.customer.save()
    made = versions.next_version(quote=quote, by=owner)
    typed, composed = list(made.parts.first().lines.all())[:2]
    assert (made.language, made.parts.first().title) == ("fr", "Mouvement à quartz avec date")
    assert (typed.text, composed.text[:33]) == ("Uhr öffnen, vorsichtig", "Fabriquer un cercle d’encageage p")


@pytest.mark.parametrize(
    ("language", "begins", "amounts"),
    [
        ("en", "Hello Q. Zorn,", "€3,803.32 to €5,022.56"),
        ("de", "Guten Tag Q. Zorn,", "3.803,32 € bis 5.022,56 €"),
        ("ja", "Q. Zorn 様", "€3,803.32 ～ €5,022.56"),
    ],
)
def test_the_texts_to_copy_are_in_the_quotes_language(quoted, language, begins, amounts):
    quote = quoted(language)
    (_, email), (_, message) = texts_of(quote=quote, ways=ways_of(quote=quote))
    assert email.startswith(begins)
    assert amounts in " ".join(message.split())
    assert "{" not in email + message


def test_every_language_has_a_name_and_pages_stay_english(owner_client, whole_job):
    assert [language_name(code) for code in CODES] == ["English", "German", "French", "Spanish", "Japanese"]
    job = whole_job("de")
    page = owner_client.get(job.get_absolute_url()).text
    assert 'lang="en"' in page
    assert "€1,234.50" in page
