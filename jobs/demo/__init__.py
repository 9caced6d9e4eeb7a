"""The demo's jobs: open ones at every stage, and the past ones behind them."""
