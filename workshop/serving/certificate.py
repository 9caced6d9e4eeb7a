"""The certificate that the workshop makes for itself, to be served encrypted on the bench's network."""

import os
from datetime import UTC, datetime, timedelta
from ipaddress import ip_address
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

VALID = timedelta(days=365)
"""Some browsers complain of more than 13 months, and some judges of configurations of more than a year."""
RENEWED_BEFORE_END = timedelta(days=30)


def certificate_file(folder: Path, hosts: list[str]) -> Path:
    """The file with key and certificate for these hosts, made where it is missing, ends soon or is for others."""
    file = folder / "network.pem"
    if not (file.exists() and _still_good(file, hosts)):
        _write(file, hosts)
    return file


def fingerprint(file: Path) -> str:
    """The certificate's SHA-256 fingerprint as browsers show it: AB:CD:..."""
    return _read(file).fingerprint(hashes.SHA256()).hex(":").upper()


def ends(file: Path) -> datetime:
    """Until when the certificate is valid."""
    return _read(file).not_valid_after_utc


def _read(file):
    return x509.load_pem_x509_certificate(file.read_bytes())


def _still_good(file, hosts):
    try:
        certificate = _read(file)
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except (ValueError, x509.ExtensionNotFound):
        return False
    now = datetime.now(UTC)
    in_time = certificate.not_valid_before_utc <= now < certificate.not_valid_after_utc - RENEWED_BEFORE_END
    return in_time and set(names) == set(_names(hosts))


def _names(hosts):
    for host in hosts:
        try:
            yield x509.IPAddress(ip_address(host))
        except ValueError:
            yield x509.DNSName(host)


def _write(file, hosts):
    """Key and certificate go into one file that only its owner can read, in one step."""
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, f"Dialside on {hosts[0]}")])
    now = datetime.now(UTC)
    usage = dict.fromkeys(
        ("content_commitment", "key_encipherment", "data_encipherment", "key_agreement", "key_cert_sign", "crl_sign",
         "encipher_only", "decipher_only"), False
    )  # fmt: skip
    certificate = (
        x509.CertificateBuilder(subject_name=name, issuer_name=name, public_key=key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(hours=1))
        .not_valid_after(now + VALID - timedelta(hours=1))
        .add_extension(x509.SubjectAlternativeName(list(_names(hosts))), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(x509.KeyUsage(digital_signature=True, **usage), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .sign(key, hashes.SHA256())
    )
    private = key.private_bytes(
        serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
    )
    draft = file.with_suffix(f".{os.getpid()}")
    with open(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as opened:
        opened.write(private + certificate.public_bytes(serialization.Encoding.PEM))
    os.replace(draft, file)
