"""QR codes as SVG."""

import io

import segno


def qr_svg(text):
    """A QR code of the text, medium error correction, with its quiet zone; sized by the page's style."""
    out = io.BytesIO()
    segno.make(text, error="m", micro=False).save(
        out,
        kind="svg",
        xmldecl=False,
        svgns=True,
        omitsize=True,
        border=4,
        dark="#000",
        light="#fff",
        svgclass="qr",
        title=f"Opens {text}" if "://" in text else f"Says {text}",
    )
    return out.getvalue().decode()
