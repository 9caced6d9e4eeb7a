"""The shop's bench rules, what each governs, and the minutes that remedies take."""
