"""Words and numbers that speak of money."""

import re

_CODES = (
    "AUD|BRL|CHF|CNH|CNY|CZK|DKK|EUR|GBP|HKD|HUF|IDR|ILS|INR|JPY|KRW|MXN|MYR|NOK|NZD|PHP|PLN|RMB|SEK|SGD|THB|TWD|"
    "UAH|USD|VND|ZAR"
)
_CODES_BESIDE_DIGITS = f"{_CODES}|CAD|RON"
_MONEY_WORDS = "euros?|pounds?|dollars?|quid|pence|cents?|yuan|renminbi|yen|zloty|koruna|crowns?|kroner?|francs?|rupees?|won"
_PRICE_WORDS = re.compile(
    r"\b(?:price[sd]?|priced|pricing|costs?|costing|charge[sd]?|invoice[sd]?|discounts?|rebates?|cheaper|dearer)\b",
    re.IGNORECASE,
)
_ALONE = re.compile(
    r"\b(?:euros?|pounds?|dollars?|quid|pence|cents?|yuan|bucks?|grand|budget\w*)\b|\b\d[\d.,]*k\b|\bk\s?\d"
    r"|\bpay\w*\b.*[\d%]",
    re.IGNORECASE,
)
_BARE_CODE = re.compile(rf"(?<!\w)(?:{_CODES})(?!\w)")
_AMOUNT = re.compile(
    rf"\d[\d.,\s]*k?\s*(?:{_CODES_BESIDE_DIGITS}|{_MONEY_WORDS})\b"
    rf"|(?<![^\W\d_])(?:{_CODES_BESIDE_DIGITS}|{_MONEY_WORDS})[\s.:]*\d",
    re.IGNORECASE,
)
_MEASURES = "mm|cm|m|km|g|kg|ml|l|litres?|v|a|ma|w|hz|khz|mhz|ghz|db|s|h|hours?|in|inch|inches"
_TWO_PLACES = re.compile(
    rf"(?<![\w.,])(?:\d{{1,3}}(?:[.,\s]\d{{3}})+|\d+)[.,]\d\d(?!\d|[.,]\d)(?!\s*(?:%|(?:{_MEASURES})\b))",
    re.IGNORECASE,
)
_FOR_EACH = re.compile(
    r"\d\s*(?:each\b(?!\s+(?:day|week|month|working|shift))|apiece|a\s+piece|per\s+(?:piece|unit)|a\s+unit"
    r"|in\s+all|all\s+in|in\s+total|altogether)\b",
    re.IGNORECASE,
)


def speaks_of_money(text: str, currency: str = "") -> bool:
    """Whether a text has a currency sign, the run's currency, an amount with a currency, or a word for prices.

    Examples
    --------
    >>> speaks_of_money("68 pieces, EUR 704"), speaks_of_money("68 pieces, letter D")
    (True, False)
    """
    return _names_an_amount(text, currency) or bool(_PRICE_WORDS.search(text))


def tells_a_price(text: str, currency: str = "") -> bool:
    """Whether a text says how much: an amount, a word for prices beside any number, or what reads like one.

    Examples
    --------
    >>> tells_a_price("rings at 4.20 each"), tells_a_price("second source priced"), tells_a_price("0.06 mm tight")
    (True, False, False)
    """
    priced = _PRICE_WORDS.search(text) and any(one.isdigit() for one in text)
    likely = any(money.search(text) for money in (_TWO_PLACES, _FOR_EACH, _ALONE))
    return bool(priced) or likely or _names_an_amount(text, currency)


def _names_an_amount(text: str, currency: str) -> bool:
    if any(_is_currency_sign(character) for character in text):
        return True
    if currency and re.search(rf"(?<!\w){re.escape(currency)}(?!\w)", text, re.IGNORECASE):
        return True
    return any(money.search(text) for money in (_AMOUNT, _BARE_CODE))


def _is_currency_sign(character: str) -> bool:
    from unicodedata import category

    return category(character) == "Sc"
