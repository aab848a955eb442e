package counts

import "strings"

// partWordsMax is how many words a part has at most that may have been meant for a count.
const partWordsMax = 5

// Half reads a list of which some parts are counts and some are not: "150 and some, 200". Each part is for the line
// at its place, from Request.Next on. What is a count is an item; the first part that is none is the problem. A text
// that is no such list has no items.
func Half(text string, req Request) Result {
	parts := strings.FieldsFunc(Fold(text), func(r rune) bool { return r == ',' || r == ';' || r == '\n' })
	if len(parts) < 2 || req.Next < 0 || len(parts) > len(req.Lines)-req.Next {
		return Result{}
	}
	var out Result
	for i, part := range parts {
		words := strings.Fields(part)
		if len(words) > partWordsMax || !strings.ContainsAny(part, "0123456789") {
			return Result{}
		}
		one := req
		one.Next = req.Next + i
		res := Parse(strings.Join(words, " "), one)
		switch {
		case res.Problem == nil && res.Bare && len(res.Items) == 1:
			out.Items = append(out.Items, res.Items...)
		case len(words) == 1:
			return Result{} // a figure that is no count is told by itself
		case out.Problem == nil:
			out.Problem = &Problem{Code: Unreadable, Near: near(strings.Join(words, " ")), Line: -1}
		}
	}
	if out.Problem == nil {
		return Result{}
	}
	return out
}
