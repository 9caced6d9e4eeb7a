"""What the program draws and writes for paper and for files."""
