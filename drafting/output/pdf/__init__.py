"""A PDF from below: ink, text, fonts, the document and what flows over its pages."""
