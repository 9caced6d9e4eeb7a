"""An issued invoice or credit note as an electronic one: EN 16931 in the syntax of UBL 2.1.

Source: EN 16931-1 (business terms, as BT-131, and rules, as BR-CO-13) and UBL 2.1. Prices that were agreed with their
tax are told without it, so that a tax may differ from net times rate by one coin; the sums agree to the coin.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

from django.utils.translation import gettext as _

from jobs.language.choices import speaking
from jobs.models import Invoice
from jobs.money.sums import rounded

if TYPE_CHECKING:
    import datetime as dt

_UBL = "urn:oasis:names:specification:ubl:schema:xsd:"
_NAMESPACES = {"cac": f"{_UBL}CommonAggregateComponents-2", "cbc": f"{_UBL}CommonBasicComponents-2"}
_STANDARD = "urn:cen.eu:en16931:2017"
_WORDS: dict[str, tuple[str, str, str]] = {Invoice.Kind.INVOICE: ("Invoice", "380", "InvoicedQuantity"),
          Invoice.Kind.CREDIT: ("CreditNote", "381", "CreditedQuantity")}  # fmt: skip
"""Document, its type by UNTDID 1001, and what its lines call their quantity."""
_NOT_IN_XML = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_VAT_PREFIX = {"GR": "EL"}
"""Countries whose tax identifiers do not begin with their own code."""


def missing(invoice: Invoice) -> list[str]:
    """What an electronic invoice needs and this one does not name."""
    buyer = [] if invoice.buyer_country else ["the customer's country"]
    return missing_of_shop(invoice.seller_country, invoice.seller_tax_number) + buyer


def missing_of_shop(country: str, tax_number: str) -> list[str]:
    """What an electronic invoice needs of the shop and is not there."""
    return [words for words, value in (("your country", country), ("your tax number", tax_number)) if not value]


def ubl(invoice: Invoice) -> bytes:
    """The XML of an issued invoice or credit note that has nothing `missing`, its words in the invoice's language."""
    with speaking(invoice.language):
        return _written(invoice)


def _written(invoice):
    for prefix, uri in _NAMESPACES.items():
        ET.register_namespace(prefix, uri)
    document, kind, quantity = _WORDS[invoice.kind]
    is_credit = invoice.kind == Invoice.Kind.CREDIT
    root = ET.Element(document, {"xmlns": f"{_UBL}{document}-2"})
    _put(root, "CustomizationID", _STANDARD)
    _put(root, "ID", invoice.number)
    _put(root, "IssueDate", invoice.issued)
    if invoice.due_on and not is_credit:
        _put(root, "DueDate", invoice.due_on)
    _put(root, f"{document}TypeCode", kind)
    if invoice.reason:
        _put(root, "Note", invoice.reason)
    _put(root, "DocumentCurrencyCode", invoice.currency)
    if invoice.corrects:
        reference = _in(root, "BillingReference", "InvoiceDocumentReference")
        _put(reference, "ID", invoice.corrects.number)
        _put(reference, "IssueDate", invoice.corrects.issued)
    _seller(_in(root, "AccountingSupplierParty", "Party"), invoice)
    buyer = _in(root, "AccountingCustomerParty", "Party")
    _address(buyer, invoice.buyer_address, invoice.buyer_country)
    _put(_in(buyer, "PartyLegalEntity"), "RegistrationName", invoice.buyer_name)
    _put(_in(root, "Delivery"), "ActualDeliveryDate", invoice.supplied)
    if words := _("To be set off or paid back.") if is_credit else invoice.how_to_pay:
        _put(_in(root, "PaymentTerms"), "Note", words)
    _sums(root, invoice)
    for line in invoice.lines.all():
        _line(_in(root, f"{document}Line"), line, invoice, quantity)
    return ET.tostring(root, encoding="utf-8", xml_declaration=True)


def _seller(party, invoice):
    """The shop: a tax number that begins with its country is a VAT identifier (BT-31), any other a registration."""
    number = re.sub(r"\s", "", invoice.seller_tax_number).upper()
    is_vat = number.startswith(_VAT_PREFIX.get(invoice.seller_country, invoice.seller_country))
    if not is_vat:
        _put(_in(party, "PartyIdentification"), "ID", invoice.seller_tax_number)
    _address(party, invoice.seller_address, invoice.seller_country)
    scheme = _in(party, "PartyTaxScheme")
    _put(scheme, "CompanyID", number if is_vat else invoice.seller_tax_number)
    _put(_in(scheme, "TaxScheme"), "ID", "VAT" if is_vat else "TAX")
    _put(_in(party, "PartyLegalEntity"), "RegistrationName", invoice.seller_name)


def _address(party, text, country):
    address = _in(party, "PostalAddress")
    lines = [line.strip() for line in text.splitlines() if line.strip()]
    for name, line in zip(("StreetName", "AdditionalStreetName"), lines, strict=False):
        _put(address, name, line)
    if rest := lines[2:]:
        _put(_in(address, "AddressLine"), "Line", ", ".join(rest))
    _put(_in(address, "Country"), "IdentificationCode", country)


def _sums(root, invoice):
    taxes = list(invoice.taxes.all())
    for tax in (tax for tax in taxes if tax.discount_net):
        allowance = _in(root, "AllowanceCharge")
        _put(allowance, "ChargeIndicator", "false")
        _put(allowance, "AllowanceChargeReason", _("Discount"))
        _amount(allowance, "Amount", tax.discount_net, invoice)
        _category(_in(allowance, "TaxCategory"), tax.rate, invoice)
    total = _in(root, "TaxTotal")
    _amount(total, "TaxAmount", invoice.tax, invoice)
    for tax in taxes:
        subtotal = _in(total, "TaxSubtotal")
        _amount(subtotal, "TaxableAmount", tax.net, invoice)
        _amount(subtotal, "TaxAmount", tax.tax, invoice)
        _category(_in(subtotal, "TaxCategory"), tax.rate, invoice, gives_reason=True)
    whole = _in(root, "LegalMonetaryTotal")
    _amount(whole, "LineExtensionAmount", invoice.lines_net, invoice)
    _amount(whole, "TaxExclusiveAmount", invoice.net, invoice)
    _amount(whole, "TaxInclusiveAmount", invoice.total, invoice)
    if invoice.discount_net:
        _amount(whole, "AllowanceTotalAmount", invoice.discount_net, invoice)
    if invoice.prepaid:
        _amount(whole, "PrepaidAmount", invoice.prepaid, invoice)
    _amount(whole, "PayableAmount", invoice.due, invoice)


def _line(element, line, invoice, quantity):
    """A line; the price is that of all its pieces (BT-149 says of how many), so that no coin is lost by dividing."""
    _put(element, "ID", line.position)
    _put(element, quantity, line.quantity, unitCode="C62")
    _amount(element, "LineExtensionAmount", line.net, invoice)
    item = _in(element, "Item")
    _put(item, "Name", line.text)
    _category(_in(item, "ClassifiedTaxCategory"), line.tax_rate, invoice)
    price = _in(element, "Price")
    _amount(price, "PriceAmount", line.net, invoice)
    if line.quantity > 1:
        _put(price, "BaseQuantity", line.quantity, unitCode="C62")


def _category(element: ET.Element, rate: Decimal, invoice: Invoice, *, gives_reason: bool = False) -> None:
    """Standard rate; at 0 % exempt where the shop says why, else zero-rated."""
    is_exempt = not rate and bool(invoice.no_tax_reason)
    _put(element, "ID", "S" if rate else "E" if is_exempt else "Z")
    _put(element, "Percent", f"{rate.normalize():f}")
    if is_exempt and gives_reason:
        _put(element, "TaxExemptionReason", invoice.no_tax_reason)
    _put(_in(element, "TaxScheme"), "ID", "VAT")


def _in(parent: ET.Element, *names: str) -> ET.Element:
    """A new element within new elements of these names."""
    for name in names:
        parent = ET.SubElement(parent, f"{{{_NAMESPACES['cac']}}}{name}")
    return parent


def _put(parent: ET.Element, name: str, value: str | int | dt.date, **attributes: str) -> None:
    element = ET.SubElement(parent, f"{{{_NAMESPACES['cbc']}}}{name}", attributes)
    element.text = _NOT_IN_XML.sub("", str(value))


def _amount(parent: ET.Element, name: str, value: Decimal, invoice: Invoice) -> None:
    _put(parent, name, f"{rounded(value, invoice.currency):f}", currencyID=invoice.currency)
