package counts

// spacedMax bounds the numbers in which a thousands blank is looked for.
const spacedMax = 16

// joinThousands makes one number of two that a plain blank parts, as in "2 000",
// where nothing else can be meant: three figures that begin with a zero are no
// count anybody types, and where all numbers are too many for the lines, one way
// of joining may make them just enough.
func (s *settler) joinThousands() {
	for i := 0; i+1 < len(s.entries); i++ {
		if s.isThousands(i) && s.text[s.entries[i+1].start] == '0' {
			s.join(i)
		}
	}
	if s.fits(len(s.entries)) || s.pairsShape() || len(s.entries) > spacedMax {
		return
	}
	var found []int
	ways := 0
	for _, want := range s.wanted() {
		s.ways(0, len(s.entries)-want, nil, func(at []int) {
			ways++
			found = at
		})
	}
	if ways != 1 {
		return
	}
	for k, i := range found {
		s.join(i - k)
	}
}

// wanted lists how many numbers fill the lines: all of them, or those from the next on.
func (s *settler) wanted() []int {
	if all := len(s.req.Lines); all != s.remaining() {
		return []int{all, s.remaining()}
	}
	return []int{s.remaining()}
}

// ways gives every way to join a number of pairs from an entry on to counts that
// a box can hold, as the indexes of their first halves.
func (s *settler) ways(from, pairs int, at []int, found func([]int)) {
	if pairs == 0 {
		found(at)
		return
	}
	for i := from; pairs > 0 && i+1 < len(s.entries); i++ {
		if s.isThousands(i) && isPlausible(s.joined(i)) {
			s.ways(i+2, pairs-1, append(at[:len(at):len(at)], i), found)
		}
	}
}

// isThousands recognizes an entry of one to three figures, the first no zero, with a
// plain blank and an entry of exactly three figures behind it.
func (s *settler) isThousands(i int) bool {
	a, b := &s.entries[i], &s.entries[i+1]
	n := a.end - a.start
	return a.run != 0 && b.run != 0 && b.atom == a.atom+1 && a.row == b.row &&
		n >= 1 && n <= 3 && s.text[a.start] != '0' && isDigits(s.text[a.start:a.end]) &&
		b.end-b.start == 3 && isDigits(s.text[b.start:b.end]) && s.text[a.end:b.start] == " "
}

func isDigits(s string) bool {
	for i := range len(s) {
		if !isDigit(s[i]) {
			return false
		}
	}
	return true
}

// joined is the number that an entry makes with the one behind it.
func (s *settler) joined(i int) figure {
	a, b := &s.entries[i], &s.entries[i+1]
	return readFigure(s.text[a.start:a.end]+s.text[b.start:b.end], false)
}

// join puts that number in the place of both.
func (s *settler) join(i int) {
	a, b := s.entries[i], s.entries[i+1]
	one := entry{atom: a.atom, row: a.row, line: -1, start: a.start, end: b.end}
	one.add(s.joined(i))
	s.entries[i] = one
	s.entries = append(s.entries[:i+1], s.entries[i+2:]...)
}
