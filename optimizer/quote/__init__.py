"""From a curve to a quote: options, priced lines, electrical sheet, handing-over sheet.

Composition only: nothing here draws or writes files, and nothing solves but for the appendix.
"""

from optimizer.quote.appendix import Appendix
from optimizer.quote.build import PricedOption, Quote, build_quote
from optimizer.quote.company import Company, Stage, company_from, read_company
from optimizer.quote.options import Option, Pick, Selection, select
from optimizer.quote.priced_lines import Pricing, price

__all__ = [
    "Appendix",
    "Company",
    "Option",
    "Pick",
    "PricedOption",
    "Pricing",
    "Quote",
    "Selection",
    "Stage",
    "build_quote",
    "company_from",
    "price",
    "read_company",
    "select",
]
