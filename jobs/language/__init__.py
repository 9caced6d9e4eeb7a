"""The languages that customers' papers come in: choices, numbers and dates by Babel, translations in jobs/locale."""
