"""From a curve to a quote: options, priced lines, electrical sheet, handing-over sheet.

Composition only: nothing here draws or writes files, and nothing solves but for the appendix.
"""

from optimizer.quote.appendix import Appendix as Appendix
from optimizer.quote.build import PricedOption as PricedOption
from optimizer.quote.build import Quote as Quote
from optimizer.quote.build import build_quote as build_quote
from optimizer.quote.company import Company as Company
from optimizer.quote.company import Stage as Stage
from optimizer.quote.company import company_from as company_from
from optimizer.quote.company import read_company as read_company
from optimizer.quote.options import Option as Option
from optimizer.quote.options import Pick as Pick
from optimizer.quote.options import Selection as Selection
from optimizer.quote.options import select as select
from optimizer.quote.priced_lines import Pricing as Pricing
from optimizer.quote.priced_lines import price as price
