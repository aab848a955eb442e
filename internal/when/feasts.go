package when

import "fmt"

// ButFeasts parts days of every year, MM-DD, on which it is otherwise off what stands before
// them: 24/7 except christmas day. Where a text says none it is given as it is.
func (r Reader) ButFeasts(text string) (before string, days []string) {
	s := r.scan(text)
	for i := 1; i < len(s.toks); i++ {
		n := s.phrase(i, s.Words.Except)
		if n == 0 {
			continue
		}
		at := i + n
		at += s.phrase(at, s.Words.Closed)
		for days = nil; ; {
			at += s.phrase(at, s.Words.On)
			t, n, why := s.term(at)
			if why != OK || t.month == 0 || t.year != 0 {
				break
			}
			days = append(days, fmt.Sprintf("%02d-%02d", t.month, t.day))
			if at += n; s.done(at) {
				return s.src[:s.toks[i-1].end], days
			}
			at = s.join(at)
		}
	}
	return text, nil
}
