package money

import (
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// Max is the largest amount accepted, in whole units of the currency.
const Max = 10_000_000

// amountForm is what is left of an amount without its currency.
var amountForm = regexp.MustCompile(`^([0-9]+)(?:([.,])([0-9]+))?$`)

// Parse reads an amount of 0 to 10 million of currency, an ISO 4217 code:
// "280", "280.00", "280,50", "$280", "280.00 USD". It refuses signs, exponents,
// more decimals than the currency has, separators between thousands and another
// currency. Its error is a *measure.InputError.
func Parse(text, currency string) (Money, error) {
	refuse := func(code, key string, args ...any) (Money, error) {
		return Money{}, &measure.InputError{Code: code, Got: text, Reason: measure.Say(key, args...), Accepts: Accepted(currency)}
	}
	if len(text) > measure.MaxText {
		return Money{}, &measure.InputError{Code: "too-long", Reason: measure.Say("it is too long for an amount"), Accepts: Accepted(currency)}
	}
	bare := withoutCurrency(strings.TrimSpace(text), currency)
	if strings.HasPrefix(bare, "-") || strings.HasPrefix(bare, "−") {
		return refuse("negative", "an amount is not below zero")
	}
	parts := amountForm.FindStringSubmatch(bare)
	if parts == nil {
		return refuse("not-an-amount", "it is not one plain amount in %s", currency)
	}
	whole, mark, decimals := parts[1], parts[2], parts[3]
	digits := minorDigits(currency)
	if mark == "," && len(decimals) == 3 {
		return refuse("ambiguous", "its comma could mark thousands or decimals")
	}
	if len(decimals) > digits {
		return refuse("too-many-decimals", "%s has %d decimals", currency, digits)
	}
	minor, err := strconv.ParseInt(whole+decimals+strings.Repeat("0", digits-len(decimals)), 10, 64)
	if err != nil || minor > Largest(currency) {
		return refuse("too-large", "it is more than %d", Max)
	}
	return Money{Minor: minor, Currency: currency}, nil
}

// Accepted says which amounts Parse reads.
func Accepted(currency string) measure.Text {
	if minorDigits(currency) == 0 {
		return measure.Say("an amount in %s from 0 to %d, such as 280", currency, Max)
	}
	return measure.Say("an amount in %s from 0 to %d, such as 280 or 280.50", currency, Max)
}

// withoutCurrency takes off the currency's code or sign, before or behind.
func withoutCurrency(text, currency string) string {
	for _, mark := range []string{currency, currencySign(currency)} {
		if mark == "" {
			continue
		}
		if rest, found := strings.CutPrefix(text, mark); found {
			return strings.TrimSpace(rest)
		}
		if rest, found := strings.CutSuffix(text, mark); found {
			return strings.TrimSpace(rest)
		}
	}
	return text
}

// currencySign is the sign people write for a currency, empty where there is none
// that its own country takes for granted.
func currencySign(code string) string {
	switch code {
	case "USD", "CAD", "AUD", "NZD":
		return "$"
	case "EUR":
		return "€"
	case "GBP":
		return "£"
	}
	return ""
}

// Largest is Max in minor units of a currency.
func Largest(currency string) int64 { return Max * int64(power10(minorDigits(currency))) }
