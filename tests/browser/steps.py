"""What a person does on many pages."""

from playwright.sync_api import expect


def choose(page, name, words):
    """Find a part by typing, with the keyboard alone, and take the first that is offered."""
    page.locator(f"#id_{name}-words").focus()
    page.keyboard.type(words)
    hit = page.locator(f".picker[data-name={name}] .picker-hits button").first
    expect(hit).to_contain_text(words)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator(f".picker[data-name={name}] .picked-name")).to_be_visible()


def unpick(page, name):
    """Take a chosen part back."""
    page.locator(f".picker[data-name={name}] [data-unpick]").press("Enter")
    expect(page.locator(f"#id_{name}-words")).to_be_focused()


def follow(link_or_button):
    """Press what leads to another page, and wait for that: what is asked too soon is asked of the page that is left."""
    with link_or_button.page.expect_navigation():
        link_or_button.press("Enter")
