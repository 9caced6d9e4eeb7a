"""The shop's own page: letterhead, money, texts, bench rules."""
