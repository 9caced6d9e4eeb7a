"""Where photos and papers lie: in the data folder, or in S3-compatible storage by one setting.

The setting reads `s3://bucket`, `s3://bucket/prefix` or with `?endpoint=https://...&region=...`; the keys come from
AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY. The workshop hands the files out itself, so the bucket stays closed.
"""

import importlib.util
from urllib.parse import parse_qs, urlsplit

FOLDER = {"BACKEND": "workshop.safekeeping.durable.DurableFiles"}
_KNOWN = {"endpoint", "region"}


class FilesSettingError(ValueError):
    """A setting that names no place for files; says what to write."""


def file_storage(setting):
    """Django's description of the storage. Raises FilesSettingError."""
    if not setting:
        return FOLDER
    parts = urlsplit(setting)
    more = parse_qs(parts.query)
    if parts.scheme != "s3" or not parts.netloc or more.keys() - _KNOWN:
        raise FilesSettingError(
            f"DIALSIDE_FILES={setting} cannot be read. Write s3://bucket, s3://bucket/prefix or "
            "s3://bucket?endpoint=https://host&region=name."
        )
    if importlib.util.find_spec("storages") is None or importlib.util.find_spec("boto3") is None:
        raise FilesSettingError("The packages for S3 are missing. Start with make run, which installs them.")
    return {"BACKEND": "storages.backends.s3.S3Storage", "OPTIONS": _options(parts, more)}


def _options(parts, more):
    from botocore.config import Config

    endpoint, region = (more.get(name, [None])[0] for name in ("endpoint", "region"))
    style = {"addressing_style": "path"} if endpoint else {}
    return {
        "bucket_name": parts.netloc,
        "location": parts.path.strip("/"),
        "endpoint_url": endpoint,
        "region_name": region,
        "default_acl": None,
        "file_overwrite": False,
        "client_config": Config(
            s3=style,
            signature_version="s3v4",
            request_checksum_calculation="when_required",
            response_checksum_validation="when_required",
            retries={"max_attempts": 3},
        ),
    }
