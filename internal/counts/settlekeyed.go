package counts

// settleKeyed answers with entries of which some name a box or a kind of note. A bare number goes on where
// the entry before it ended, the first one at the next line.
func (s *settler) settleKeyed() {
	cursor := s.next()
	for i := range s.entries {
		e := &s.entries[i]
		switch {
		case !e.keyed:
			cursor = s.putBare(cursor, e)
		case e.line >= 0:
			cursor = e.line + 1
			s.put(e.line, e)
		default:
			cursor = s.putFace(i)
		}
		if e.code == NoCount {
			cursor = -1 // the next bare number may be the one that is missing
		}
	}
}

// putBare gives a bare number to the line at the cursor if that is open.
func (s *settler) putBare(cursor int, e *entry) (next int) {
	if cursor < 0 || cursor >= len(s.got) || s.got[cursor].Line != open {
		s.refuse(TooMany, -1, e)
		return -1
	}
	s.put(cursor, e)
	return cursor + 1
}

// putFace gives entry i to the box or boxes of its face and returns the line after it, -1 if that is unknown.
func (s *settler) putFace(i int) (next int) {
	e := &s.entries[i]
	first, boxes := s.boxesOf(e.face)
	before, all := s.mentions(i)
	switch {
	case boxes == 0 || e.code != OK && boxes > 1:
		s.refuse(e.code, -1, e)
		return -1
	case boxes == 1:
		s.put(first, e)
		return first + 1
	case all == boxes && e.nParts < 2:
		line := s.boxAt(e.face, before)
		s.put(line, e)
		return line + 1
	case all > boxes:
		s.refuse(Twice, -1, e)
	case all == 1 && (e.isZero() || !e.bundled && !e.isMoney && e.nParts == boxes):
		return s.putBoxes(e, boxes)
	default:
		s.refuse(AmbiguousFace, -1, e)
	}
	return -1
}

// putBoxes gives one number of the entry to each box of its face, or no notes to all of them.
func (s *settler) putBoxes(e *entry, boxes int) (next int) {
	for k := range boxes {
		part := *e
		part.parts[0], part.nParts = e.parts[min(k, e.nParts-1)], 1
		next = s.boxAt(e.face, k)
		s.put(next, &part)
	}
	return next + 1
}

// boxesOf is the first line of the face and how many there are.
func (s *settler) boxesOf(face string) (first, n int) {
	first = -1
	for line, f := range s.faces {
		if f != face {
			continue
		}
		if n == 0 {
			first = line
		}
		n++
	}
	return first, n
}

// boxAt is the line of the k-th box of the face, k below their number.
func (s *settler) boxAt(face string, k int) int {
	line := -1
	for ; k >= 0; k-- {
		for line++; s.faces[line] != face; line++ {
		}
	}
	return line
}

// mentions counts the entries for the same face as entry i, and those of them before it.
func (s *settler) mentions(i int) (before, all int) {
	for k := range s.entries {
		e := &s.entries[k]
		if !e.keyed || e.line >= 0 || e.face != s.entries[i].face {
			continue
		}
		if k < i {
			before++
		}
		all++
	}
	return before, all
}

// pairsShape recognizes plain numbers of which every first of two is another face that is asked: 50 40 20 150.
func (s *settler) pairsShape() bool {
	n := len(s.entries)
	if n == 0 || n%2 != 0 {
		return false
	}
	for i := range s.entries {
		if s.entries[i].run == 0 || s.entries[i].code != OK {
			return false
		}
		if i%2 != 0 {
			continue
		}
		face := s.pairFace(i)
		if !s.isFace(face) {
			return false
		}
		for k := 0; k < i; k += 2 {
			if s.pairFace(k) == face {
				return false
			}
		}
	}
	return true
}

func (s *settler) pairFace(i int) string { return s.atoms[s.entries[i].run-1].fig.text }

// rowsOfTwo recognizes two rows or more with two numbers each.
func (s *settler) rowsOfTwo() bool {
	n := len(s.entries)
	for i := 0; i+1 < n; i += 2 {
		if s.entries[i].row != s.entries[i+1].row || (i > 0 && s.entries[i].row == s.entries[i-1].row) {
			return false
		}
	}
	return n > 2
}

// pairUp makes keyed entries of pairs.
func (s *settler) pairUp() {
	pairs := s.entries[:0]
	for i := 0; i+1 < len(s.entries); i += 2 {
		e := s.entries[i+1]
		e.start, e.keyed, e.face = s.entries[i].start, true, s.pairFace(i)
		pairs = append(pairs, e)
	}
	s.entries = pairs
}
