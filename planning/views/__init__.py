"""The pages, one function each; its name is the name of its URL, its template and its test."""
