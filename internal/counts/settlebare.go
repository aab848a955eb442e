package counts

// settleBare answers with entries that name no box and no kind of note. It reports false when the numbers
// turn out to be pairs of face and count, which are then for settleKeyed.
func (s *settler) settleBare() (done bool) {
	if len(s.entries) == 1 && len(s.got) > 0 && s.settleWhole(&s.entries[0]) {
		return true
	}
	s.splitLists()
	s.joinThousands()
	if s.pairsShape() && (!s.fits(len(s.entries)) || s.rowsOfTwo()) {
		return false
	}
	s.settleList()
	return true
}

// settleWhole answers with one number for everything, which is none.
func (s *settler) settleWhole(e *entry) (done bool) {
	several := len(s.req.Lines) > 1
	switch {
	case e.isZero() && (s.req.ZeroAll || s.all):
		for line := range s.got {
			s.put(line, e)
		}
	case several && s.all:
		s.refuse(Unreadable, -1, e)
	default:
		return false
	}
	return true
}

// remaining is how many lines are asked from the next on.
func (s *settler) remaining() int { return len(s.req.Lines) - s.next() }

// next is Request.Next held inside the lines.
func (s *settler) next() int { return max(0, min(s.req.Next, len(s.req.Lines))) }

// fits reports whether n numbers in a row can be answers.
func (s *settler) fits(n int) bool { return n == len(s.req.Lines) || n <= s.remaining() }

// splitLists reads 150,200,40 as a list where it is no plausible number and the list fits.
func (s *settler) splitLists() {
	n := 0
	for i := range s.entries {
		n += max(1, s.listLen(&s.entries[i]))
	}
	if n == len(s.entries) || !s.fits(n) {
		return
	}
	split := make([]entry, 0, n)
	for i := range s.entries {
		split = s.appendList(split, &s.entries[i])
	}
	s.entries = split
}

// listLen is the numbers in an entry that should rather be read as a list, 0 for any other entry.
func (s *settler) listLen(e *entry) int {
	if e.run == 0 || (e.isMoney && e.code == OK) || isPlausible(s.atoms[e.run-1].fig) {
		return 0
	}
	p, ok := cutRun(s.text[e.start:e.end])
	if !ok || !p.list() {
		return 0
	}
	return p.n
}

func (s *settler) appendList(dst []entry, e *entry) []entry {
	if s.listLen(e) == 0 {
		return append(dst, *e)
	}
	p, _ := cutRun(s.text[e.start:e.end])
	for _, text := range p.text[:p.n] {
		one := entry{atom: e.atom, row: e.row, line: -1, start: e.start, end: e.end}
		one.add(readFigure(text, false))
		dst = append(dst, one)
	}
	return dst
}

// settleList answers line by line.
func (s *settler) settleList() {
	n, all := len(s.entries), len(s.req.Lines)
	switch {
	case n == all:
		s.fill(0, false)
	case n == s.remaining():
		s.fill(s.next(), false)
	case s.width(0) == all:
		s.fill(0, true)
	case s.next()+s.width(s.next()) > all:
		last := near(s.text[s.entries[n-1].start:s.entries[n-1].end])
		s.fail(Problem{Code: TooMany, Near: last, Line: -1, Want: s.remaining(), Got: n})
	case s.pairsShape():
		s.refuse(FaceOrNotes, -1, &s.entries[0])
	default:
		s.fill(s.next(), true)
		if n > 1 {
			s.fail(Problem{Code: TooFew, Line: -1, Want: s.remaining(), Got: n})
		}
	}
}

// fill gives the entries to the lines from start on; with spread a sum goes to the boxes of one face that
// stand side by side.
func (s *settler) fill(start int, spread bool) {
	line := start
	for i := range s.entries {
		e := &s.entries[i]
		if k := s.spread(line, e); spread && k > 1 {
			s.putParts(line, e)
			line += k
			continue
		}
		s.put(line, e)
		line++
	}
}

// width is how many lines the entries take from start on when sums spread.
func (s *settler) width(start int) int {
	line := start
	for i := range s.entries {
		line += max(1, s.spread(line, &s.entries[i]))
	}
	return line - start
}

// spread is how many boxes of one face a sum fills from line on, 0 if it is one number for one line.
func (s *settler) spread(line int, e *entry) int {
	if e.bundled || e.isMoney || e.code != OK || e.nParts < 2 || line+e.nParts > len(s.faces) {
		return 0
	}
	for k := range e.nParts {
		if s.faces[line+k] != s.faces[line] {
			return 0
		}
	}
	return e.nParts
}

// putParts gives the numbers of a sum to the lines from line on.
func (s *settler) putParts(line int, e *entry) {
	for k := range e.nParts {
		part := *e
		part.parts[0], part.nParts = e.parts[k], 1
		s.put(line+k, &part)
	}
}
