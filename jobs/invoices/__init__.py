"""What a customer pays: payments, what is owed, invoices and credit notes, and their electronic form."""
