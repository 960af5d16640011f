"""The process that holds the book for all stations: who may come in, what is asked of the book, what is written."""
