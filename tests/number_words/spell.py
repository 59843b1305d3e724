"""Spells numbers with two general-purpose libraries: num2words (its own rules), and unicode-rbnf (the spell-out rules of the Unicode
CLDR, which ICU uses).

Reads {"languages": [...], "most": n, "hundredths": n, "parts": [...]}; prints for each language {"whole": {form: [words of 0 to most]},
"hundredths": [words of 0.00 to hundredths / 100], "parts": {bottom: ordinal or cardinal word}}.
"""

import json
import sys
from decimal import Decimal

from num2words import num2words
from unicode_rbnf import FormatPurpose, RbnfEngine

FORMS = {
    "numbering": ["spellout-numbering"],
    "masculine": ["spellout-cardinal-masculine", "spellout-cardinal-neuter"],
    "feminine": ["spellout-cardinal-feminine"],
}
ORDINALS = {"en": "spellout-ordinal", "de": "spellout-ordinal", "fr": "spellout-ordinal-masculine"}


def spoken(words):
    """Without the soft hyphens and the commas of writing, which nobody says."""
    return words.replace("\u00ad", "").replace(",", "")


def spell(language, given):
    engine = RbnfEngine.for_language(language)
    whole = {"num2words": [spoken(num2words(n, lang=language)) for n in range(given["most"] + 1)]}
    for n in range(given["most"] + 1):
        forms = engine.format_number(n, purpose=FormatPurpose.CARDINAL).text_by_ruleset
        for form, rulesets in FORMS.items():
            for ruleset in rulesets:
                if ruleset in forms:
                    whole.setdefault(form, []).append(spoken(forms[ruleset]))
                    break
    hundredths = [spoken(num2words(Decimal(n) / 100, lang=language)) for n in range(given["hundredths"] + 1)]
    parts = {}
    for bottom in given["parts"]:
        if language in ORDINALS:
            forms = engine.format_number(bottom, purpose=FormatPurpose.ORDINAL).text_by_ruleset
            parts[str(bottom)] = spoken(forms[ORDINALS[language]])
        else:
            forms = engine.format_number(bottom, purpose=FormatPurpose.CARDINAL).text_by_ruleset
            parts[str(bottom)] = spoken(forms["spellout-numbering"])
    return {"whole": whole, "hundredths": hundredths, "parts": parts}


given = json.load(sys.stdin)
print(json.dumps({language: spell(language, given) for language in given["languages"]}))
