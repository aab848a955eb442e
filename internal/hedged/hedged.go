// Package hedged reads counts that are not said for sure: "about 150 and 200".
package hedged

import (
	"slices"
	"strings"

	"shopfloat/internal/counts"
)

// hedges are said around figures that somebody is not sure of.
var hedges = strings.Fields(`about around roughly circa approx approximately nearly almost some perhaps maybe
	probably say guess think thought believe reckon i we id it its is was there are so like or well just over
	under close to near give take ish`)

// doubts are the hedges by which one figure alone is known to be a count.
var doubts = strings.Fields(`about around roughly circa approx approximately nearly almost perhaps maybe
	probably think reckon close`)

// Guess reads counts that are not said for sure: "about 150 and 200". Nothing else may be said, and a
// figure alone has to be doubted by a word, or it may be of anything. It gives the figures as they are to be
// asked back, and what they would be; they are never to be taken without a yes.
func Guess(text string, req counts.Request) (typed string, items []counts.Item) {
	var kept []string
	doubted := false
	for _, w := range strings.Fields(counts.Fold(text)) {
		bare := strings.Trim(w, ".!,")
		switch {
		case slices.Contains(hedges, bare):
			doubted = doubted || slices.Contains(doubts, bare)
		case bare == "by": // it parts two figures as a comma does
			kept = append(kept, ",")
		default:
			kept = append(kept, w)
		}
	}
	typed = strings.Trim(strings.ReplaceAll(strings.Join(kept, " "), " , ", ", "), ", ")
	if typed == "" || strings.Contains(text, "?") {
		return "", nil
	}
	res := counts.Parse(typed, req)
	if res.Prose || res.Total != "" || res.Problem != nil && res.Problem.Code != counts.TooFew ||
		len(res.Items) < 2 && !doubted {
		return "", nil
	}
	return typed, res.Items
}
