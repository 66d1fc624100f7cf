"""Formulae and quantities as people read them: one layout, four printers (page, PDF, spoken text, author's text)."""
