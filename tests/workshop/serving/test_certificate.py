"""The certificate that the workshop makes for itself."""

import stat
import subprocess
from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509

from workshop.serving import certificate

HOSTS = ["192.168.7.5", "127.0.0.1", "bench", "bench.local"]


def read(file):
    return x509.load_pem_x509_certificate(file.read_bytes())


def test_is_for_these_hosts_and_only_its_owner_can_read_it(tmp_path):
    made = certificate.certificate_file(tmp_path, HOSTS)
    names = read(made).extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    assert [str(name.value) for name in names] == HOSTS
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    assert [file.name for file in tmp_path.iterdir()] == ["network.pem"]
    assert timedelta(days=364) < certificate.ends(made) - datetime.now(UTC) < timedelta(days=365)


def test_is_kept_from_start_to_start(tmp_path):
    first = certificate.fingerprint(certificate.certificate_file(tmp_path, HOSTS))
    assert certificate.fingerprint(certificate.certificate_file(tmp_path, list(reversed(HOSTS)))) == first


def test_is_made_anew_for_another_address(tmp_path):
    first = certificate.fingerprint(certificate.certificate_file(tmp_path, HOSTS))
    assert certificate.fingerprint(certificate.certificate_file(tmp_path, ["192.168.7.9", *HOSTS[1:]])) != first


@pytest.mark.parametrize(("days_left", "is_kept"), [(31, True), (29, False), (0, False)])
def test_is_made_anew_in_the_month_before_its_end(tmp_path, monkeypatch, days_left, is_kept):
    monkeypatch.setattr(certificate, "VALID", timedelta(days=days_left, hours=2))
    first = certificate.fingerprint(certificate.certificate_file(tmp_path, HOSTS))
    monkeypatch.undo()
    assert (certificate.fingerprint(certificate.certificate_file(tmp_path, HOSTS)) == first) == is_kept


@pytest.mark.parametrize("damage", [b"", b"junk", b"-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n"])
def test_a_damaged_one_is_replaced(tmp_path, damage):
    (tmp_path / "network.pem").write_bytes(damage)
    assert certificate.ends(certificate.certificate_file(tmp_path, HOSTS)) > datetime.now(UTC)


def test_another_program_reads_the_same_fingerprint(tmp_path):
    made = certificate.certificate_file(tmp_path, HOSTS)
    asked = ["openssl", "x509", "-in", str(made), "-noout", "-fingerprint", "-sha256"]
    told = subprocess.run(asked, capture_output=True, text=True, check=True).stdout.strip()
    assert told.split("=")[1] == certificate.fingerprint(made)
