"""Parts measured from pictures: uploads, the queue that reads them, what was picked, and storing it."""
