"""Finds what keeps people from using a page."""

from axe_playwright_python.sync_playwright import Axe


def assert_no_serious_faults(page):
    """Fail with the places named when axe-core finds a serious or critical fault on the page."""
    violations = Axe().run(page).response["violations"]
    faults = [
        f"{violation['id']}: {violation['help']}: {node['html']}"
        for violation in violations
        if violation["impact"] in ("serious", "critical")
        for node in violation["nodes"]
    ]
    assert not faults, "\n".join(faults)
