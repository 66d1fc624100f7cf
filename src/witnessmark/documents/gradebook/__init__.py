from witnessmark.documents.gradebook.book import gradebook

__all__ = ["gradebook"]
