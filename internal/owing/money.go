package owing

import (
	"strings"

	"github.com/shopspring/decimal"

	"shopfloat/internal/books"
	"shopfloat/internal/names"
	"shopfloat/internal/telling"
	"shopfloat/internal/texts"
)

// Why words the reason for a record: one of those at hand, or somebody's own words.
func Why(t *telling.Teller, why books.Reason, words string) string {
	if words != "" {
		return names.Words(words)
	}
	return t.V.Say("reason." + string(why))
}

// GapLabel is the button that says what the gap of a payment is, with the day as
// long as there is room for it.
func GapLabel(t *telling.Teller, label string, of []int64, gap decimal.Decimal) string {
	days := []string{telling.ClaimDays(t, of), t.V.Say("several-days")}
	text := ""
	for _, day := range days {
		text = t.V.Say("button."+label, "day", day, "money", t.V.Money(gap))
		if len([]rune(text)) <= texts.LabelMax {
			break
		}
	}
	return text
}

// Reference reads the bank's reference that stands in a text, in the letters in which it was
// typed: 1240 for monday, ref AB12. The rest is what else the text says.
func Reference(t *telling.Teller, s, typed string) (ref, rest string) {
	words := strings.Fields(s)
	for i, w := range words[:max(len(words)-1, 0)] {
		if t.IsWord("reference", strings.ToLower(strings.Trim(w, ",.:"))) {
			rest = strings.Join(append(words[:i:i], words[i+2:]...), " ")
			ref = strings.Trim(words[i+1], ",;")
			at := strings.LastIndex(strings.ToLower(typed), strings.ToLower(ref))
			if at >= 0 && at+len(ref) <= len(typed) && strings.EqualFold(typed[at:at+len(ref)], ref) {
				ref = typed[at : at+len(ref)]
			}
			return names.Reference(ref), strings.Trim(rest, ", ")
		}
	}
	return "", s
}

// Beside reads the charges and the shop's own fee income that stand in a text
// beside something else: for monday, charges 12.50, fee 4. The rest is what else it says.
func Beside(t *telling.Teller, s string) (charged, fee decimal.Decimal, rest string) {
	words := strings.Fields(strings.ToLower(strings.ReplaceAll(s, ", ", " , ")))
	used := make([]bool, len(words))
	amount := func(i int) (v decimal.Decimal, ok bool) {
		if i < 0 || i >= len(words) || used[i] {
			return v, false
		}
		v, rest, ok := MoneyFirst(t, words[i])
		return v, ok && rest == ""
	}
	for i, w := range words {
		is := [2]bool{t.IsWord("charges", w), t.IsWord("own-fee", w)}
		if is == [2]bool{} {
			continue
		}
		at := i + 1
		v, ok := amount(at)
		if !ok {
			at = i - 1
			v, ok = amount(at)
		}
		if !ok {
			continue
		}
		used[i], used[at] = true, true
		if is[0] || i > 0 && t.IsWord("bank", words[i-1]) {
			charged = charged.Add(v)
		} else {
			fee = fee.Add(v)
		}
	}
	return charged, fee, unused(t, words, used)
}

// unused gives the words that were not taken, without those that only lead to
// what was.
func unused(t *telling.Teller, words []string, used []bool) string {
	for i := len(words) - 2; i >= 0; i-- {
		used[i] = used[i] || used[i+1] && (words[i] == "," || t.IsWord("beside", words[i]))
	}
	var left []string
	for i, w := range words {
		if !used[i] {
			left = append(left, w)
		}
	}
	return strings.Trim(strings.ReplaceAll(strings.Join(left, " "), " ,", ","), ", ")
}
