"""Pages made from views: what a page says, its template and its look.  The language is an argument."""
