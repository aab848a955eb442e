package learn

import "strings"

// Stem cuts the common English endings, so that "jams", "jammed" and
// "jamming" meet. It need not give a word, only the same letters for the same
// idea; words of four letters and less stay whole apart from a plural s.
func Stem(w string) string {
	w = plural(w)
	for _, end := range []string{"ingly", "edly", "ing", "ed", "ly"} {
		root, ok := strings.CutSuffix(w, end)
		if !ok || len(root) < 3 || !strings.ContainsAny(root, "aeiouy") {
			continue
		}
		return silentE(undouble(root))
	}
	return silentE(w)
}

func plural(w string) string {
	switch {
	case len(w) < 4 || !strings.HasSuffix(w, "s"):
		return w
	case strings.HasSuffix(w, "ies") && len(w) > 4:
		return w[:len(w)-3] + "y"
	case strings.HasSuffix(w, "sses"), strings.HasSuffix(w, "xes"), strings.HasSuffix(w, "ches"),
		strings.HasSuffix(w, "shes"), strings.HasSuffix(w, "zes"):
		return w[:len(w)-2]
	case strings.HasSuffix(w, "ss"), strings.HasSuffix(w, "us"), strings.HasSuffix(w, "is"):
		return w
	}
	return w[:len(w)-1]
}

// undouble takes "jamm" to "jam" and leaves "bill" and "miss" alone.
func undouble(w string) string {
	n := len(w)
	if n < 4 || w[n-1] != w[n-2] || strings.IndexByte("lsz", w[n-1]) >= 0 {
		return w
	}
	return w[:n-1]
}

func silentE(w string) string {
	if len(w) > 4 && strings.HasSuffix(w, "e") {
		return w[:len(w)-1]
	}
	return w
}
