"""The form file: a form as a mason describes it himself (TOML), to be searched for an order in which it comes off."""

from crownwright.service.formfile.reading import ToldForm, parse_form, read_form

__all__ = ["ToldForm", "parse_form", "read_form"]
