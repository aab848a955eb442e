package founding

import (
	"regexp"
	"slices"
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/shop"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// number is one in a text, with what says what it is of.
var number = regexp.MustCompile(`([€£$¥]\s*)?(\d+(?:[.,]\d+)?)\s*(%|per\s?cent|[\p{L}]+)?`)

// Bounds of a fee, against slips of the finger; common practice, no source.
var (
	mostFee = decimal.NewFromInt(100)
	mostVAT = decimal.NewFromInt(50)
)

// Fee takes the shop's fee for a payout as people say it: "0.50 from the bank, vat 23% on
// top", "50 cents, customers pay, 20 percent vat included", "none".
func Fee(t *telling.Teller, s string) (fee shop.Fee, problem string) {
	low := texts.Fold(s)
	words := strings.FieldsFunc(low, func(r rune) bool { return strings.ContainsRune(" ,;.()", r) })
	said := func(list string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return t.IsWord(list, w) })
	}
	found := number.FindAllStringSubmatch(low, -1)
	for _, m := range found {
		n, err := decimal.NewFromString(strings.ReplaceAll(m[2], ",", "."))
		switch {
		case err != nil:
			return fee, t.V.Say("fee-unread")
		case m[1] == "" && t.IsWord("per-cent", strings.ReplaceAll(m[3], " ", "")) && fee.VAT.IsZero():
			fee.VAT = n
		case !fee.Each.IsZero():
			return fee, t.V.Say("fee-unread")
		case t.IsWord("cents", m[3]):
			fee.Each = n.Shift(-int32(t.Digits()))
		default:
			fee.Each = n
		}
	}
	none := len(found) == 0 && said("none")
	switch {
	case none:
		return shop.Fee{}, ""
	case !fee.Each.IsPositive(), fee.Each.GreaterThan(mostFee), fee.VAT.GreaterThan(mostVAT):
		return fee, t.V.Say("fee-unread")
	case fee.VAT.IsPositive() && said("tax-inside") == said("tax-on-top"):
		return fee, t.V.Say("fee-tax-where")
	}
	fee.Inside = fee.VAT.IsPositive() && said("tax-inside")
	if fee.By = shop.FeeByBank; said("fee-customers") {
		fee.By = shop.FeeByCustomers
	}
	return fee, ""
}

// FeeInWords reads a fee back; empty where there is none.
func FeeInWords(t *telling.Teller, f shop.Fee) string {
	if f.Each.IsZero() {
		return ""
	}
	said := t.V.Say("fee."+f.By, "money", t.V.Money(f.Each))
	if f.VAT.IsPositive() {
		said += t.V.Say(texts.Either(f.Inside, "fee.inside", "fee.on-top"), "rate", f.VAT.String())
	}
	return said
}
